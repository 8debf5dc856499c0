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

    `at_us` is the moment of the tick; `quarter_ms` is exact, for note values.
    """

    tick: int
    at_us: Fraction
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

    def microseconds(self, tick: int) -> Fraction:
        """The tick's moment after bar 1; 120 a minute where the song gives no tempo (RP-001 p. 3)."""
        tempo = self.tempo_at(tick)
        if tempo is None:
            return Fraction(tick * 500_000, TICKS_PER_QUARTER)
        return tempo.at_us + Fraction((tick - tempo.tick) * tempo.quarter_us, TICKS_PER_QUARTER)

    def tick_at_us(self, microseconds: Fraction) -> Fraction:
        """The moment's place in ticks, exact."""
        tempo = next((t for t in reversed(self.tempos) if t.at_us <= microseconds), None)
        if tempo is None:
            return microseconds * TICKS_PER_QUARTER / 500_000
        return tempo.tick + (microseconds - tempo.at_us) * TICKS_PER_QUARTER / tempo.quarter_us


def quarter_us(mark: TempoMark) -> int:
    """Microseconds a quarter note, halves up, as the tempo meta event holds it (RP-001 p. 9)."""
    return (mark.quarter_ms * 1000 + Fraction(1, 2)).__floor__()


def timeline(song: Song) -> Timeline:
    """The song's timeline; bars are 4/4 where it names no meter."""
    meters = _meters(song.meters)
    tempos: list[TempoChange] = []
    for mark in song.tempos:
        tick = bar_tick(meters, mark.at)
        at_us = Fraction(0)
        if tempos:
            last = tempos[-1]
            at_us = last.at_us + Fraction((tick - last.tick) * last.quarter_us, TICKS_PER_QUARTER)
        tempos.append(TempoChange(tick, at_us, quarter_us(mark), mark.quarter_ms))
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
    return (line.tick_at_us(place.seconds * 1_000_000) + Fraction(1, 2)).__floor__()
