"""Sends that were broken off, one after another: what is still known of the rig, what may be muted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from switchmatrix.compile.broken import BrokenOff, broken_off
from switchmatrix.compile.known import Known
from switchmatrix.compile.schedule import Busy
from switchmatrix.compile.step import Role, Step
from switchmatrix.live.stepping.inputs import Count
from switchmatrix.live.stepping.moves import begun
from switchmatrix.live.stepping.state import Pending
from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import Target


@dataclass(frozen=True, slots=True)
class _Cut:
    """A send's messages: those that went out for certain, those that may have, those that did not."""

    certain: tuple[Step, ...]
    perhaps: tuple[Step, ...]
    kept: tuple[Step, ...]


def broken(rig: Rig, pending: Sequence[Pending], counts: Sequence[Count]) -> BrokenOff:
    """What is known when all pending sends are broken off; of those not counted, any part may have gone out.

    A device is where a send brings it once all its messages of that send, and of those before it, have
    gone out for certain.
    """
    known, muted = pending[0].before, dict[Target, None]()
    lost: set[str] = set()
    for one in pending:
        if one.whole:
            known, lost = one.before, set()
        cut = _cut(one, counts)
        steps, surely = (*cut.certain, *cut.perhaps, *cut.kept), len(cut.certain)
        left = broken_off(rig, known, steps, surely, surely + len(cut.perhaps))
        lost |= {step.device for step in (*cut.perhaps, *cut.kept)}
        known = Known(
            tuple(
                left.known.devices[n] if device.name in lost else one.after.devices[n]
                for n, device in enumerate(rig.devices)
            )
        )
        for step in cut.certain:
            if step.role is Role.MUTE_OFF and step.part == step.parts:
                muted = {t: None for t in muted if not _moves(step, t)}
        muted |= dict.fromkeys(left.muted)
    return BrokenOff(known, tuple(muted))


def _moves(step: Step, target: Target) -> bool:
    return step.device == target.device and target.control in step.moves


def _cut(pending: Pending, counts: Sequence[Count]) -> _Cut:
    by_port = {count.port: count for count in counts if count.send == pending.send}
    seen: dict[str, int] = {}
    parts: tuple[list[Step], list[Step], list[Step]] = ([], [], [])
    for message in pending.messages:
        step = message.step
        number = seen[step.port] = seen.get(step.port, 0) + 1
        count = by_port.get(step.port)
        if pending.done or (count is not None and number <= count.certain):
            parts[0].append(step)
        elif count is None or number <= count.unknown:
            parts[1].append(step)
        else:
            parts[2].append(step)
    return _Cut(*(tuple(part) for part in parts))


def dropped_busy(rig: Rig, pending: Sequence[Pending], at_us: int) -> Busy:
    """What ports and devices are still doing once all that has not begun is dropped."""
    messages = [message for one in pending for message in one.messages]
    return begun(rig, pending[0].busy_before, messages, at_us)
