"""The ports of a rig opened, as many of them as are there."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Protocol

from switchmatrix.live.matching import Match
from switchmatrix.live.records import Ports, Refused
from switchmatrix.live.rehearsing.line import Line
from switchmatrix.live.rig_ports import RigPort, rig_ports
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


class Open(Protocol):
    """Opens ports of a rig on a transport of their own."""

    def __call__(self, names: Iterable[str], whole: Collection[str] = ()) -> Opening:
        """The ports of those names; those in `whole` only if their return is there too."""


def opener(rig: Rig, make: Callable[[], Transport], share: bool = False) -> Open:
    """Opens ports of a rig, each time on a transport that `make` makes."""

    def open_(names: Iterable[str], whole: Collection[str] = ()) -> Opening:
        wanted = set(names)
        ports = tuple(port for port in rig.ports if port.name in wanted)
        return open_lines(make(), replace(rig, ports=ports), share, whole)

    return open_


def open_lines(transport: Transport, rig: Rig, share: bool = False, whole: Collection[str] = ()) -> Opening:
    """The rig's ports opened on the transport, with their returns, as many of them as are there."""
    there = transport.ports()
    if not isinstance(there, Ports):
        return Opening(transport, (), {port.name: there.reason for port in rig.ports}, {})
    lines: list[Line] = []
    shut: dict[str, str] = {}
    deaf: dict[str, str] = {}
    for one in rig_ports(rig, there):
        name, missing = one.port.name, _missing(one)
        if not isinstance(one.out, Match):
            shut[name] = one.out.text
            continue
        if missing is not None and name in whole:
            shut[name] = f"its return is not there: {missing}"
            continue
        output = transport.open_output(one.out.name, share=share)
        if isinstance(output, Refused):
            shut[name] = output.reason
            continue
        back = _return(transport, one)
        if isinstance(back, str):
            deaf[name] = back
        lines.append(Line(name, output, None if isinstance(back, str) else back))
    _calm(transport, lines)
    return Opening(transport, tuple(lines), shut, deaf)


def _missing(one: RigPort) -> str | None:
    """Why the return that the rig file names is not there."""
    return None if one.input is None or isinstance(one.input, Match) else one.input.text


def _return(transport: Transport, one: RigPort) -> Input | str | None:
    """The open return; None where the rig file names none, or why it is not there."""
    if not isinstance(one.input, Match):
        return _missing(one)
    back = transport.open_input(one.input.name)
    return back.reason if isinstance(back, Refused) else back


def _calm(transport: Transport, lines: Collection[Line]) -> None:
    """Leave the server alone: opening ports can cost it a beat, which is noticed a little later."""
    end = transport.now_ns() + CALM_NS
    while lines and transport.now_ns() < end and all(line.lost is None for line in lines):
        transport.wait(end)
        for line in lines:
            line.pump()
    for line in lines:
        line.calm()
