"""How long each change of a leg takes on a rig, and what takes it."""

from __future__ import annotations

from switchmatrix.compile.plan import LegPlan, PlannedVisit, SongPlan, budget_of
from switchmatrix.compile.step import Role
from switchmatrix.model.show import Show
from switchmatrix.model.song import Budget


def timing(plan: LegPlan, show: Show) -> str:
    """Each visit: its change time beside the bound, the slowest device, and who is quiet while it recalls."""
    lines = [f"{plan.leg.name}, {plan.rig.title}"]
    for song in plan.songs:
        if song.visits:
            lines += ["", f"{song.number:02d}  {song.states.song.song.title}"]
            lines += [f"  {line}" for visit in song.visits for line in _visit(song, visit, show)]
    return "\n".join(lines) + "\n"


def timing_row(song: SongPlan, planned: PlannedVisit, show: Show) -> dict[str, object]:
    """One visit with stable keys; times in microseconds, a budget only where the visit is held to it."""
    visit, budget = planned.visit, _budget(song, planned, show)
    return {
        "song": song.states.song.song.id,
        "visit": visit.number,
        "scene": visit.scene,
        "place": visit.place,
        "change_time_us": planned.change_time_us,
        "bound_us": planned.bound_us,
        "slowest": slowest(planned),
        "quiet_us": dict(quiet(planned)),
        "budget_us": None if budget is None else budget.us,
        "on_time": planned.on_time,
        "late_us": max(0, planned.late_us) if planned.on_time else None,
    }


def slowest(planned: PlannedVisit) -> str | None:
    """The device that lands last, of several the one sent to first; None where nothing is sent."""
    last = max((m.lands_us for m in planned.messages), default=None)
    return next((m.step.device for m in planned.messages if m.lands_us == last), None)


def quiet(planned: PlannedVisit) -> list[tuple[str, int]]:
    """Each device that recalls a patch, and how long it takes nothing meanwhile, in microseconds."""
    return [
        (m.step.device, m.step.settle_us)
        for m in planned.messages
        if m.step.role is Role.RECALL and m.step.settle_us
    ]


def _budget(song: SongPlan, planned: PlannedVisit, show: Show) -> Budget | None:
    """What the visit is held to: a song's first visit, for which there is time, to nothing."""
    visit = planned.visit
    return budget_of(show, song.states.song.song, visit.scene) if visit.number > 1 else None


def _visit(song: SongPlan, planned: PlannedVisit, show: Show) -> list[str]:
    visit = planned.visit
    place = f", {visit.place}" if visit.place else ""
    head = f"{visit.number}. {visit.scene}{place}: "
    if not planned.messages:
        return [head + "nothing to send"]
    from_unknown = "from unknown, " if visit.number == 1 else ""
    said = f"{from_unknown}{planned.change_time_us / 1000:.1f} ms (bound {planned.bound_us / 1000:.1f} ms)"
    said += f", slowest {slowest(planned)}"
    budget = _budget(song, planned, show)
    if budget is not None:
        over = planned.change_time_us - budget.us
        said += f", {over / 1000:g} ms over" if over > 0 else ", within"
        said += f" its budget of {budget.us / 1000:g} ms"
    lines = [head + said]
    if planned.on_time:
        late = planned.late_us
        lines.append(f"   lands {late / 1000:.1f} ms after its place" if late > 0 else "   lands on time")
    gaps = [f"{device} {us / 1000:g} ms" for device, us in quiet(planned)]
    return lines + ([f"   quiet while they recall: {', '.join(gaps)}"] if gaps else [])
