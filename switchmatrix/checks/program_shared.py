"""A control that travels as a program change uses the number of a patch."""

from __future__ import annotations

from switchmatrix.controls import decode
from switchmatrix.definition.carriers import ProgramCarrier
from switchmatrix.definition.controls import Control
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Device
from switchmatrix.model.settings import Patch
from switchmatrix.states.show import ShowStates


def _shared(device: Device, control: Control, patch: Patch) -> bool:
    """Whether the patch's program, on the channel that calls patches, also moves the control."""
    programs, carrier = device.definition.programs, control.carrier
    if programs is None or not isinstance(carrier, ProgramCarrier) or carrier.bank != patch.address.bank:
        return False
    if device.channel_of(control.channel) != device.channel_of(programs.channel):
        return False
    if control.toggle is not None:
        return patch.address.program in (control.toggle.press, control.toggle.release)
    return decode(control, patch.address.program) is not None


def program_shared(show: ShowStates) -> list[Diagnostic]:
    """Each patch whose program means something else to a control of its device."""
    found = []
    for rig in show.rigs:
        for device in rig.devices:
            for control in device.definition.controls:
                for patch in device.patches:
                    if _shared(device, control, patch):
                        message = (
                            f"panel {patch.panel} (program {patch.address.program} on the wire) is both "
                            f"the patch `{patch.name}` of `{device.name}` and a value of its control "
                            f"`{control.name}`"
                        )
                        help = "store the patch under another number, or mend the control's codes"
                        related = (Related(control.span, f"`{control.name}` is here"),)
                        found.append(names.PROGRAM_SHARED.at(patch.span, message, help, related))
    return found
