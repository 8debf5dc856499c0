"""What a change changes, and what a scene loses with a device: sentences for people."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.states.state import AsPatch, ControlState, DeviceState, Free, PatchIn, Set, State


def changed(before: State, after: State) -> tuple[str, ...]:
    """`gate: loose to tight`, `echo: slap to cliff`, `echo.mix: 35 % to 40 %`, each once, in rig order."""
    said: dict[str, None] = {}
    for old, new in zip(before.devices, after.devices, strict=True):
        if old.key == new.key:
            continue
        name = new.device.name
        patches = _patch(old), _patch(new)
        if patches[0] != patches[1]:
            said[f"{name}: {patches[0]} to {patches[1]}"] = None
        for n, control in enumerate(new.device.definition.controls):
            was, now = old.controls[n], new.controls[n]
            both_stored = isinstance(was, AsPatch) and isinstance(now, AsPatch)
            if (old.wants[n], n in old.held) != (new.wants[n], n in new.held) and not both_stored:
                said[_changed(f"{name}.{control.name}", was, now)] = None
    return tuple(said)


def _patch(state: DeviceState) -> str:
    if isinstance(state.patch, PatchIn):
        return state.patch.patch.name
    return "no patch" if state.patch is None else state.patch.value


def _changed(target: str, was: ControlState, now: ControlState) -> str:
    """By the words that say it, where they are of one entry."""
    if not isinstance(was, Free) and not isinstance(now, Free):
        (name, _, old), (other, _, new) = was.origin.name.partition(": "), now.origin.name.partition(": ")
        entry = name.partition(".")[0] != target.partition(".")[0]
        if entry and name == other and old != new:
            return f"{name}: {old} to {new}"
    return f"{target}: {_value(was)} to {_value(now)}"


def _value(value: ControlState) -> str:
    if isinstance(value, Free):
        return value.value
    if isinstance(value, Set) or value.gets is not None:
        return str(value.gets)
    return f"as {value.patch.name} stores it"


def lost(state: State, absent: Iterable[str]) -> tuple[str, ...]:
    """`without echo: cliff, engage on`: what a scene has of the devices that are sent nothing."""
    out = frozenset(absent)
    return tuple(
        f"without {device.device.name}: {', '.join(_has(device)) or 'nothing of note'}"
        for device in state.devices
        if device.device.name in out
    )


def _has(device: DeviceState) -> list[str]:
    said = [device.patch.patch.name] if isinstance(device.patch, PatchIn) else []
    main, value = device.device.definition.main, device.main
    if main is not None and value is not None:
        said.append(f"{main.name} {value}")
    return said
