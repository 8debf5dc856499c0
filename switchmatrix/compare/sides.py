"""The two sides of a comparison: which leg, rig and song of one is which of the other."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from switchmatrix.compare.likeness import alike, matched
from switchmatrix.compare.reading import Reader
from switchmatrix.compare.records import Names
from switchmatrix.compare.renames import Renames, renames
from switchmatrix.model.rig import Rig
from switchmatrix.model.show import Leg
from switchmatrix.model.song import STANDING
from switchmatrix.states.show import Run, ShowStates
from switchmatrix.states.visits import SongStates

HOME = "home"
"""The layer of what nearly every scene has: it says nothing of a song."""


@dataclass(frozen=True, slots=True)
class Side:
    """A show, or (where `leg` names it) one leg of it. KeyError from `legs` where there is no such leg."""

    states: ShowStates
    leg: str | None = None

    @property
    def legs(self) -> dict[str, Leg]:
        """The legs that are compared."""
        every = {leg.name: leg for leg in self.states.show.legs}
        return every if self.leg is None else {self.leg: every[self.leg]}

    def runs(self, leg: str) -> dict[str, Run]:
        """The runs of a leg, by rig."""
        return {run.rig.id: run for run in self.states.runs if run.leg.name == leg}

    @property
    def songs(self) -> set[str]:
        """The ids of the show's songs, played or not."""
        played = {item.name for leg in self.states.show.legs for item in leg.setlist if not item.standing}
        return played | set(self.states.unused) | {STANDING}


@dataclass(frozen=True, slots=True)
class RunPair:
    """A leg on one rig, before and now."""

    rig: Names
    old: Run | None
    new: Run | None
    renames: Renames | None

    def songs(self, names: dict[str, str]) -> Iterator[tuple[Names, SongStates | None, SongStates | None]]:
        """The songs of the two in setlist order, each once, those that are gone last."""
        old = songs_of(self.old)
        new = songs_of(self.new)
        was = {names.get(id, id): id for id in old}
        for id, states in new.items():
            before = was.get(id)
            yield Names(before, id), old[before] if before is not None else None, states
        for now, id in was.items():
            if now not in new:
                yield Names(id, None), old[id], None


def songs_of(run: Run | None) -> dict[str, SongStates]:
    """The songs of a run by id, standing scenes first."""
    return {states.song.song.id: states for _, states in run.songs} if run is not None else {}


@dataclass(frozen=True, slots=True)
class LegPair:
    """A leg before and now, on each of its rigs."""

    leg: Names
    old: Leg | None
    new: Leg | None
    runs: tuple[RunPair, ...]


def leg_pairs(old: Side, new: Side) -> tuple[LegPair, ...]:
    """Legs of one name are one; a leg that is named is held against the other side's, named or not."""
    if old.leg is not None and new.leg is not None:
        return (_leg_pair(old, new, old.leg, new.leg),)
    name = old.leg or new.leg
    if name is not None:
        return (_leg_pair(Side(old.states, name), Side(new.states, name), name, name),)
    was = _leg_names(old.legs, new.legs)
    pairs = [_leg_pair(old, new, was.get(leg), leg) for leg in new.legs]
    return (*pairs, *(_leg_pair(old, new, leg, None) for leg in old.legs if leg not in was.values()))


def _leg_names(old: dict[str, Leg], new: dict[str, Leg]) -> dict[str, str]:
    """What each leg was called: one under another name is one if it plays much the same."""
    gone = [leg for leg in old if leg not in new]
    come = [leg for leg in new if leg not in old]
    played = {id(leg): [(i.standing, i.name) for i in leg.setlist] for leg in (*old.values(), *new.values())}
    pairs = matched(gone, come, lambda a, b: alike(played[id(old[a])], played[id(new[b])]), Fraction(4, 5))
    return {leg: leg for leg in new if leg in old} | {b: a for a, b in pairs}


