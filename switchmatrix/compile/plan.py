"""A song's messages: each visit from the one before, each distinct state from unknown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from switchmatrix.compile.known import nothing_known, settled_rig
from switchmatrix.compile.schedule import Busy, Timed, schedule
from switchmatrix.compile.transition import Steps, transition
from switchmatrix.model.rig import Rig
from switchmatrix.model.show import Leg
from switchmatrix.states.state import SceneState, Visit
from switchmatrix.states.timeline import TICKS_PER_QUARTER
from switchmatrix.states.visits import SongStates


@dataclass(frozen=True, slots=True)
class PlannedVisit:
    """A visit with its messages; times count from the visit's moment."""

    visit: Visit
    messages: tuple[Timed, ...]
    change_time_us: int


@dataclass(frozen=True, slots=True)
class PlannedState:
    """A distinct state with its messages from unknown; times count from the first byte."""

    scene: SceneState
    messages: tuple[Timed, ...]
    change_time_us: int


@dataclass(frozen=True, slots=True)
class SongPlan:
    """A song on one rig in one leg: `number` is its place in the setlist, 0 for standing scenes."""

    number: int
    states: SongStates
    visits: tuple[PlannedVisit, ...]
    scenes: tuple[PlannedState, ...]


@dataclass(frozen=True, slots=True)
class LegPlan:
    """All songs of a leg on one rig, standing scenes first."""

    leg: Leg
    rig: Rig
    songs: tuple[SongPlan, ...]


def running_messages(plan: LegPlan) -> Iterator[tuple[str, int, str, Timed]]:
    """Every message with its song, visit and scene: visits in order, then scenes that have none.

    Those (standing scenes among them) come as visit 0, from unknown.
    """
    for song in plan.songs:
        id, visited = song.states.song.song.id, {v.visit.scene for v in song.visits}
        for planned in song.visits:
            for message in planned.messages:
                yield id, planned.visit.number, planned.visit.scene, message
        for scene in song.scenes:
            if scene.scene.scene not in visited:
                for message in scene.messages:
                    yield id, 0, scene.scene.scene, message


def plan_song(rig: Rig, number: int, states: SongStates, steps: Steps) -> SongPlan:
    """The song's messages: the first visit from unknown, later ones from the visit before."""
    visits = []
    known, busy, moment = nothing_known(rig), Busy(), 0
    for visit in states.visits:
        if visit.tick is not None:
            moment = -(-states.timeline.moment(visit.tick) // TICKS_PER_QUARTER)
        sent = transition(known, visit.state, visit.triggers, steps)
        timed = schedule(rig, sent, moment, busy if states.placed else None)
        messages = tuple(Timed(m.step, m.starts_us - moment, m.lands_us - moment) for m in timed.messages)
        visits.append(PlannedVisit(visit, messages, timed.change_time_us()))
        known, busy = settled_rig(rig, visit.state), timed.busy
    return SongPlan(number, states, tuple(visits), tuple(_from_unknown(rig, s, steps) for s in states.states))


def _from_unknown(rig: Rig, scene: SceneState, steps: Steps) -> PlannedState:
    timed = schedule(rig, transition(nothing_known(rig), scene.state, (), steps))
    return PlannedState(scene, timed.messages, timed.change_time_us())
