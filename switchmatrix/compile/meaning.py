"""What a message means, in a rig tech's words."""

from __future__ import annotations

from switchmatrix.definition.carriers import ProgramCarrier
from switchmatrix.definition.controls import Control
from switchmatrix.model.settings import Patch
from switchmatrix.states.state import AsPatch, Set


def recalls(patch: Patch) -> str:
    """`recalls cliff (panel 17)`."""
    return f"recalls {patch.name} (panel {patch.panel})"


def sets(control: Control, value: Set | AsPatch) -> str:
    """`sets mix to 40 %`; `sets time: asked 468.75 ms, gets 469 ms` where the two differ."""
    sent = value.code if control.toggle is None else control.toggle.press
    program = f" (wire program {sent})" if isinstance(control.carrier, ProgramCarrier) else ""
    verb = "flips" if control.toggle is not None else "sets"
    if isinstance(value, AsPatch):
        stored = value.patch.stored(control.name)
        if stored is not None and str(stored.asked) != str(stored.gets):
            both = f"asked {stored.asked}, gets {stored.gets}"
            return f"{verb} {control.name}: {both}, as {value.patch.name} stores it"
        return f"{verb} {control.name} to {value.gets}, as {value.patch.name} stores it"
    if str(value.asked) == str(value.gets):
        return f"{verb} {control.name} to {value.gets}{program}"
    return f"{verb} {control.name}: asked {value.asked}, gets {value.gets}{program}"


def holds(control: Control, gets: str) -> str:
    """`holds mute-all at on` while something else moves."""
    return f"holds {control.name} at {gets}"


def fires(control: Control) -> str:
    """`fires bell`."""
    return f"fires {control.name}"


def part(text: str, number: int, of: int) -> str:
    """The meaning of one message of a unit: `sets time to 480 ms (2 of 4)`."""
    return text if of == 1 else f"{text} ({number} of {of})"
