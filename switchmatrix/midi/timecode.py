"""SMPTE time code labels and seconds.

Rates are those of MIDI Time Code (MMA RP-004/RP-008, p. 2): 24, 25, 30 drop-frame, 30. Drop-frame
counts 30000/1001 frames a second and leaves out labels 00 and 01 of each minute but every tenth
(worked example: MIDI Show Control 1.1.1, section 3.2.1).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Rate:
    """A time code rate: labels a second, true frames a second, and whether labels are dropped."""

    label: str
    labels: int
    frames_per_second: Fraction
    drop: bool


RATES: dict[str, Rate] = {
    rate.label: rate
    for rate in (
        Rate("24", 24, Fraction(24), drop=False),
        Rate("25", 25, Fraction(25), drop=False),
        Rate("30 drop", 30, Fraction(30000, 1001), drop=True),
        Rate("30", 30, Fraction(30), drop=False),
    )
}


@dataclass(frozen=True, slots=True)
class TimeCode:
    """A label hours:minutes:seconds:frames."""

    hours: int
    minutes: int
    seconds: int
    frames: int


def label_exists(code: TimeCode, rate: Rate) -> bool:
    """Whether the label is one that this rate counts."""
    if not (0 <= code.hours < 24 and 0 <= code.minutes < 60 and 0 <= code.seconds < 60):
        return False
    if not 0 <= code.frames < rate.labels:
        return False
    dropped = rate.drop and code.seconds == 0 and code.frames < 2 and code.minutes % 10 != 0
    return not dropped


def frame_index(code: TimeCode, rate: Rate) -> int:
    """Frames from 00:00:00:00 to the label; ValueError for a label the rate does not count."""
    if not label_exists(code, rate):
        raise ValueError(f"{code} is no label at {rate.label} frames")
    minutes = 60 * code.hours + code.minutes
    index = (minutes * 60 + code.seconds) * rate.labels + code.frames
    return index - 2 * (minutes - minutes // 10) if rate.drop else index


def seconds(code: TimeCode, rate: Rate) -> Fraction:
    """Real seconds from 00:00:00:00 to the label, exact."""
    return frame_index(code, rate) / rate.frames_per_second
