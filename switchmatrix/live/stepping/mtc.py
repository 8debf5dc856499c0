"""MIDI Time Code followed (MMA RP-004/RP-008, pages of document 4.2.1)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from switchmatrix.live.stepping.inputs import Located, Reached
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
from switchmatrix.midi.timecode import RATES, Rate, TimeCode, frame_index, label_exists
from switchmatrix.simulate.stream import Common, Event, Exclusive

QUARTER_FRAME = 0xF1
PIECES = 8
"""Quarter frames that make one time, two frames long (p. 2)."""

_NEXT_US = 50_000
"""A piece that comes later than this after another is not the next one, nor the one before it.

At a fifth of its speed 25-frame code is as slow, and whole sets that were lost pass for none.
"""

_RATES = tuple(RATES.values())
"""By their number in the code: 24, 25, 30 drop-frame, 30 (p. 2)."""


@dataclass(frozen=True, slots=True)
class Said:
    """Something that a person is to be told."""

    text: str


Followed = Reached | Located | Said


@dataclass(frozen=True, slots=True)
class Follower:
    """A follower: the cues for each rate, and what has been heard.

    `nibbles` are those of the set under way, which began at `first_us`; `piece` the last quarter frame
    that came, at `piece_us`; `base` the frame at which the set under way begins, where the one before it
    was whole. `label` is the last time heard, `first` its frame, and `rate` its rate.
    """

    cues: Mapping[str, tuple[Cue, ...]]
    run: Run
    nibbles: tuple[int, ...] = ()
    first_us: int = 0
    piece: int | None = None
    piece_us: int = 0
    base: int | None = None
    first: int = 0
    rate: Rate | None = None
    label: TimeCode | None = None

    @property
    def steady(self) -> bool:
        """Whether time code is being followed now."""
        return self.run.steady


def follower(cues: Mapping[str, tuple[Cue, ...]], pace: Pace | None = None) -> Follower:
    """Nothing heard yet."""
    return Follower(cues, Run((), pace or Pace()))


def follow(state: Follower, event: Event, at_us: int) -> tuple[Follower, tuple[Followed, ...]]:
    """What an event that came at a moment says: stops reached or located, things to be told."""
    match event:
        case Common(status, (data,)) if status == QUARTER_FRAME:
            return _quarter_frame(state, data >> 4, data & 0x0F, at_us)
        # A full message: it locates, and time runs from the next quarter frame on (p. 3).
        case Exclusive((0x7F, _, 0x01, 0x01, hours, minutes, seconds, frames), True):
            code = TimeCode(hours & 0x1F, minutes, seconds, frames)
            return _located(state, code, _RATES[hours >> 5 & 3])
        case _:
            return state, ()


def pass_by(state: Follower, at_us: int) -> tuple[Follower, tuple[Followed, ...]]:
    """Time has gone by and nothing came."""
    run, events = advance(state.run, at_us)
    return replace(state, run=run), _said(state, events)


def due_us(state: Follower) -> int | None:
    """The moment at which `pass_by` is to be called, if nothing comes until then."""
    return next_us(state.run)


def _said(state: Follower, events: tuple[RunEvent, ...]) -> tuple[Followed, ...]:
    text = "time code has stopped" + (f" at {shown(state.label)}" if state.label is not None else "")
    return tuple(Said(text) if isinstance(event, Stopped) else event for event in events)


def shown(code: TimeCode) -> str:
    """`1:00:12:05`."""
    return f"{code.hours}:{code.minutes:02}:{code.seconds:02}:{code.frames:02}"


def _located(state: Follower, code: TimeCode, rate: Rate) -> tuple[Follower, tuple[Followed, ...]]:
    if not label_exists(code, rate):
        return state, ()
    state = replace(state, nibbles=(), piece=None, base=None, label=code, run=ended(state.run))
    return _at_rate(state, rate)


def _at_rate(state: Follower, rate: Rate) -> tuple[Follower, tuple[Followed, ...]]:
    """The code counts at a rate: other songs' cues are no places in it."""
    if rate == state.rate:
        return state, ()
    cues = state.cues.get(rate.label, ())
    state = replace(state, rate=rate, run=replace(ended(state.run), cues=cues))
    if cues or not state.cues:
        return state, ()
    others = " or ".join(sorted(state.cues))
    return state, (
        Said(f"time code comes at {rate.label} frames, and the songs have {others}: not followed"),
    )


