"""Where a song's places stand, in ticks and microseconds, by its meters and tempos."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from switchmatrix.model.song import BarPlace, MeterMark, Place, Song, TempoMark

TICKS_PER_QUARTER = 960

LAST_TICK = 0x0FFFFFFF
"""The latest tick: the largest number that a MIDI file holds in front of an event (RP-001 p. 2)."""


@dataclass(frozen=True, slots=True)
class TempoChange:
    """From `tick` on a quarter note lasts `quarter_us` microseconds (whole, as a MIDI file holds it).

    `at` is the moment of the tick in 960ths of a microsecond, which makes it a whole number;
    `quarter_ms` is exact, for note values.
    """

    tick: int
    at: int
    quarter_us: int
    quarter_ms: Fraction


@dataclass(frozen=True, slots=True)
class MeterChange:
    """From `tick` on a bar has `beats` notes of 1/`unit`."""

    tick: int
    beats: int
    unit: int


@dataclass(frozen=True, slots=True)
class Timeline:
    """A song's tempo and meter in ticks; `tempos` is empty where the song gives no tempo."""

    tempos: tuple[TempoChange, ...]
    meters: tuple[MeterChange, ...]

    def tempo_at(self, tick: int) -> TempoChange | None:
        """The tempo in force at the tick, the new one where it changes there."""
        return next((t for t in reversed(self.tempos) if t.tick <= tick), None)

    def moment(self, tick: int) -> int:
        """The tick's moment after bar 1, in 960ths of a microsecond.

        120 quarter notes a minute where the song gives no tempo (RP-001 p. 3).
        """
        tempo = self.tempo_at(tick) or _DEFAULT
        return tempo.at + (tick - tempo.tick) * tempo.quarter_us

    def tick_not_before(self, moment: int) -> int:
        """The first tick that is not before a moment, which is given in 960ths of a microsecond."""
        tempo = self._tempo_then(moment)
        return tempo.tick - (tempo.at - moment) // tempo.quarter_us

    def nearest_tick(self, seconds: Fraction) -> int:
        """The tick nearest to a moment after bar 1, halves up."""
        moment = seconds * 1_000_000 * TICKS_PER_QUARTER
        tempo = self._tempo_then(moment)
        return tempo.tick + ((moment - tempo.at) / tempo.quarter_us + Fraction(1, 2)).__floor__()

    def _tempo_then(self, moment: int | Fraction) -> TempoChange:
        return next((t for t in reversed(self.tempos) if t.at <= moment), _DEFAULT)


_DEFAULT = TempoChange(0, 0, 500_000, Fraction(500))


def quarter_us(mark: TempoMark) -> int:
    """Microseconds a quarter note, halves up, as the tempo meta event holds it (RP-001 p. 9)."""
    return (mark.quarter_ms * 1000 + Fraction(1, 2)).__floor__()


def timeline(song: Song) -> Timeline:
    """The song's timeline; bars are 4/4 where it names no meter."""
    meters = _meters(song.meters)
    tempos: list[TempoChange] = []
    for mark in song.tempos:
        tick = bar_tick(meters, mark.at)
        at = tempos[-1].at + (tick - tempos[-1].tick) * tempos[-1].quarter_us if tempos else 0
        tempos.append(TempoChange(tick, at, quarter_us(mark), mark.quarter_ms))
    return Timeline(tuple(tempos), meters)


def _meters(marks: tuple[MeterMark, ...]) -> tuple[MeterChange, ...]:
    changes: list[MeterChange] = []
    bar = 1
    for mark in marks:
        tick = 0
        if changes:
            last = changes[-1]
            tick = last.tick + (mark.at.bar - bar) * last.beats * _unit_ticks(last.unit)
        changes.append(MeterChange(tick, mark.beats, mark.unit))
        bar = mark.at.bar
    return tuple(changes)


def _unit_ticks(unit: int) -> int:
    return 4 * TICKS_PER_QUARTER // unit


def bar_tick(meters: tuple[MeterChange, ...], at: BarPlace) -> int:
    """The tick of a beat of a bar."""
    bars_left = at.bar - 1
    current = MeterChange(0, 4, 4)
    for change in meters:
        bars = (change.tick - current.tick) // (current.beats * _unit_ticks(current.unit))
        if bars > bars_left:
            break
        bars_left -= bars
        current = change
    unit = _unit_ticks(current.unit)
    return current.tick + bars_left * current.beats * unit + (at.beat - 1) * unit


def place_tick(line: Timeline, place: Place) -> int:
    """The tick that a place stands at, the nearest for a place given in time, halves up."""
    if isinstance(place, BarPlace):
        return bar_tick(line.meters, place)
    return line.nearest_tick(place.seconds)
