"""A leg's running order on one rig, for the music stand."""

from __future__ import annotations

from switchmatrix.compile.known import set_by_hand
from switchmatrix.compile.plan import LegPlan
from switchmatrix.model.rig import Rig
from switchmatrix.model.song import Song


def setlist(plan: LegPlan) -> str:
    """The setlist by its numbers: songs with their instruments, standing scenes with their remarks."""
    songs = {song.number: song.states.song.song for song in plan.songs}
    by_hand = [
        f"before each song by hand: {name}.{control} {on}" for name, control, on in set_by_hand(plan.rig)
    ]
    lines = [f"{plan.leg.name}, {plan.rig.title}", *by_hand, ""]
    for number, item in enumerate(plan.leg.setlist, 1):
        if item.standing:
            remark = f": {item.remark}" if item.remark else ""
            lines.append(f"{number:02d}  ({item.name}{remark})")
        else:
            song = songs[number]
            held = _held(plan.rig, song)
            lines.append(f"{number:02d}  {song.title}" + (f", {held}" if held else ""))
    return "\n".join(lines) + "\n"


def _held(rig: Rig, song: Song) -> str:
    """What the player holds as the song begins, in the song's own tuning where it has one."""
    if song.instrument is None:
        return ""
    if song.tuning is not None:
        return f"{song.instrument.name} ({song.tuning.name})"
    return with_tuning(rig, song.instrument.name)


def with_tuning(rig: Rig, name: str) -> str:
    """An instrument, and its tuning where the rig's file says it."""
    instrument = next((i for i in rig.instruments if i.name == name), None)
    tuning = f" ({instrument.tuning})" if instrument is not None and instrument.tuning else ""
    return f"{name}{tuning}"