def _quarter_frame(
    state: Follower, piece: int, nibble: int, at_us: int
) -> tuple[Follower, tuple[Followed, ...]]:
    """Pieces come in order, 0 to 7; backwards, time runs backwards and nothing is followed (p. 2)."""
    near = state.piece is not None and at_us - state.piece_us <= _NEXT_US
    step = (piece - (state.piece or 0)) % PIECES if near else None
    backwards, follows = step == PIECES - 1, step == 1
    state = replace(state, piece=piece, piece_us=at_us)
    if backwards:
        return replace(state, nibbles=(), base=None, run=ended(state.run)), ()
    if piece == 0:
        base = state.base if follows and len(state.nibbles) == PIECES else None
        state = replace(state, nibbles=(nibble,), first_us=at_us, base=base)
    elif follows and len(state.nibbles) == piece:
        state = replace(state, nibbles=(*state.nibbles, nibble))
    else:
        state = replace(state, nibbles=(), base=None)
    if len(state.nibbles) == PIECES and piece == PIECES - 1:
        return _whole(state, at_us)
    frames = _counted(state, piece, at_us)
    if frames is None or state.rate is None:
        return state, ()
    return _heard(state, state.rate, frames, at_us, sure=False)


def _counted(state: Follower, piece: int, at_us: int) -> Fraction | None:
    """The frame that a piece inside a set stands for: counted from the set before it.

    Where pieces are lost while code runs, the place nearest to where it would be by now: a piece says
    where in two frames it is.
    """
    if state.base is not None:
        return state.base + Fraction(piece, 4)
    if state.rate is None or state.run.began is None:
        return None
    place, heard_us = state.run.anchor
    expected = (place + at_us - heard_us) * state.rate.frames_per_second / 1_000_000
    whole_sets = round((expected - state.first - Fraction(piece, 4)) / 2)
    return state.first + 2 * whole_sets + Fraction(piece, 4)


def _whole(state: Follower, at_us: int) -> tuple[Follower, tuple[Followed, ...]]:
    """A whole set: the time is that of the frame at which its first piece came (p. 2)."""
    low, pairs = state.nibbles, range(0, PIECES, 2)
    frames, seconds, minutes, hours = (low[n] | low[n + 1] << 4 for n in pairs)
    code = TimeCode(hours & 0x1F, minutes & 0x3F, seconds & 0x3F, frames & 0x1F)
    rate = _RATES[hours >> 5 & 3]
    if not label_exists(code, rate):
        return replace(state, base=None), ()
    state, said = _at_rate(replace(state, label=code), rate)
    first = frame_index(code, rate)
    state = replace(state, base=first + 2, first=first)
    begin = (_us(Fraction(first), rate), state.first_us)
    state, heard = _heard(state, rate, first + Fraction(PIECES - 1, 4), at_us, begin)
    return state, said + heard


def _us(frames: Fraction, rate: Rate) -> Fraction:
    return frames * 1_000_000 / rate.frames_per_second


def _heard(
    state: Follower,
    rate: Rate,
    frames: Fraction,
    at_us: int,
    begin: tuple[Fraction, int] | None = None,
    sure: bool = True,
) -> tuple[Follower, tuple[Followed, ...]]:
    run, events = hear(state.run, _us(frames, rate), at_us, Fraction(1), begin, sure)
    return replace(state, run=run), _said(state, events)
