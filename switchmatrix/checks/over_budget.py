"""A change that takes longer than its budget."""

from __future__ import annotations

from switchmatrix.compile.mutable import mutable
from switchmatrix.compile.plan import PlannedVisit, budget_of, plan_visits
from switchmatrix.compile.transition import Steps
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.show import Show
from switchmatrix.model.song import Budget, Song
from switchmatrix.states.show import Run, ShowStates


def over_budget(show: ShowStates) -> list[Diagnostic]:
    """Each scene with a visit whose change takes longer than the budget that holds for it.

    A song's first visit is not judged: between songs there is time.
    """
    return [finding for run in show.runs for finding in _of_run(show.show, run)]


def _of_run(show: Show, run: Run) -> list[Diagnostic]:
    found, steps = [], Steps()
    for _, states in run.songs:
        song = states.song.song
        if all(budget_of(show, song, scene.name) is None for scene in song.scenes):
            continue
        longest: dict[str, PlannedVisit] = {}
        rig = mutable(run.rig, (visit.state for visit in states.visits))
        for planned in plan_visits(rig, states, steps, show)[1:]:
            before = longest.setdefault(planned.visit.scene, planned)
            if planned.change_time_us > before.change_time_us:
                longest[planned.visit.scene] = planned
        for scene, planned in longest.items():
            found += _judge(show, run, song, scene, planned.change_time_us, planned.visit.place)
    return found


def _judge(show: Show, run: Run, song: Song, scene: str, us: int, place: str) -> list[Diagnostic]:
    budget: Budget | None = budget_of(show, song, scene)
    if budget is None or us <= budget.us:
        return []
    at = f" at {place}" if place else ""
    message = (
        f"the change to `{scene}` of `{song.id}`{at} takes {us / 1000:g} ms on `{run.rig.id}` in "
        f"`{run.leg.name}`; its budget is {budget.us / 1000:g} ms"
    )
    help = "see what takes the time with `switchmatrix timing`; change less there, or give it more time"
    span = next((s.span for s in song.scenes if s.name == scene), song.span)
    return [names.OVER_BUDGET.at(span, message, help, (Related(budget.span, "the budget"),))]
