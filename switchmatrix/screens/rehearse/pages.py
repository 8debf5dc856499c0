"""The pages beside the bands: where each device stands, and the setlist."""

from __future__ import annotations

from switchmatrix.live.rehearsing.session import Rehearsal
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.state import RigNow, Stepping
from switchmatrix.model.rig import Rig
from switchmatrix.screens.rehearse.bands import Row, shortened, wrap
from switchmatrix.screens.rehearse.view import doubts_of
from switchmatrix.states.state import AsPatch, DeviceState, Free, PatchIn

_HANG = "    "
"""Before what of a sentence goes on in the next row."""


def devices(rehearsal: Rehearsal, width: int) -> list[Row]:
    """Every device of the driven rigs: what the scene wants of it, and what of that is in doubt."""
    state = rehearsal.state
    out: list[Row] = []
    for id in state.driven:
        now, rig = state.rig(id), state.prepared(id).rig
        inside = "nobody knows where" if now.inside is None else state.show.label(now.inside)
        held = "" if now.gate is Gate.OPEN else f", held back: {now.gate.value}"
        out.append(Row(f"DEVICES  {rig.title}, in {inside}{held}", bold=True))
        out += [Row(line) for said in _devices(state, now, rig) for line in wrap(said, width, _HANG)]
    return out


def _devices(state: Stepping, now: RigNow, rig: Rig) -> list[str]:
    wanted = state.prepared(now.id).states.get(now.inside) if now.inside is not None else None
    doubts = {} if wanted is None else doubts_of(rig, now, wanted)
    lost = {device.name for device in rig.devices if device.port in now.lost}
    lines: list[str] = []
    for n, device in enumerate(rig.devices):
        if device.name in now.out:
            said = "is out, and is sent nothing"
        elif device.name in lost:
            said = f"its port {device.port} is lost"
        elif wanted is None:
            said = "not known"
        else:
            said = _device(wanted.devices[n], doubts[device.name])
        lines.append(f"{device.name}: {said}")
    return lines


def _device(state: DeviceState, doubts: list[str]) -> str:
    parts = [state.patch.patch.name] if isinstance(state.patch, PatchIn) else []
    for n, control in enumerate(state.device.definition.controls):
        value = state.controls[n]
        if n in state.held:
            parts.append(f"{control.name} in the player's hands")
        elif not isinstance(value, AsPatch | Free):
            parts.append(f"{control.name} {value.gets}")
    parts += [f"in doubt: {' and '.join(doubts)}"] if doubts else []
    return ", ".join(parts) or "as it is: the scene wants nothing of it"


def setlist(rehearsal: Rehearsal) -> tuple[list[Row], int]:
    """The walk, a stop a row, and the row of where we stand."""
    state = rehearsal.state
    out = [Row(f"SETLIST  {state.show.title}, {state.show.leg}", bold=True)]
    item: int | None = None
    here = 0
    for n, stop in enumerate(state.show.stops):
        if stop.key.item != item:
            item = stop.key.item
            on = f", on {stop.instrument}" if stop.instrument else ""
            out.append(Row(f"{item}. {stop.title}{on}", bold=True))
        at = n == state.place
        here = len(out) if at else here
        words = ", ".join(one for one in (stop.key.label, stop.place, stop.remark or "") if one)
        out.append(Row(f"   {'here: ' if at else ''}{words}", bold=at))
    return out, here


def window(rows: list[Row], top: int, width: int, height: int) -> list[Row]:
    """So many rows from `top` on; what is above and below is said."""
    if height <= 0:
        return []
    top = min(max(top, 0), max(0, len(rows) - height))
    shown = [Row(shortened(row.text, width), row.bold, row.reverse) for row in rows[top : top + height]]
    below = len(rows) - top - height
    if below > 0 and shown:
        shown[-1] = Row(f"(and {below + 1} more below: arrow keys)")
    if top > 0 and shown:
        shown[0] = Row(f"(and {top + 1} more above: arrow keys)")
    return shown + [Row("")] * (height - len(shown))
