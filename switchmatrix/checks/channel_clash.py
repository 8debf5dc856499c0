"""Two devices of one port that act on each other's messages."""

from __future__ import annotations

from itertools import combinations

from switchmatrix.definition.controls import CcCarrier, ProgramCarrier
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Device
from switchmatrix.states.show import ShowStates


def channel_clash(show: ShowStates) -> list[Diagnostic]:
    """Each pair of devices on one port and channel that have a message in common."""
    found = []
    for rig in show.rigs:
        for one, other in combinations(rig.devices, 2):
            if (one.port, one.channel) != (other.port, other.channel):
                continue
            common = sorted(_hears(one) & _hears(other), key=_number)
            if common:
                shown = ", ".join(common[:6]) + (" and more" if len(common) > 6 else "")
                message = (
                    f"`{one.name}` and `{other.name}` both listen on channel {one.channel} of `{one.port}` "
                    f"and both act on {shown}"
                )
                help = "give one of them a channel of its own, on its front panel and here"
                related = (Related(one.span, f"`{one.name}` is here"),)
                found.append(names.CHANNEL_CLASH.at(other.span, message, help, related))
    return found


def _hears(device: Device) -> set[str]:
    """The kinds of message that change the device."""
    heard = {"program changes"} if device.definition.programs is not None else set()
    for control in device.definition.controls:
        match control.carrier:
            case CcCarrier(number):
                heard.add(f"CC {number}")
            case ProgramCarrier():
                heard.add("program changes")
    return heard


def _number(kind: str) -> tuple[int, str]:
    digits = kind.removeprefix("CC ")
    return (int(digits), "") if digits.isdecimal() else (-1, kind)
