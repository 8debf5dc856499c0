"""MIDI clock with song position followed (MIDI 1.0 Detailed Specification 4.2.1, p. 27-32)."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from switchmatrix.live.stepping.mtc import Followed, Said
from switchmatrix.live.stepping.running import (
    Cue,
    Pace,
    Run,
    RunEvent,
    Stopped,
    advance,
    ended,
    hear,
    next_us,
)
from switchmatrix.simulate.stream import Common, Event, RealTime
from switchmatrix.states.timeline import TICKS_PER_QUARTER

SONG_POSITION, CLOCK, START, CONTINUE, STOP = 0xF2, 0xF8, 0xFA, 0xFB, 0xFC
TICKS_PER_CLOCK = TICKS_PER_QUARTER // 24
"""Clocks come 24 a quarter note (p. 30)."""

TICKS_PER_SIXTEENTH = 6 * TICKS_PER_CLOCK
"""Song position counts sixteenth notes, six clocks each (p. 27)."""

_DROPPED = 4
"""A gap of more intervals than this is a drop-out: no tempo falls to a quarter from one clock to the next."""

_SLOWEST_US = 500_000
"""An interval longer than this is no tempo: 5 quarter notes a minute."""


@dataclass(frozen=True, slots=True)
class ClockFollower:
    """A follower of one song's ticks. `tick` is the place of the next clock; `clock_us` when the last came.

    `begin` is the place and the moment of the first one since it was started. `interval_us` is the time
    between clocks, smoothed; None before two have come. `gap` where the last was one of a drop-out.
    """

    run: Run
    running: bool = False
    tick: int = 0
    begin: tuple[Fraction, int] | None = None
    clock_us: int | None = None
    interval_us: Fraction | None = None
    gap: bool = False

    @property
    def steady(self) -> bool:
        """Whether the clock is being followed now."""
        return self.run.steady


def clock_follower(cues: tuple[Cue, ...], pace: Pace | None = None) -> ClockFollower:
    """A song's follower, which waits for a start or a song position."""
    return ClockFollower(Run(cues, pace or Pace()))


def follow_clock(
    state: ClockFollower, event: Event, at_us: int
) -> tuple[ClockFollower, tuple[Followed, ...]]:
    """What an event that came at a moment says."""
    match event:
        case RealTime(status) if status == CLOCK:
            return _clock(state, at_us)
        case RealTime(status) if status == START:
            return replace(state, running=True, tick=0, begin=None, run=ended(state.run)), ()
        case RealTime(status) if status == CONTINUE:
            return replace(state, running=True, begin=None, run=ended(state.run)), ()
        case RealTime(status) if status == STOP:
            steady = state.run.steady
            state = replace(state, running=False, run=ended(state.run))
            return state, (Said("the clock has stopped"),) if steady else ()
        case Common(status, (lower, upper)) if status == SONG_POSITION:
            tick = (lower + 128 * upper) * TICKS_PER_SIXTEENTH
            return replace(state, tick=tick, begin=None, run=ended(state.run)), ()
        case _:
            return state, ()


def pass_by_clock(state: ClockFollower, at_us: int) -> tuple[ClockFollower, tuple[Followed, ...]]:
    """Time has gone by and nothing came."""
    run, events = advance(state.run, at_us)
    begin = state.begin if run.began is not None or state.run.began is None else None
    return replace(state, run=run, begin=begin), _said(events)


def clock_due_us(state: ClockFollower) -> int | None:
    """The moment at which `pass_by_clock` is to be called, if nothing comes until then."""
    return next_us(state.run)


def _said(events: tuple[RunEvent, ...]) -> tuple[Followed, ...]:
    gone = Said("the clock no longer comes")
    return tuple(gone if isinstance(event, Stopped) else event for event in events)


def _clock(state: ClockFollower, at_us: int) -> tuple[ClockFollower, tuple[Followed, ...]]:
    """A clock; also while nothing runs they tell the tempo (p. 30)."""
    state, events = pass_by_clock(state, at_us)
    gap = _is_gap(state, at_us)
    missed, interval = _missed(state, at_us) if gap else 0, _interval(state, at_us, gap)
    state = replace(state, interval_us=interval, clock_us=at_us, gap=gap)
    if not state.running:
        return state, events
    place = Fraction(state.tick + missed * TICKS_PER_CLOCK)
    begin = state.begin or (place, at_us)
    state = replace(state, tick=int(place) + TICKS_PER_CLOCK, begin=begin)
    if interval is None:
        return state, events
    # Song position alone jumps, so a place is never off: what is judged is how long the run lasts.
    run = replace(state.run, ref=(place, at_us))
    run, found = hear(run, place, at_us, TICKS_PER_CLOCK / interval, begin)
    return replace(state, run=run), events + _said(found)


def _is_gap(state: ClockFollower, at_us: int) -> bool:
    """Whether clocks got lost; two long waits, one after the other, are a slower tempo."""
    if state.interval_us is None or state.clock_us is None or state.gap:
        return False
    return at_us - state.clock_us > _DROPPED * state.interval_us


def _missed(state: ClockFollower, at_us: int) -> int:
    """The clocks of a drop-out that is run through: the song has gone on without them."""
    if state.run.began is None or state.interval_us is None or state.clock_us is None:
        return 0
    return max(round((at_us - state.clock_us) / state.interval_us) - 1, 0)


def _interval(state: ClockFollower, at_us: int, gap: bool) -> Fraction | None:
    """The time between clocks, an eighth of it new with each, so that one late clock moves no cue."""
    new = None if state.clock_us is None else Fraction(at_us - state.clock_us)
    if new is None or gap or not 0 < new < _SLOWEST_US:
        return state.interval_us
    if state.interval_us is None or new > _DROPPED * state.interval_us:
        return new
    return (state.interval_us + (new - state.interval_us) / 8).limit_denominator(1000)
