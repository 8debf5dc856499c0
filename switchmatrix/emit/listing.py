"""A song's listing: what a person reads beside the rig."""

from __future__ import annotations

from switchmatrix.compile.plan import LegPlan, PlannedState, PlannedVisit, SongPlan
from switchmatrix.compile.sentence import by_hand, sentences
from switchmatrix.definition.values import decimal
from switchmatrix.model.rig import Rig
from switchmatrix.model.song import TempoMark


def listing(plan: LegPlan, song: SongPlan) -> str:
    """The song's visits in order, each with its messages; scenes that no visit reaches after them."""
    lines = _head(plan, song)
    for visit in song.visits:
        lines += ["", *_visit(plan.rig, song, visit)]
    visited = {visit.visit.scene for visit in song.visits}
    for scene in song.scenes:
        if scene.scene.scene not in visited:
            lines += ["", *_scene(scene)]
    return "\n".join(lines) + "\n"


def _head(plan: LegPlan, song: SongPlan) -> list[str]:
    whole = song.states.song.song
    number = f"{song.number}. " if song.number else ""
    lines = [f"{number}{whole.title}", f"{plan.leg.name}, {plan.rig.title}"]
    if whole.instrument is not None:
        lines.append(_instrument(plan.rig, whole.instrument.name))
    if whole.tempos:
        lines.append("tempo " + ", ".join(_tempo(mark) for mark in whole.tempos))
    if whole.remark is not None:
        lines.append(whole.remark)
    return lines + by_hand(plan.rig)


def _tempo(mark: TempoMark) -> str:
    unit = "" if mark.beat == 1 else f" (a beat is {decimal(mark.beat)} quarter notes)"
    return f"{decimal(mark.bpm)}{unit} from {mark.at.text}"


def _instrument(rig: Rig, name: str) -> str:
    instrument = next((i for i in rig.instruments if i.name == name), None)
    tuning = f", {instrument.tuning}" if instrument is not None and instrument.tuning else ""
    return f"{name}{tuning}"


def _visit(rig: Rig, song: SongPlan, planned: PlannedVisit) -> list[str]:
    visit = planned.visit
    place = f", {visit.place}" if visit.place else ""
    whole = song.states.song.song
    lines = [f"{visit.number}. {visit.scene}{place}"]
    if visit.instrument is not None and (
        whole.instrument is None or visit.instrument != whole.instrument.name
    ):
        lines.append(f"   {_instrument(rig, visit.instrument)}")
    if visit.remark is not None:
        lines.append(f"   {visit.remark}")
    return lines + _messages(planned)


def _scene(planned: PlannedState) -> list[str]:
    scene = planned.scene
    lines = [f"{scene.label}, from unknown"]
    if scene.remark is not None:
        lines.append(f"   {scene.remark}")
    return lines + _messages(planned)


def _messages(planned: PlannedVisit | PlannedState) -> list[str]:
    if not planned.messages:
        return ["   nothing to send"]
    count, time, bound = len(planned.messages), planned.change_time_us / 1000, planned.bound_us / 1000
    said = "1 message" if count == 1 else f"{count} messages"
    lines = [f"   {said}, landed after {time:.1f} ms (bound {bound:.1f} ms)"]
    if isinstance(planned, PlannedVisit) and planned.on_time:
        late = planned.late_us / 1000
        lines.append(f"   lands {late:.1f} ms after its place" if late > 0 else "   lands on time")
    return [*lines, *(f"   {s}" for s in sentences(planned.messages))]
