"""A song's bars and time, worked out again by the plainest means: bar by bar, and by searching ticks."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

QUARTER = 960
"""Ticks a quarter note in the files we write."""


@dataclass(frozen=True)
class SongClock:
    """`meters`: (bar, beats, unit) from bar 1 on. `tempos`: (tick, microseconds a quarter note) from 0 on."""

    meters: tuple[tuple[int, int, int], ...]
    tempos: tuple[tuple[int, int], ...]

    def parts(self, tick: int) -> int:
        """960ths of a microsecond from bar 1 to the tick: each tempo for as many ticks as it lasts."""
        total = 0
        for n, (start, quarter_us) in enumerate(self.tempos):
            stop = self.tempos[n + 1][0] if n + 1 < len(self.tempos) else tick
            total += max(0, min(stop, tick) - start) * quarter_us
        return total

    def moment(self, tick: int) -> Fraction:
        """Microseconds from bar 1 to the tick."""
        return Fraction(self.parts(tick), QUARTER)

    def first_tick(self, moment: Fraction, at_least: int) -> int:
        """The first tick from `at_least` on that is not before the moment, of as many as a file can count."""
        parts = ceil(moment * QUARTER)
        return at_least + bisect_left(range(0x0FFFFFFF), parts, key=lambda n: self.parts(at_least + n))


def bar_tick(meters: tuple[tuple[int, int, int], ...], bar: int, beat: int) -> int:
    """The tick of a beat of a bar, counting every bar before it."""
    tick, beats, unit = 0, 4, 4
    for number in range(1, bar + 1):
        beats, unit = next(((b, u) for at, b, u in meters if at == number), (beats, unit))
        tick += beats * 4 * QUARTER // unit if number < bar else 0
    return tick + (beat - 1) * 4 * QUARTER // unit


def rounded(microseconds: Fraction) -> int:
    """Whole microseconds, halves up."""
    return int(microseconds + Fraction(1, 2))
