"""The messages of a transition as jobs: what each waits for, and how long the way ahead of it is."""

from __future__ import annotations

from dataclasses import dataclass, field

from switchmatrix.compile.step import Role, Step
from switchmatrix.midi.wire import wire_time_us
from switchmatrix.model.rig import Mute, Rig


@dataclass(slots=True)
class Job:
    """One message. Times in microseconds.

    `wire_us` is how long its port is taken, `hold_us` how long its device takes nothing afterwards.
    `before` are jobs that wait for it, each with the time that must lie between its last byte and their
    first; `after` those that it waits for. `tail_us` is the longest way from its first byte until the last
    device has settled that hangs on it, `head_us` the longest way to its first byte.
    """

    step: Step
    wire_us: int
    hold_us: int
    before: list[tuple[int, int]] = field(default_factory=list)
    after: list[int] = field(default_factory=list)
    head_us: int = 0
    tail_us: int = 0


def jobs_of(rig: Rig, steps: tuple[Step, ...], byte_us: dict[str, int]) -> list[Job]:
    """A job for each step, in the same order: each waits for earlier ones only."""
    jobs = [
        Job(step, wire_time_us(len(step.data), byte_us[step.port]), max(step.gap_us, step.settle_us))
        for step in steps
    ]
    last: dict[str, int] = {}
    for n, job in enumerate(jobs):
        previous = last.get(job.step.device)
        if previous is not None:
            _wait(jobs, previous, n, jobs[previous].hold_us)
        last[job.step.device] = n
    for mute in rig.mutes:
        _mute(jobs, mute)
    _triggers(jobs)
    for n in range(len(jobs) - 1, -1, -1):
        job = jobs[n]
        ahead = [lag + jobs[follower].tail_us for follower, lag in job.before]
        job.tail_us = job.wire_us + max([job.step.settle_us, *ahead])
    return jobs


def _wait(jobs: list[Job], first: int, then: int, lag: int) -> None:
    jobs[first].before.append((then, lag))
    jobs[then].after.append(first)


def _mute(jobs: list[Job], mute: Mute) -> None:
    """What a mute covers waits until it holds; it is let go when all that it covers has settled.

    Whatever moves a held control before something covered puts it where the mute wants it: the mute's
    own message, or a recall that goes before it. Whatever moves it afterwards lets it go. Of each device
    the last message is enough to wait for: the device has settled from those before it.
    """
    held: dict[str, int] = {}
    covered: dict[str, int] = {}
    for n, job in enumerate(jobs):
        step = job.step
        is_covered, is_held = covers(mute, step), holds(mute, step)
        if is_covered and step.part == 1:
            for first in held.values():
                _wait(jobs, first, n, jobs[first].step.settle_us + mute.before_us)
        if is_held and step.part == 1:
            for first in covered.values():
                _wait(jobs, first, n, jobs[first].step.settle_us + mute.after_us)
        if step.part == step.parts:
            held |= {step.device: n} if is_held else {}
            covered |= {step.device: n} if is_covered else {}


def covers(mute: Mute, step: Step) -> bool:
    """Whether the message moves something that must not move outside the mute."""
    if step.role not in (Role.RECALL, Role.SET):
        return False
    return any(target.device == step.device and target.control in step.moves for target in mute.covers)


def holds(mute: Mute, step: Step) -> bool:
    """Whether the message moves a control that the mute holds."""
    return any(target.device == step.device and target.control in step.moves for target, _ in mute.holds)


def _triggers(jobs: list[Job]) -> None:
    """A trigger goes off when all else has landed: then its scene is reached."""
    last: dict[str, int] = {}
    for n, job in enumerate(jobs):
        if job.step.role is not Role.TRIGGER:
            last[job.step.device] = n
        elif job.step.part == 1:
            for first in last.values():
                _wait(jobs, first, n, jobs[first].step.settle_us)
