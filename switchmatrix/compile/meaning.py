"""What a message means, in a rig tech's words."""

from __future__ import annotations

from switchmatrix.definition.controls import Control
from switchmatrix.model.settings import Patch
from switchmatrix.states.state import AsPatch, Set


def recalls(patch: Patch) -> str:
    """`recalls cliff (panel 17)`."""
    return f"recalls {patch.name} (panel {patch.panel})"


def sets(control: Control, value: Set | AsPatch) -> str:
    """`sets mix to 40 %`; `sets time: asked 468.75 ms, gets 469 ms` where the two differ."""
    if isinstance(value, AsPatch):
        return f"sets {control.name} to {value.gets}, as {value.patch.name} stores it"
    if str(value.asked) == str(value.gets):
        return f"sets {control.name} to {value.gets}"
    return f"sets {control.name}: asked {value.asked}, gets {value.gets}"


def fires(control: Control) -> str:
    """`fires bell`."""
    return f"fires {control.name}"
