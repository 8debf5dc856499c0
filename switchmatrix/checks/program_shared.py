"""A control that travels as a program change uses the number of a patch."""

from __future__ import annotations

from switchmatrix.definition.controls import Control, Named, ProgramCarrier
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
                    if isinstance(control.carrier, ProgramCarrier) and _means(control, patch.program):
                        message = (
                            f"panel {patch.panel} (program {patch.program} on the wire) is both the patch "
                            f"`{patch.name}` of `{device.name}` and a value of its control `{control.name}`"
                        )
                        help = "store the patch under another number, or mend the control's codes"
                        related = (Related(control.span, f"`{control.name}` is here"),)
                        found.append(names.PROGRAM_SHARED.at(patch.span, message, help, related))
    return found


def _means(control: Control, program: int) -> bool:
    if isinstance(control.scale, Named):
        return any(codes.low <= program <= codes.high for _, codes in control.scale.words)
    return control.scale.points[0][0] <= program <= control.scale.points[-1][0]
