"""What a message means, in a rig tech's words."""

from __future__ import annotations

from switchmatrix.definition.controls import Control, ProgramCarrier
from switchmatrix.model.settings import Patch
from switchmatrix.states.state import AsPatch, Set


def recalls(patch: Patch) -> str:
    """`recalls cliff (panel 17)`."""
    return f"recalls {patch.name} (panel {patch.panel})"


def sets(control: Control, value: Set | AsPatch) -> str:
    """`sets mix to 40 %`; `sets time: asked 468.75 ms, gets 469 ms` where the two differ."""
    program = f" (wire program {value.code})" if isinstance(control.carrier, ProgramCarrier) else ""
    if isinstance(value, AsPatch):
        stored = value.patch.stored(control.name)
        if stored is not None and str(stored.asked) != str(stored.gets):
            both = f"asked {stored.asked}, gets {stored.gets}"
            return f"sets {control.name}: {both}, as {value.patch.name} stores it"
        return f"sets {control.name} to {value.gets}, as {value.patch.name} stores it"
    if str(value.asked) == str(value.gets):
        return f"sets {control.name} to {value.gets}{program}"
    return f"sets {control.name}: asked {value.asked}, gets {value.gets}{program}"


def fires(control: Control) -> str:
    """`fires bell`."""
    return f"fires {control.name}"
