"""Stops: the scenes of a leg in the order in which they are walked through, and those beside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from switchmatrix.compile.plan import lands_on_time
from switchmatrix.model.rig import Rig
from switchmatrix.model.show import Leg, SetlistItem, Show
from switchmatrix.model.song import STANDING
from switchmatrix.states.show import Run
from switchmatrix.states.state import SceneState, Visit
from switchmatrix.states.visits import SongStates


class Key(NamedTuple):
    """What tells a stop from all others: its setlist number (0: standing scenes beside it), song and scene.

    `nth` counts the scene's visits from 1.
    """

    item: int
    song: str
    scene: str
    nth: int

    @property
    def label(self) -> str:
        """`SCENE`, or `SCENE@2` for a later visit."""
        return self.scene if self.nth == 1 else f"{self.scene}@{self.nth}"


HOME = Key(0, "", "home", 1)
"""The rig's home state: no stop, and no song can be called so."""


@dataclass(frozen=True, slots=True)
class Stop:
    """A scene that can be stepped to, as people see it.

    `number` is the scene's among those of its song, from 1; `tick` is None without a place.
    """

    key: Key
    title: str
    number: int
    place: str
    tick: int | None
    remark: str | None
    instrument: str | None
    tuning: str | None
    on_time: bool

    @property
    def label(self) -> str:
        """`Harbour Bell: market`; the scene alone where it is of no song."""
        return self.key.label if self.key.song == STANDING else f"{self.title}: {self.key.label}"


def walk(show: Show, runs: Sequence[Run]) -> tuple[Stop, ...]:
    """The leg's stops in setlist order, those of all the rigs: one may leave out a scene that another has."""
    out: list[Stop] = []
    for item, entry in enumerate(runs[0].leg.setlist, 1):
        on_rigs = [(run.rig, song) for run in runs for song in _of(run, entry, item)]
        walks = [_stops(show, rig, item, entry, song) for rig, song in on_rigs]
        out += _together(walks)
    return tuple(out)


def beside(show: Show, runs: Sequence[Run]) -> tuple[Stop, ...]:
    """The scenes that no visit reaches, and all standing scenes."""
    found: dict[Key, Stop] = {}
    for run in runs:
        for item, song in run.songs:
            visited = {visit.scene for visit in song.visits}
            for scene in song.states:
                if scene.scene not in visited:
                    key = Key(item, song.song.song.id, scene.scene, 1)
                    found.setdefault(key, _stop(show, run.rig, song, key, scene, None))
    return tuple(found.values())


def item_of(leg: Leg, number: int) -> SetlistItem:
    """The setlist's entry of that number."""
    return leg.setlist[number - 1]


def _of(run: Run, entry: SetlistItem, item: int) -> list[SongStates]:
    """The entry's song on one rig, or its standing scenes."""
    return [song for number, song in run.songs if number == (0 if entry.standing else item)]


def _stops(show: Show, rig: Rig, item: int, entry: SetlistItem, song: SongStates) -> list[Stop]:
    """One rig's stops at one entry of the setlist."""
    if not entry.standing:
        id = song.song.song.id
        scenes = {scene.scene: scene for scene in song.states}
        return [
            _stop(show, rig, song, Key(item, id, visit.scene, visit.nth), scenes[visit.scene], visit)
            for visit in song.visits
        ]
    scene = next((one for one in song.states if one.scene == entry.name), None)
    if scene is None:
        return []
    return [_stop(show, rig, song, Key(item, STANDING, scene.scene, 1), scene, None, entry.remark)]


def _stop(
    show: Show,
    rig: Rig,
    song: SongStates,
    key: Key,
    scene: SceneState,
    visit: Visit | None,
    remark: str | None = None,
) -> Stop:
    here = visit if visit is not None else scene
    instrument = here.instrument
    return Stop(
        key=key,
        title=song.song.song.title,
        number=scene.position,
        place=visit.place if visit is not None else "",
        tick=visit.tick if visit is not None else None,
        remark=remark if remark is not None else here.remark,
        instrument=instrument,
        tuning=_tuning(rig, song, instrument),
        on_time=visit is not None and song.placed and lands_on_time(show, song.song.song, key.scene),
    )


def _tuning(rig: Rig, song: SongStates, name: str | None) -> str | None:
    """The song's tuning of its own instrument, else the instrument's."""
    whole = song.song.song
    if whole.tuning is not None and whole.instrument is not None and whole.instrument.name == name:
        return whole.tuning.name
    return next((one.tuning for one in rig.instruments if one.name == name), None)


def _together(walks: Iterable[Sequence[Stop]]) -> list[Stop]:
    """The walks of several rigs as one: what one lacks stands where the others have it."""
    out: list[Stop] = []
    for stops in walks:
        at = 0
        for stop in stops:
            here = next((n for n, one in enumerate(out) if one.key == stop.key), None)
            if here is None:
                out.insert(at, stop)
                here = at
            at = here + 1
    if all(stop.tick is not None for stop in out):
        out.sort(key=lambda stop: stop.tick or 0)
    return out
