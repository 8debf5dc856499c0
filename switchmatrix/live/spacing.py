"""A transition's waits as they must be planned, so that none is cut short on the way to the device."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.compile.step import Step
from switchmatrix.model.rig import Device, Rig

LATE_US = 1000
"""A message may leave so much late before what follows it waits for it (`LATE_NS`)."""

LONGEST_PERIOD_US = 21_334
"""A JACK period where nobody says it: 1024 frames at 48,000 a second. JACK moves messages to its edges."""


def extra_us(api: str, period_us: int | None) -> int:
    """What a server may take from a wait: its period where it is JACK, and the lateness of a message."""
    if api == "loop":
        return 0
    period = LONGEST_PERIOD_US if period_us is None else period_us
    return LATE_US + (period if api == "jack" else 0)


def spaced_rig(rig: Rig, extra: int) -> Rig:
    """The rig with what its mutes hold before and after, and its devices' gaps, made longer."""
    if not extra:
        return rig
    mutes = (replace(m, before_us=m.before_us + extra, after_us=m.after_us + extra) for m in rig.mutes)
    return replace(rig, mutes=tuple(mutes), devices=tuple(_spaced(one, extra) for one in rig.devices))


def _spaced(device: Device, extra: int) -> Device:
    gap = device.definition.gap_us
    return replace(device, definition=replace(device.definition, gap_us=gap + extra)) if gap else device


def spaced(steps: tuple[Step, ...], extra: int) -> tuple[Step, ...]:
    """The messages with every settle and gap that there is made longer."""
    return tuple(
        replace(
            step,
            settle_us=step.settle_us + extra if step.settle_us else 0,
            gap_us=step.gap_us + extra if step.gap_us else 0,
        )
        for step in steps
    )
