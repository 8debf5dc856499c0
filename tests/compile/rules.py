"""What holds of every schedule, worked out anew from the messages of a transition and the rig's mutes.

A byte takes 320 microseconds at 31,250 baud (MIDI 1.0 Detailed Specification 4.2.1, p. 1).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from switchmatrix.compile.schedule import Timed
from switchmatrix.compile.step import Role, Step
from switchmatrix.model.rig import Mute, Rig

DIN_BYTE_US = 320

Wait = tuple[int, int, int, str]
"""One message, a later one, the microseconds between the end of the one and the start of the other, why."""


def wire_us(rig: Rig, step: Step) -> int:
    """How long a message takes on its port."""
    return 0 if rig.port(step.port).usb else DIN_BYTE_US * len(step.data)


def waits(rig: Rig, steps: Sequence[Step]) -> list[Wait]:
    """All that a message waits for, but its port."""
    every = [(a, b) for b in range(len(steps)) for a in range(b)]
    return [
        (a, b, lag, why)
        for a, b in every
        for lag, why in (*_device(steps[a], steps[b]), *_mutes(rig, steps[a], steps[b]))
    ]


def _device(one: Step, then: Step) -> list[tuple[int, str]]:
    """A device takes nothing while it settles, nor within its gap; a trigger waits for every device."""
    if one.device == then.device:
        return [(one.settle_us, f"{one.device} settles"), (one.gap_us, f"the gap of {one.device}")]
    if then.role is Role.TRIGGER and one.role is not Role.TRIGGER:
        return [(one.settle_us, f"{one.device} lands before {then.device} fires")]
    return []


def _mutes(rig: Rig, one: Step, then: Step) -> list[tuple[int, str]]:
    """What is held stands before anything covered moves, and until that has settled."""
    found = []
    for n, mute in enumerate(rig.mutes, 1):
        if _held(mute, one) and _covered(mute, then):
            found.append((one.settle_us + mute.before_us, f"mute {n} holds {one.device} first"))
        if _covered(mute, one) and _held(mute, then):
            found.append((one.settle_us + mute.after_us, f"mute {n} holds {then.device} until {one.device}"))
    return found


def _held(mute: Mute, step: Step) -> bool:
    return {(t.device, t.control) for t, _ in mute.holds} & {
        (step.device, name) for name in step.moves
    } != set()


def _covered(mute: Mute, step: Step) -> bool:
    moved = {(step.device, name) for name in step.moves} if step.role in (Role.RECALL, Role.SET) else set()
    return {(t.device, t.control) for t in mute.covers} & moved != set()


def broken(rig: Rig, steps: Sequence[Step], sent: Sequence[Timed], at_us: int = 0) -> list[str]:
    """Each rule that a schedule of the messages breaks, in words; nothing is still going on before it.

    Of two messages at one moment (over USB, where bytes take no time) the order of the schedule counts.
    """
    if sorted(map(id, steps)) != sorted(id(m.step) for m in sent):
        return ["a message is missing, or there is one too many"]
    starts = {id(m.step): m.starts_us for m in sent}
    place = {id(m.step): n for n, m in enumerate(sent)}
    found = [f"{m.step.device} begins too soon" for m in sent if m.starts_us < at_us]
    found += [
        why
        for a, b, lag, why in waits(rig, steps)
        if starts[id(steps[b])] < starts[id(steps[a])] + wire_us(rig, steps[a]) + lag
        or place[id(steps[b])] < place[id(steps[a])]
    ]
    found += [
        f"{m.step.device} lands at {m.lands_us}"
        for m in sent
        if m.lands_us != m.starts_us + wire_us(rig, m.step) + m.step.settle_us
    ]
    for port in rig.ports:
        here = [m for m in sent if m.step.port == port.name]
        found += [
            f"{port.name} sends two at once"
            for one, then in pairwise(here)
            if then.starts_us < one.starts_us + wire_us(rig, one.step)
        ]
        found += _units([m.step for m in here])
    return found


def _units(sent: Sequence[Step]) -> list[str]:
    """Units that something else of their channel stands in, in the order of one port."""
    return [
        f"a unit of {one.device} is broken"
        for channel in {step.channel for step in sent}
        for one, then in pairwise([step for step in sent if step.channel == channel])
        if one.part < one.parts and (then.device, then.part) != (one.device, one.part + 1)
    ]


def idle(rig: Rig, steps: Sequence[Step], sent: Sequence[Timed]) -> list[str]:
    """Each time that a port is idle though a message could go."""
    ended = {id(m.step): m.starts_us + wire_us(rig, m.step) for m in sent}
    ready = {id(step): 0 for step in steps}
    for a, b, lag, _ in waits(rig, steps):
        ready[id(steps[b])] = max(ready[id(steps[b])], ended[id(steps[a])] + lag)
    found = []
    for port in rig.ports:
        here = [m for m in sent if m.step.port == port.name]
        for n, m in enumerate(here):
            free = max((ended[id(before.step)] for before in here[:n]), default=0)
            last = {before.step.channel: before.step for before in here[:n]}
            found += [
                f"{port.name} waits though {o.step.device} could go"
                for o in here[n:]
                if max(free, ready[id(o.step)]) < m.starts_us and not _shut(last, o.step)
            ]
    return found


def _shut(last: dict[int, Step], step: Step) -> bool:
    """Whether a unit of another device is under way on the message's channel."""
    before = last.get(step.channel)
    return before is not None and before.part < before.parts and before.device != step.device
