"""What the tests of comparing share: two shows from text, what differs between them, and its JSON applied."""

from __future__ import annotations

from collections.abc import Mapping

from switchmatrix.compare.diff import diff
from switchmatrix.compare.records import Diff, Names, RigChange
from switchmatrix.compare.sides import Side
from switchmatrix.emit.diff_text import diff_text
from switchmatrix.pipeline import Judged, plan_run
from tests.support import BASE_SHOW, judged

Files = Mapping[str, str]

A_RIG = (BASE_SHOW / "rigs" / "a-rig.yaml").read_text(encoding="utf-8")
LANTERN = (BASE_SHOW / "lantern.yaml").read_text(encoding="utf-8")
ECHO = (BASE_SHOW / "definitions" / "two-tap-echo.yaml").read_text(encoding="utf-8")


def side(files: Files | None = None, leg: str | None = None) -> Side:
    """The base show with files laid over it, to be compared."""
    return of(judged(files), leg)


def of(show: Judged, leg: str | None = None) -> Side:
    """A sound show, to be compared."""
    return Side(show.worked_out, leg)


def between(old: Files, new: Files, *, wire: bool = False) -> Diff:
    """What differs between the base show with `old` and with `new` laid over it."""
    return diff(side(old), side(new), plan_run if wire else None)


def text(old: Files, new: Files, *, wire: bool = False) -> str:
    """The same as text."""
    return diff_text(between(old, new, wire=wire), "OLD", "NEW")


def rig_changes(old: Files, new: Files) -> list[RigChange]:
    """What differs in the rig."""
    return [change for rig in between(old, new).rigs for change in rig.changes]


def touched(change: RigChange) -> list[str]:
    """The scenes that a change touches, `song scene`."""
    return [f"{touch.song} {touch.scene}" for touch in change.touches]


def said(change: RigChange) -> tuple[str, str, str | None, str | None]:
    """What changed, of what, from what to what."""
    was = change.was.text if change.was is not None else None
    now = change.now.text if change.now is not None else None
    of_what = f"{change.of.name} {change.part.name}".strip()
    return change.what, of_what, was, now


def renamed(diff: Diff) -> list[Names]:
    """Scenes that have another name now."""
    every = [s.scene for leg in diff.legs for rig in leg.rigs for song in rig.songs for s in song.scenes]
    return [names for names in every if names.was != names.now]
