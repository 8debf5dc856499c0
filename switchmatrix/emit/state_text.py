"""A scene's state: every control, what the device will really do, and who said so."""

from __future__ import annotations

from switchmatrix.definition.controls import TRIGGER, Control
from switchmatrix.states.state import AsPatch, ControlState, DeviceState, Free, PatchIn, Set, State


def state_text(state: State) -> str:
    """A block for each device: control, value, and its line, layer and name."""
    lines: list[str] = []
    for device in state.devices:
        where = f"{device.device.port} ch {device.device.channel}"
        lines += [f"{device.device.name}  ({device.device.definition.title}, {where})"]
        rows = _rows(device)
        widths = [max(len(row[n]) for row in rows) for n in range(3)] if rows else []
        for row in rows:
            padded = [text.ljust(width) for text, width in zip(row, widths, strict=False)]
            lines.append(("  " + "  ".join([*padded, *row[3:]])).rstrip())
        lines.append("")
    return "\n".join(lines)


def _rows(state: DeviceState) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    if isinstance(state.patch, PatchIn):
        patch, origin = state.patch.patch, state.patch.origin
        place = f"{origin.span.path}:{origin.span.line}"
        rows.append(("patch", f"{patch.name} (panel {patch.panel})", place, f"{origin.layer}, {origin.name}"))
    elif state.patch is not None:
        rows.append(("patch", state.patch.value, "", ""))
    for control, value in zip(state.device.definition.controls, state.controls, strict=True):
        if control.kind != TRIGGER:
            rows.append(_row(control, value))
    return rows


def _row(control: Control, value: ControlState) -> tuple[str, ...]:
    if isinstance(value, Free):
        return (control.name, value.value, "", "")
    place = f"{value.origin.span.path}:{value.origin.span.line}"
    return (control.name, _value(control.name, value), place, f"{value.origin.layer}, {value.origin.name}")


def _value(name: str, value: Set | AsPatch) -> str:
    if isinstance(value, Set):
        same = str(value.asked) == str(value.gets)
        return str(value.gets) if same else f"asked {value.asked}, gets {value.gets}"
    if value.code is None:
        return f"as {value.patch.name} stores it"
    stored = value.patch.stored(name)
    if stored is not None and str(stored.asked) != str(stored.gets):
        return f"asked {stored.asked}, gets {stored.gets}, as {value.patch.name} stores it"
    return f"{value.gets}, as {value.patch.name} stores it"
