"""What makes a change longer than its bound: the wait without which it is shorter and nearest to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from switchmatrix.compile.bound import lower_bound_us
from switchmatrix.compile.schedule import Timed, schedule
from switchmatrix.compile.step import Step
from tests.compile.cases import Case, rig_of
from tests.compile.rules import waits, wire_us


def forced_by(case: Case) -> str | None:
    """The wait that takes most of what is over the bound with it, and least else; None if none lowers it."""
    whole = schedule(case.rig, case.steps)
    lowered = []
    for name, without in _without(case, list(whole.messages)):
        left = schedule(without.rig, without.steps).change_time_us()
        if left < whole.change_time_us():
            bound = max(1, lower_bound_us(without.rig, without.steps))
            lowered.append((left / bound, -left, name))
    return min(lowered)[2] if lowered else None


def _without(case: Case, sent: list[Timed]) -> Iterator[tuple[str, Case]]:
    """The waits along the change's longest way, from its end, and the case without each."""
    at = max(sent, key=lambda m: m.lands_us)
    if at.step.settle_us:
        yield f"{at.step.device} settles", _settled(case, at.step)
    seen: set[int] = set()
    while id(at) not in seen:
        seen.add(id(at))
        yield from _unshut(case, at)
        for before, kind, other in _tight(case, sent, at):
            yield kind, other
            at = before


def _tight(case: Case, sent: list[Timed], m: Timed) -> list[tuple[Timed, str, Case]]:
    """What the message goes directly behind, and the case without that wait; the last is gone on from."""
    by_step = {id(one.step): one for one in sent}
    n = next(n for n, step in enumerate(case.steps) if step is m.step)
    found = []
    for a, b, lag, why in waits(case.rig, case.steps):
        before = by_step[id(case.steps[a])]
        if b == n and before.starts_us + wire_us(case.rig, before.step) + lag == m.starts_us and lag:
            found.append((before, why, _less(case, before.step, why)))
    for before in sent:
        ended = before.starts_us + wire_us(case.rig, before.step)
        if before.step.port == m.step.port and before is not m and ended == m.starts_us:
            found.append(
                (before, f"{m.step.port} is taken by {before.step.device}", _alone(case, before.step))
            )
    return [one for one in found if one[0].starts_us < m.starts_us]


def _unshut(case: Case, m: Timed) -> Iterator[tuple[str, Case]]:
    """The case with the message's device on a channel of its own, where it shares one."""
    shares = {s.device for s in case.steps if (s.port, s.channel) == (m.step.port, m.step.channel)}
    if len(shares) > 1:
        own = tuple(replace(s, channel=16) if s.device == m.step.device else replace(s) for s in case.steps)
        yield f"{m.step.device} shares channel {m.step.channel}", Case(case.rig, own)


def _alone(case: Case, step: Step) -> Case:
    """The case with a device on a port of its own, where its bytes take no time."""
    speeds = {port.name: "usb" if port.usb else "din" for port in case.rig.ports} | {"alone": "usb"}
    moved = tuple(replace(s, port="alone") if s.device == step.device else s for s in case.steps)
    return Case(rig_of(speeds, case.rig.mutes), moved)


def _less(case: Case, step: Step, why: str) -> Case:
    """The case without a settle, a gap, or what a mute holds before and after."""
    if why.startswith("mute"):
        mutes = tuple(replace(mute, before_us=0, after_us=0) for mute in case.rig.mutes)
        return Case(replace(case.rig, mutes=mutes), case.steps)
    if why.startswith("the gap"):
        return Case(
            case.rig, tuple(replace(s, gap_us=0) if s.device == step.device else s for s in case.steps)
        )
    return _settled(case, step)


def _settled(case: Case, step: Step) -> Case:
    """The case with a message that its device has settled from at once."""
    return Case(case.rig, tuple(replace(s, settle_us=0) if s is step else s for s in case.steps))
