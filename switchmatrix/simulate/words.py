"""Where a device stands, in words for people."""

from __future__ import annotations

from collections.abc import Callable

from switchmatrix.definition.controls import TRIGGER, Control, Named
from switchmatrix.midi.numbers import Address
from switchmatrix.simulate.standing import AsStored, DeviceNow, Half, Moved, Reloaded, Standing, Unknown
from switchmatrix.simulate.unit import Unit

Says = Callable[[Control, int], str]
"""What a device does with a code: whoever can work out a scale hands it in."""


def code_said(control: Control, code: int) -> str:
    """A word of a switch or choice; `code 468` of all else."""
    words = control.scale.words if isinstance(control.scale, Named) else ()
    return next((word for word, codes in words if codes.low <= code <= codes.high), f"code {code}")


def standing_said(unit: Unit, control: Control, standing: Standing, says: Says = code_said) -> str:
    """`on`, `as cliff stores it`, `reloaded by mode`, `unknown`."""
    match standing:
        case int():
            return says(control, standing)
        case AsStored(place):
            return f"as {_patch_said(unit, place)} stores it"
        case Reloaded(by):
            return f"reloaded by {by}"
        case Moved(cc):
            return f"moved by CC {cc}"
        case Half(upper, None):
            return f"upper half {upper}, lower half unknown"
        case Half(_, lower):
            return f"lower half {lower}, upper half unknown"
        case Unknown():
            return "unknown"


def device_said(unit: Unit, now: DeviceNow, says: Says = code_said) -> tuple[tuple[str, str], ...]:
    """The patch and each control of a device, by name; triggers stand nowhere."""
    rows: list[tuple[str, str]] = []
    if now.patch is not None:
        rows.append(("patch", "unknown" if isinstance(now.patch, Unknown) else _patch_said(unit, now.patch)))
    return (
        *rows,
        *(
            (part.control.name, standing_said(unit, part.control, standing, says))
            for part, standing in zip(unit.parts, now.controls, strict=True)
            if part.control.kind != TRIGGER
        ),
    )


def _patch_said(unit: Unit, place: Address) -> str:
    """A patch's name in the rig, or its numbers as the standard counts them."""
    named = [patch.name for patch in unit.device.patches if unit.place(patch.address) == place]
    if named:
        return named[0]
    program = f"program {place.program + 1}"
    return program if place.bank is None else f"bank {place.bank + 1}, {program}"
