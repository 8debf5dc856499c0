"""A whole show's states, as checks and plans take them."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.model.rig import Rig
from switchmatrix.model.show import Leg, Show
from switchmatrix.states.visits import SongStates


@dataclass(frozen=True, slots=True)
class Run:
    """A leg on one rig: its songs by setlist number, standing scenes as number 0."""

    leg: Leg
    rig: Rig
    songs: tuple[tuple[int, SongStates], ...]


@dataclass(frozen=True, slots=True)
class ShowStates:
    """The show, its rigs that could be bound, its runs, and the ids of all song files."""

    show: Show
    rigs: tuple[Rig, ...]
    runs: tuple[Run, ...]
    song_ids: tuple[str, ...]

    def runs_of(self, rig: Rig) -> tuple[Run, ...]:
        """The runs on one rig."""
        return tuple(run for run in self.runs if run.rig is rig)
