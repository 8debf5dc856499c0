"""The ports of a rig opened, as many of them as are there."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from switchmatrix.live.matching import Match
from switchmatrix.live.records import Ports, Refused
from switchmatrix.live.rehearsing.line import Line
from switchmatrix.live.rig_ports import Found, RigPort, rig_ports
from switchmatrix.live.transport import Input, Transport
from switchmatrix.live.wires import CALM_NS
from switchmatrix.model.rig import Rig


@dataclass(frozen=True, slots=True, eq=False)
class Opening:
    """Lines on one transport, and why the ports that were asked for besides are not open.

    `deaf` says of which lines the return that the rig file names is not there.
    """

    transport: Transport
    lines: tuple[Line, ...]
    shut: Mapping[str, str]
    deaf: Mapping[str, str]


Open = Callable[[Iterable[str]], Opening]
"""Opens the ports of those names on a transport of their own."""


def opener(rig: Rig, make: Callable[[], Transport], share: bool = False) -> Open:
    """Opens ports of a rig, each time on a transport that `make` makes."""

    def open_(names: Iterable[str]) -> Opening:
        wanted = set(names)
        ports = tuple(port for port in rig.ports if port.name in wanted)
        return open_lines(make(), replace(rig, ports=ports), share)

    return open_


def open_lines(transport: Transport, rig: Rig, share: bool = False) -> Opening:
    """The rig's ports opened on the transport, with their returns, as many of them as are there."""
    there = transport.ports()
    if not isinstance(there, Ports):
        return Opening(transport, (), {port.name: there.reason for port in rig.ports}, {})
    lines: list[Line] = []
    shut: dict[str, str] = {}
    deaf: dict[str, str] = {}
    for one in rig_ports(rig, there):
        name = one.port.name
        if not isinstance(one.out, Match):
            shut[name] = one.out.text
            continue
        output = transport.open_output(one.out.name, share=share)
        if isinstance(output, Refused):
            shut[name] = output.reason
            continue
        back = _return(transport, one)
        if isinstance(back, str):
            deaf[name] = back
        lines.append(Line(name, output, None if isinstance(back, str) else back))
    # Opening ports can cost the server a beat, which is noticed a little later: it is nobody's message.
    end = transport.now_ns() + CALM_NS
    while lines and transport.now_ns() < end and all(line.lost is None for line in lines):
        transport.wait(end)
    return Opening(transport, tuple(lines), shut, deaf)


def _return(transport: Transport, one: RigPort) -> Input | str | None:
    """The open return; None where the rig file names none, or why it is not there."""
    found: Found | None = one.input
    if found is None:
        return None
    if not isinstance(found, Match):
        return found.text
    back = transport.open_input(found.name)
    return back.reason if isinstance(back, Refused) else back
