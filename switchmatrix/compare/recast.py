"""A device, and its states, as they would be if one thing about it were different."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from switchmatrix.controls import encode, outside
from switchmatrix.definition.controls import TRIGGER, Control
from switchmatrix.definition.definition import Definition
from switchmatrix.definition.values import NoteValue, Value, Word
from switchmatrix.model.rig import Device
from switchmatrix.model.settings import Patch, Stored
from switchmatrix.states.state import AsPatch, ControlState, DeviceState, Free, PatchIn, Set, Trigger

Recast = Callable[[DeviceState], DeviceState]
"""A device's state as it would be."""


def as_on(
    device: Device, patches: dict[str, str] | None = None, held: frozenset[str] | None = None
) -> Recast:
    """States of a device on another in its place; `patches` are its patches under new names.

    A control that the other has not got is left out, one that it has besides is left to chance. `held`
    names what the player holds, where that is what changes.
    """
    names = patches or {}
    done: dict[int, tuple[DeviceState, DeviceState]] = {}

    def recast(state: DeviceState) -> DeviceState:
        if id(state) not in done:
            done[id(state)] = (state, _recast(state, device, names, held))
        return done[id(state)][1]

    return recast


def _recast(
    state: DeviceState, device: Device, names: dict[str, str], held: frozenset[str] | None
) -> DeviceState:
    old = {c.name: n for n, c in enumerate(state.device.definition.controls)}
    controls = device.definition.controls
    patch = state.patch
    if isinstance(patch, PatchIn):
        patch = PatchIn(_there(device, patch.patch, names), patch.origin)
    if device.definition.programs is None:
        patch = None
    elif patch is None:
        patch = Free.UNDETERMINED
    values = tuple(
        _value(state.device.definition.controls[old[c.name]], c, state.controls[old[c.name]], device, names)
        if c.name in old
        else (Free.NEVER_SENT if c.kind == TRIGGER else Free.UNDETERMINED)
        for c in controls
    )
    in_hands = held if held is not None else {state.device.definition.controls[n].name for n in state.held}
    indexes = frozenset(n for n, c in enumerate(controls) if c.name in in_hands)
    return DeviceState(device, patch, values, indexes, state.patch_held)


def _there(device: Device, patch: Patch, names: dict[str, str]) -> Patch:
    return device.patch(names.get(patch.name, patch.name)) or patch


def _value(
    was: Control, now: Control, value: ControlState, device: Device, names: dict[str, str]
) -> ControlState:
    if isinstance(value, Set):
        code = recoded(was, now, value.asked, value.code)
        return Free.UNDETERMINED if code is None else replace(value, code=code)
    if isinstance(value, AsPatch):
        patch = _there(device, value.patch, names)
        stored = patch.stored(now.name)
        if stored is None:
            return AsPatch(patch, None, None, value.origin)
        return AsPatch(patch, stored.code, stored.gets, value.origin)
    return value


def recoded(was: Control, now: Control, asked: Value, code: int) -> int | None:
    """The code of what was asked, by another scale; None where that cannot hold it."""
    if was.scale == now.scale:
        return code
    return None if isinstance(asked, NoteValue) or outside(now, asked) is not None else encode(now, asked)


def redefined(device: Device, definition: Definition) -> Device:
    """The device as another definition has it: its patches' numbers on the wire and what they store."""
    patches = tuple(_redefined_patch(device.definition, definition, patch) for patch in device.patches)
    return replace(device, definition=definition, patches=patches)


def _redefined_patch(was: Definition, now: Definition, patch: Patch) -> Patch:
    address = patch.address
    if now.programs is not None:
        at = now.programs.position(patch.panel)
        address = (now.programs.address(at) if at is not None else None) or address
    return replace(patch, address=address, stores=restored(was, now, patch.stores))


def restored(
    was: Definition, now: Definition, stores: tuple[tuple[str, Stored], ...]
) -> tuple[tuple[str, Stored], ...]:
    """What a patch stores, in the codes of another definition; without what that cannot hold."""
    out = []
    for name, stored in stores:
        old, new = was.control(name), now.control(name)
        code = recoded(old, new, stored.asked, stored.code) if old is not None and new is not None else None
        if code is not None:
            out.append((name, replace(stored, code=code)))
    return tuple(out)


def with_control(definition: Definition, name: str, control: Control | None) -> Definition:
    """The definition with one control as it is now: replaced, or (None) left out."""
    controls = tuple(c if c.name != name else control for c in definition.controls)
    return replace(definition, controls=tuple(c for c in controls if c is not None))


def trigger_on(device: Device, trigger: Trigger) -> Trigger | None:
    """A trigger as the device fires it; None where it has no such control."""
    control, was = device.definition.control(trigger.control), trigger.device.definition
    old = was.control(trigger.control)
    if control is None or control.kind != TRIGGER or old is None:
        return None
    code = recoded(old, control, Word("now"), trigger.code)
    return None if code is None else replace(trigger, device=device, code=code)
