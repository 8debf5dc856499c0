"""Running time: when it is steady, what it reaches, and when it has stopped.

Positions are in units of the source (microseconds of time code, ticks of a clock); `speed` is units a
microsecond. Moments are microseconds of a clock that never goes back.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from switchmatrix.live.stepping.inputs import Located, Reached
from switchmatrix.live.stepping.stops import Key


@dataclass(frozen=True, slots=True)
class Cue:
    """A stop at a position; it is due `early_us` before, so that its change has landed there."""

    at: Fraction
    early_us: int
    key: Key


@dataclass(frozen=True, slots=True)
class Pace:
    """How running time is judged.

    It is steady once it has run at its own speed for `steady_us`, off by no more than `drift_us` in that
    time: so nothing is recalled while it is scrubbed. A drop-out shorter than `free_us` is run through;
    after one as long, it has stopped. A cue up to `slack_us` before a run's beginning belongs to the run.
    """

    steady_us: int = 250_000
    drift_us: int = 50_000
    free_us: int = 500_000
    slack_us: int = 5_000


@dataclass(frozen=True, slots=True)
class Stopped:
    """Running time has stopped, and nothing was heard of it for so long that this is said."""


RunEvent = Reached | Located | Stopped


@dataclass(frozen=True, slots=True)
class Run:
    """Running time: a run from where it `began` (None: nothing runs), by moments and positions.

    `ref` is what its speed is judged from, `anchor` the last place that was heard. `done` counts the cues
    that are behind us, once the run is `steady`.
    """

    cues: tuple[Cue, ...]
    pace: Pace
    began: Fraction | None = None
    since_us: int = 0
    ref: tuple[Fraction, int] = (Fraction(0), 0)
    anchor: tuple[Fraction, int] = (Fraction(0), 0)
    speed: Fraction = Fraction(1)
    steady: bool = False
    done: int = 0


def ended(run: Run) -> Run:
    """Nothing runs any more, or it runs elsewhere."""
    return replace(run, began=None, steady=False)


def hear(
    run: Run,
    at: Fraction,
    at_us: int,
    speed: Fraction,
    begin: tuple[Fraction, int] | None = None,
    sure: bool = True,
) -> tuple[Run, tuple[RunEvent, ...]]:
    """Running time was heard at a place; a run that begins now began there, or where `begin` says.

    What is only counted on from an earlier place is not `sure`: no run is found steady by it.
    """
    run, events = advance(run, at_us)
    run = replace(run, speed=speed)
    if run.began is None or _off(run, at, at_us):
        run = _begun(run, begin or (at, at_us))
        if _off(run, at, at_us):
            run = _begun(run, (at, at_us))
    run = replace(run, anchor=(at, at_us))
    if sure and not run.steady and at_us - run.since_us >= run.pace.steady_us:
        run, found = _settled(run)
        events += found
    if run.steady and at_us - run.ref[1] >= run.pace.steady_us:
        run = replace(run, ref=run.anchor)
    run, due = _due(run, at)
    return run, events + due


def _begun(run: Run, where: tuple[Fraction, int]) -> Run:
    return replace(run, began=where[0], since_us=where[1], ref=where, steady=False)


def advance(run: Run, at_us: int) -> tuple[Run, tuple[RunEvent, ...]]:
    """Time has gone by and nothing was heard."""
    if run.began is None:
        return run, ()
    place, heard_us = run.anchor
    gap = at_us - heard_us
    free = min(gap, run.pace.free_us)
    run, events = _due(run, place + max(free, 0) * run.speed)
    if gap < run.pace.free_us:
        return run, events
    return ended(run), (*events, Stopped()) if run.steady else events


def next_us(run: Run) -> int | None:
    """The moment at which `advance` has something to say, if nothing is heard until then."""
    if run.began is None:
        return None
    place, heard_us = run.anchor
    moments = [heard_us + run.pace.free_us]
    if run.steady and run.done < len(run.cues):
        cue = run.cues[run.done]
        moments.append(heard_us + -((place - _from(run, cue)) // run.speed))
    return max(min(moments), heard_us)


def _off(run: Run, at: Fraction, at_us: int) -> bool:
    """Whether the place is not where the run would be by now."""
    place, moment = run.ref
    return abs((at - place) / run.speed - (at_us - moment)) > run.pace.drift_us


def _from(run: Run, cue: Cue) -> Fraction:
    """The place from which on a cue is due."""
    return cue.at - cue.early_us * run.speed


def _settled(run: Run) -> tuple[Run, tuple[RunEvent, ...]]:
    """The run is steady: it goes to the cue that belongs there, by running time if the run passed it."""
    behind = [n for n, cue in enumerate(run.cues) if _from(run, cue) <= run.anchor[0]]
    run = replace(run, steady=True, done=behind[-1] + 1 if behind else 0)
    if not behind or run.began is None:
        return run, ()
    cue = run.cues[behind[-1]]
    passed = cue.at >= run.began - run.pace.slack_us * run.speed
    return run, (Reached(cue.key) if passed else Located(cue.key),)


def _due(run: Run, at: Fraction) -> tuple[Run, tuple[RunEvent, ...]]:
    """The cues that a steady run has come to."""
    events: list[RunEvent] = []
    while run.steady and run.done < len(run.cues) and _from(run, run.cues[run.done]) <= at:
        events.append(Reached(run.cues[run.done].key))
        run = replace(run, done=run.done + 1)
    return run, tuple(events)
