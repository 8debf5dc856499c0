"""A whole show's states, as checks and plans take them."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.model.rig import Rig
from switchmatrix.model.show import Leg, Show
from switchmatrix.states.state import DeviceState
from switchmatrix.states.visits import SongStates


@dataclass(frozen=True, slots=True)
class Run:
    """A leg on one rig: its songs by setlist number, standing scenes as number 0."""

    leg: Leg
    rig: Rig
    songs: tuple[tuple[int, SongStates], ...]


@dataclass(frozen=True, slots=True)
class ShowStates:
    """The show, its rigs that could be bound, its runs, and the ids of songs that no setlist has.

    `unused` is empty where a setlist has an error of its own.
    """

    show: Show
    rigs: tuple[Rig, ...]
    runs: tuple[Run, ...]
    unused: tuple[str, ...]

    def runs_of(self, rig: Rig) -> tuple[Run, ...]:
        """The runs on one rig."""
        return tuple(run for run in self.runs if run.rig is rig)


def distinct_device_states(runs: tuple[Run, ...]) -> list[DeviceState]:
    """Every state of every device in the runs, each object once."""
    by_id = {
        id(state): state
        for run in runs
        for _, song in run.songs
        for scene in song.states
        for state in scene.state.devices
    }
    return list(by_id.values())


def first_of(scenes: list[str]) -> str:
    """The first scene, and how many more there are."""
    more = len(scenes) - 1
    return scenes[0] + (f" and {more} more scene{'' if more == 1 else 's'}" if more else "")
