"""A rig's ports on this machine: which of its ports each means, and those open."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from switchmatrix.live.matching import Ambiguous, Match, Missing, match
from switchmatrix.live.records import Ports
from switchmatrix.model.rig import Port, Rig

Found = Match | Missing | Ambiguous
STAND_IN = "stand-in"
"""What the name of every port of a stand-in rig says."""


@dataclass(frozen=True, slots=True)
class RigPort:
    """One port of the rig and what of the machine it means; `input` is None where it has no return."""

    port: Port
    out: Found
    input: Found | None


def rig_ports(rig: Rig, there: Ports) -> tuple[RigPort, ...]:
    """Every port of the rig, in its file's order."""
    return tuple(
        RigPort(
            port,
            match(port.out, there.outputs),
            None if port.input is None else match(port.input, there.inputs),
        )
        for port in rig.ports
    )


def used(rig: Rig, ports: Iterable[RigPort], devices: Iterable[str]) -> tuple[RigPort, ...]:
    """The ports that the devices hang on."""
    names = {device.port for device in rig.devices if device.name in set(devices)}
    return tuple(one for one in ports if one.port.name in names)


def faults(ports: Iterable[RigPort], inputs: bool) -> tuple[str, ...]:
    """Why the ports cannot all be opened, a line each; `inputs` where their returns are wanted too."""
    given = tuple(ports)
    lines: list[str] = []
    for one in given:
        lines += [f"{one.port.name}: {one.out.text}"] if not isinstance(one.out, Match) else []
        if inputs and isinstance(one.input, Missing | Ambiguous):
            lines.append(f"{one.port.name}, its return: {one.input.text}")
    lines += _twice({one.port.name: one.out for one in given}, "send to")
    if inputs:
        lines += _twice({one.port.name: one.input for one in given if one.input is not None}, "come from")
    return tuple(lines)


def _twice(found: dict[str, Found], verb: str) -> list[str]:
    """Two ports of the rig that are one of the machine's."""
    owners: dict[str, list[str]] = {}
    for name, one in found.items():
        if isinstance(one, Match):
            owners.setdefault(one.name, []).append(name)
    return [
        f"{' and '.join(names)} would both {verb} `{port}`: write `out` and `in` so that they differ"
        for port, names in owners.items()
        if len(names) > 1
    ]


def is_stand_in(name: str) -> bool:
    """Whether a port of the machine says that it is a stand-in's."""
    return STAND_IN in name


def found_said(found: Found) -> str:
    """`rack: Interface 1`, or why there is none."""
    if not isinstance(found, Match):
        return found.text
    return f"{found.name}{' (a stand-in, not the real rig)' if is_stand_in(found.name) else ''}"
