"""A declared controller can move a device behind the tool's back."""

from __future__ import annotations

from switchmatrix.compile.known import reach
from switchmatrix.definition.controls import TRIGGER, Control
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.show import ShowStates


def controller_reaches(show: ShowStates) -> list[Diagnostic]:
    """Each device that a controller on its port and channel can change."""
    found = []
    for rig in show.rigs:
        for device in rig.devices:
            reached = reach(rig, device)
            controls = [device.definition.controls[n] for n in sorted(reached.controls)]
            found += [_fires(rig, device, control) for control in controls if control.hazard is not None]
            stated = [c for c in controls if c.hazard is None and not c.writes and c.kind != TRIGGER]
            moved = [f"`{control.name}`" for control in stated]
            moved = ["its patch", *moved] if reached.patch else moved
            moved = ["its bank", *moved] if reached.bank and not reached.patch else moved
            if not moved:
                continue
            message = (
                f"a controller can move {', '.join(moved)} of `{device.name}`: sent anew with every scene"
            )
            help = "nothing to do if that is meant; else give the controller a channel of its own"
            found.append(names.CONTROLLER_REACHES.at(device.span, message, help, _senders(rig, device)))
    return found


def _senders(rig: Rig, device: Device) -> tuple[Related, ...]:
    """The controllers that the device hears."""
    return tuple(
        Related(c.span, f"`{c.name}` sends on channel {c.channel} of `{c.port}`")
        for c in rig.controllers
        if c.port == device.port and (device.omni or c.channel in dict(device.channels).values())
    )


def _fires(rig: Rig, device: Device, control: Control) -> Diagnostic:
    """A controller that can set off a hazard."""
    message = f"a controller can set off `{device.name}.{control.name}`, a hazard ({control.hazard})"
    help = (
        "take the device off this port: such effects belong to persons licensed or competent as local law "
        "requires, with interlocks and an emergency stop of their own"
    )
    return names.HAZARD.at(device.span, message, help, _senders(rig, device))