def _leg_pair(old: Side, new: Side, was: str | None, now: str | None) -> LegPair:
    before = old.runs(was) if was is not None else {}
    after = new.runs(now) if now is not None else {}
    return LegPair(
        Names(was, now),
        old.legs[was] if was is not None else None,
        new.legs[now] if now is not None else None,
        tuple(
            _run_pair(before.get(a) if a is not None else None, after.get(b) if b is not None else None)
            for a, b in _rigs(before, after)
        ),
    )


def _rigs(old: dict[str, Run], new: dict[str, Run]) -> list[tuple[str | None, str | None]]:
    """Rigs of one name are one, then those that are made of much the same devices."""
    gone = [id for id in old if id not in new]
    come = [id for id in new if id not in old]
    pairs = matched(gone, come, lambda a, b: rigs_alike(old[a].rig, new[b].rig), Fraction(1, 2))
    was = {b: a for a, b in pairs} | {id: id for id in new if id in old}
    out: list[tuple[str | None, str | None]] = [(was.get(id), id) for id in new]
    return out + [(id, None) for id in gone if id not in was.values()]


def rigs_alike(old: Rig, new: Rig) -> Fraction:
    """How many devices they share, by name and model."""
    return alike(*([(d.name, d.definition.id) for d in rig.devices] for rig in (old, new)))


def _run_pair(old: Run | None, new: Run | None) -> RunPair:
    rigs = Names(old.rig.id if old is not None else None, new.rig.id if new is not None else None)
    same = renames(old.rig, new.rig) if old is not None and new is not None else None
    return RunPair(rigs, old, new, same)


def song_names(old: Side, new: Side, legs: tuple[LegPair, ...]) -> dict[str, str]:
    """The new id of each song whose file has another name now, by what is in it."""
    known_old, known_new = old.songs, new.songs
    gone: dict[str, list[Hashable]] = {}
    come: dict[str, list[Hashable]] = {}
    for pair in (run for leg in legs for run in leg.runs):
        for id, states in songs_of(pair.old).items():
            if id not in known_new and id not in gone:
                gone[id] = song_marks(states, Reader(pair.renames))
        for id, states in songs_of(pair.new).items():
            if id not in known_old and id not in come:
                come[id] = song_marks(states, Reader())
    return dict(matched(list(gone), list(come), lambda a, b: alike(gone[a], come[b])))


def song_marks(states: SongStates, reader: Reader) -> list[Hashable]:
    """What a song is known by: its title, its visits, what its scenes say over home."""
    song = states.song.song
    marks: list[Hashable] = [("title", song.title)] * 3
    marks += [("tempo", mark.at.text, mark.bpm, mark.beat) for mark in song.tempos]
    for scene in dict.fromkeys(s.scene for s in states.states):
        marks += [(scene, mark) for mark in scene_marks(states, scene, reader)]
    return marks


def scene_marks(states: SongStates, scene: str, reader: Reader) -> list[Hashable]:
    """What a scene is known by: its places, its remark, what it says over home."""
    marks: list[Hashable] = [("place", v.place) for v in states.visits if v.scene == scene and v.place]
    for state in (s for s in states.states if s.scene == scene):
        marks += [("remark", state.remark)] if state.remark is not None else []
        marks += [
            (name, cell.told.text)
            for name, cell in reader.state(state.state).items()
            if cell.origin is not None and cell.origin.layer != HOME
        ]
    return marks


def scene_names(old: SongStates, new: SongStates, was: Reader, now: Reader) -> dict[str, str]:
    """The new name of each old scene that is still there."""
    before = list(dict.fromkeys(s.scene for s in old.states))
    after = list(dict.fromkeys(s.scene for s in new.states))
    names = {scene: scene for scene in before if scene in after}
    gone = {s: scene_marks(old, s, was) for s in before if s not in names}
    come = {s: scene_marks(new, s, now) for s in after if s not in names}
    return names | dict(matched(list(gone), list(come), lambda a, b: alike(gone[a], come[b])))
