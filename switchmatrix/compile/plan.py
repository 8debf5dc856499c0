"""A song's messages: each visit from the one before, each distinct state from unknown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from switchmatrix.compile.bound import lower_bound_us
from switchmatrix.compile.known import nothing_known, settled_rig
from switchmatrix.compile.schedule import Busy, Scheduled, Timed, schedule
from switchmatrix.compile.step import Step
from switchmatrix.compile.transition import Steps, transition
from switchmatrix.model.rig import Rig
from switchmatrix.model.show import Leg, Show
from switchmatrix.model.song import Budget, Song
from switchmatrix.states.state import SceneState, Visit
from switchmatrix.states.timeline import TICKS_PER_QUARTER
from switchmatrix.states.visits import SongStates


@dataclass(frozen=True, slots=True)
class PlannedVisit:
    """A visit with its messages; times count from its moment, and one that lands on time begins before.

    `bound_us` is the shortest change time that bytes and waits allow.
    """

    visit: Visit
    messages: tuple[Timed, ...]
    change_time_us: int
    bound_us: int
    on_time: bool

    @property
    def late_us(self) -> int:
        """How long after its place the visit has landed; nothing or less where it is on time."""
        return max((m.lands_us for m in self.messages), default=0)


@dataclass(frozen=True, slots=True)
class PlannedState:
    """A distinct state with its messages from unknown; times count from the first byte."""

    scene: SceneState
    messages: tuple[Timed, ...]
    change_time_us: int
    bound_us: int


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


def plan_song(rig: Rig, number: int, states: SongStates, steps: Steps, show: Show) -> SongPlan:
    """The song's messages: those of its visits, and each distinct state from unknown."""
    visits = plan_visits(rig, states, steps, show)
    return SongPlan(number, states, visits, tuple(_from_unknown(rig, s, steps) for s in states.states))


def plan_visits(rig: Rig, states: SongStates, steps: Steps, show: Show) -> tuple[PlannedVisit, ...]:
    """The messages of a song's visits: the first from unknown, later ones from the visit before."""
    visits = []
    known, busy, moment, free = nothing_known(rig), Busy(), 0, 0
    for visit in states.visits:
        if visit.tick is not None:
            moment = -(-states.timeline.moment(visit.tick) // TICKS_PER_QUARTER)
        sent = transition(rig, known, visit.state, visit.triggers, steps)
        before = busy if states.placed else Busy()
        on_time = states.placed and lands_on_time(show, states.song.song, visit.scene)
        timed = land(rig, sent, moment, before, free) if on_time else schedule(rig, sent, moment, before)
        messages = tuple(Timed(m.step, m.starts_us - moment, m.lands_us - moment) for m in timed.messages)
        bound = lower_bound_us(rig, sent)
        visits.append(PlannedVisit(visit, messages, timed.change_time_us(), bound, on_time))
        known, busy = settled_rig(rig, visit.state), timed.busy
        free = max([free, moment, *(m.starts_us for m in timed.messages)])
    return tuple(visits)


def lands_on_time(show: Show, song: Song, name: str) -> bool:
    """Whether a scene's visits are to have landed at their places: scene over song over show."""
    scene = song.scene(name)
    for said in (scene.on_time if scene is not None else None, song.on_time):
        if said is not None:
            return said
    return show.on_time


def budget_of(show: Show, song: Song, name: str) -> Budget | None:
    """The longest that a change to a scene may take: scene over song over show."""
    scene = song.scene(name)
    return (scene.budget if scene is not None else None) or song.budget or show.budget


def land(rig: Rig, sent: tuple[Step, ...], moment: int, busy: Busy, free: int) -> Scheduled:
    """The messages so early that all has landed at `moment`, but none before `free`.

    `free` is when the visit before has begun and sent its last message: it is never overtaken. What
    ports and devices are still doing may make the change longer, so that it begins earlier still; what
    no earlier beginning brings to land sooner is late.
    """
    start, timed = moment, schedule(rig, sent, moment, busy)
    late = _landed(timed, moment) - moment
    while late > 0 and start > free:
        start = max(free, start - late)
        sooner = schedule(rig, sent, start, busy)
        before, late = late, _landed(sooner, moment) - moment
        if late > before:
            break
        timed = sooner
        if late == before:
            break
    return timed


def _landed(timed: Scheduled, otherwise: int) -> int:
    """When the last device has settled."""
    return max((m.lands_us for m in timed.messages), default=otherwise)


def _from_unknown(rig: Rig, scene: SceneState, steps: Steps) -> PlannedState:
    sent = transition(rig, nothing_known(rig), scene.state, (), steps)
    timed = schedule(rig, sent)
    return PlannedState(scene, timed.messages, timed.change_time_us(), lower_bound_us(rig, sent))
