"""Every song's states on every rig of every leg."""

from __future__ import annotations

from collections.abc import Iterator

from switchmatrix.bind.rig import BoundRig
from switchmatrix.bind.songs import SongSource, bind_changes, bind_on_rig
from switchmatrix.bind.whole import Model
from switchmatrix.diagnostics.diagnostic import Diagnostic, Severity, has_errors
from switchmatrix.model.show import Leg
from switchmatrix.model.song import STANDING, BoundSong, Change
from switchmatrix.states.show import Run, ShowStates
from switchmatrix.states.visits import RigStates, SongStates


def work_out(model: Model, found: list[Diagnostic]) -> ShowStates:
    """Every song's states on every rig of every leg; songs and rigs with errors are passed over."""
    if model.show is None:
        raise ValueError("a show that could not be read has no states")
    worked = _Workings(model, found)
    runs = [run for leg in model.show.legs for run in worked.leg(leg)]
    sound = tuple(b.rig for id, b in model.rigs.items() if b is not None and worked.sound(id))
    played = {item.name for leg in model.show.legs for item in leg.setlist if not item.standing}
    unused = (
        ()
        if model.show.span.path in worked.broken
        else tuple(id for id, song in model.songs.items() if id not in played and song is not None)
    )
    return ShowStates(model.show, sound, tuple(runs), unused)


class _Workings:
    """Songs bound to rigs, each once."""

    def __init__(self, model: Model, found: list[Diagnostic]) -> None:
        self.model = model
        self.found = found
        self.bound: dict[tuple[str, str], BoundSong | None] = {}
        self.broken = {d.span.path for d in found if d.severity is Severity.ERROR}

    def sound(self, rig: str) -> bool:
        """Whether the rig and all that it is made of were read without an error."""
        bound = self.model.rigs.get(rig)
        files = {f"rigs/{id}.yaml" for id in self.model.made_of[rig]}
        if bound is None or files & self.broken or None in bound.scope.devices.values():
            return False
        used = {d.definition.id for d in bound.rig.devices} | {a.definition.id for a in bound.rig.absents}
        complete = None not in bound.scope.absents.values()
        return complete and not any(f"definitions/{id}.yaml" in self.broken for id in used)

    def leg(self, leg: Leg) -> Iterator[Run]:
        for id in leg.rigs:
            bound = self.model.rigs.get(id)
            if bound is None:
                continue
            found: list[Diagnostic] = []
            changes = bind_changes(
                bound.scope,
                f"leg {leg.name}",
                self.model.leg_changes.get(leg.name),
                {**self.model.songs, STANDING: bound.standing_source},
                found,
            )
            songs = self._bound(leg, bound)
            if self.sound(id) and not has_errors(found):
                yield self._run(leg, bound, songs, changes, found)
            self.found += [d.on_rig(id) for d in found]

    def _bound(self, leg: Leg, bound: BoundRig) -> list[tuple[int, BoundSong]]:
        """The leg's songs on the rig, by setlist number; standing scenes as number 0."""
        songs = [(0, bound.rig.standing)] if bound.rig.standing.song.scenes else []
        for number, item in enumerate(leg.setlist, 1):
            source = None if item.standing else self.model.songs.get(item.name)
            song = self._on_rig(bound, source) if source is not None else None
            if song is not None:
                songs.append((number, song))
        return songs

    def _on_rig(self, bound: BoundRig, source: SongSource) -> BoundSong | None:
        key = (bound.rig.id, source.song.id)
        if key not in self.bound:
            found: list[Diagnostic] = []
            song = bind_on_rig(bound.scope, source, bound.instruments, found)
            unsound = has_errors(found) or source.song.span.path in self.broken
            self.bound[key] = None if unsound else song
            self.found += [d.on_rig(bound.rig.id) for d in found]
        return self.bound[key]

    def _run(
        self,
        leg: Leg,
        bound: BoundRig,
        songs: list[tuple[int, BoundSong]],
        changes: dict[str, tuple[Change, ...]],
        found: list[Diagnostic],
    ) -> Run:
        rig = bound.rig
        states_on = RigStates(rig, found)
        worked: list[tuple[int, SongStates]] = []
        for number, song in songs:
            id = song.song.id
            to_song = (*rig.changes.get(id, ()), *changes.get(id, ()))
            wrong: list[Diagnostic] = []
            states = states_on.song(song, to_song, wrong)
            found += wrong
            if not has_errors(wrong):
                worked.append((number, states))
        return Run(leg, rig, tuple(worked))
