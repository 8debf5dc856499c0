"""What a device is sent so that a person can see that it responds, and what must then be seen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from switchmatrix.definition.controls import CHOICE, SWITCH, Control, Linear, Named
from switchmatrix.definition.values import Quantity, Value, Word
from switchmatrix.live.changes import SILENCE
from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import Patch, Target
from switchmatrix.states.state import AsPatch, ControlState, DeviceState, PatchIn, Set

Decode = Callable[[Control, int], Value | None]
"""What a device does with a code: whoever can work out a scale hands it in."""


@dataclass(frozen=True, slots=True)
class Look:
    """A state of one device that can be told from where it stands, and what must be seen."""

    state: DeviceState
    shows: str


def look(rig: Rig, base: DeviceState, decode: Decode) -> Look | None:
    """Another patch, else the main switch, another switch, choice or level; None where there is nothing.

    What `silence` sets and what mutes hold stays as it is: nothing is heard of the check.
    """
    return next(_looks(rig, base, decode), None)


def _looks(rig: Rig, base: DeviceState, decode: Decode) -> Iterator[Look]:
    device = base.device
    if isinstance(base.patch, PatchIn) and not base.patch_held:
        for patch in device.patches:
            if patch.address != base.patch.patch.address:
                yield Look(_with_patch(base, patch), f"its panel must show {patch.panel} ({patch.name})")
    controls = list(enumerate(device.definition.controls))
    main = [n for n, control in controls if control.main]
    order = [*main, *(n for kind in (SWITCH, CHOICE, "") for n, c in controls if kind in (c.kind, ""))]
    for n in dict.fromkeys(order):
        control, value = device.definition.controls[n], base.controls[n]
        if isinstance(value, Set) and _free(rig, base, n, value):
            for code in _codes(control):
                gets = decode(control, code)
                if code != value.code and gets is not None and _within(rig, base, control, gets):
                    moved = Set(code, gets, gets, value.origin)
                    shows = f"its {control.name} must stand at {gets}, not at {value.gets}"
                    yield Look(_with_control(base, n, moved), shows)


def _free(rig: Rig, base: DeviceState, n: int, value: Set) -> bool:
    """Whether a control may be moved to be looked at."""
    control = base.device.definition.controls[n]
    target = Target(base.device.name, control.name)
    held = any(target == one for mute in rig.mutes for one, _ in mute.holds)
    silenced = value.origin.layer == f"scene {SILENCE}"
    never = control.toggle is not None or control.hazard is not None or control.writes or bool(control.resets)
    return not (held or silenced or never or n in base.held)


def _codes(control: Control) -> list[int]:
    """Codes to try, the quietest first."""
    if isinstance(control.scale, Named):
        return [codes.sent for _, codes in control.scale.words]
    if isinstance(control.scale, Linear):
        ends = [code for code, _ in control.scale.points]
        lowest = [] if control.scale.bottom is None else [control.scale.bottom]
        return [*lowest, min(ends), max(ends)]
    return []


def _within(rig: Rig, base: DeviceState, control: Control, gets: Value) -> bool:
    """Whether no limit of the rig is passed."""
    limit = rig.limits.get(Target(base.device.name, control.name))
    if limit is None or not isinstance(gets, Quantity):
        return isinstance(gets, Word | Quantity)
    least_kept = limit.least is None or gets.number >= limit.least
    return least_kept and (limit.most is None or gets.number <= limit.most)


def _with_control(base: DeviceState, n: int, value: Set) -> DeviceState:
    return replace(base, controls=(*base.controls[:n], value, *base.controls[n + 1 :]))


def _with_patch(base: DeviceState, patch: Patch) -> DeviceState:
    """The device in another patch, with what that one stores; what the state sets itself stays."""
    origin = base.patch.origin if isinstance(base.patch, PatchIn) else None
    if origin is None:
        raise TypeError(f"{base.device.name} is in no patch")
    controls: list[ControlState] = []
    for control, value in zip(base.device.definition.controls, base.controls, strict=True):
        if isinstance(value, AsPatch):
            stored = patch.stored(control.name)
            code, gets = (None, None) if stored is None else (stored.code, stored.gets)
            value = AsPatch(patch, code, gets, origin)
        controls.append(value)
    return replace(base, patch=PatchIn(patch, origin), controls=tuple(controls))
