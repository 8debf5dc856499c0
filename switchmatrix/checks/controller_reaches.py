"""A declared controller can move a device behind the tool's back."""

from __future__ import annotations

from switchmatrix.compile.known import reach
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.states.show import ShowStates


def controller_reaches(show: ShowStates) -> list[Diagnostic]:
    """Each device that a controller on its port and channel can change."""
    found = []
    for rig in show.rigs:
        for device in rig.devices:
            reached = reach(rig, device)
            moved = [f"`{device.definition.controls[n].name}`" for n in sorted(reached.controls)]
            moved = ["its patch", *moved] if reached.patch else moved
            moved = ["its bank", *moved] if reached.bank and not reached.patch else moved
            if not moved:
                continue
            message = (
                f"a controller can move {', '.join(moved)} of `{device.name}`: sent anew with every scene"
            )
            help = "nothing to do if that is meant; else give the controller a channel of its own"
            related = tuple(
                Related(c.span, f"`{c.name}` sends on channel {c.channel} of `{c.port}`")
                for c in rig.controllers
                if c.port == device.port and (device.omni or c.channel in dict(device.channels).values())
            )
            found.append(names.CONTROLLER_REACHES.at(device.span, message, help, related))
    return found
