"""A control that travels as a program change uses the number of a patch."""

from __future__ import annotations

from switchmatrix.controls import decode
from switchmatrix.definition.controls import ProgramCarrier
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.states.show import ShowStates


def program_shared(show: ShowStates) -> list[Diagnostic]:
    """Each patch whose program means something else to a control of its device."""
    found = []
    for rig in show.rigs:
        for device in rig.devices:
            for control in device.definition.controls:
                for patch in device.patches:
                    if (
                        isinstance(control.carrier, ProgramCarrier)
                        and decode(control, patch.program) is not None
                    ):
                        message = (
                            f"panel {patch.panel} (program {patch.program} on the wire) is both the patch "
                            f"`{patch.name}` of `{device.name}` and a value of its control `{control.name}`"
                        )
                        help = "store the patch under another number, or mend the control's codes"
                        related = (Related(control.span, f"`{control.name}` is here"),)
                        found.append(names.PROGRAM_SHARED.at(patch.span, message, help, related))
    return found
