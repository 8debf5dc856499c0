"""Time code and clock made from their standards, and a follower that listens to them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from switchmatrix.live.stepping.clock import ClockFollower, clock_due_us, follow_clock, pass_by_clock
from switchmatrix.live.stepping.mtc import Followed, Follower, due_us, follow, pass_by
from switchmatrix.midi.timecode import RATES, Rate, TimeCode, frame_index, label_exists
from switchmatrix.simulate.stream import heard

Message = tuple[int, bytes]
"""A moment in microseconds, and what comes then."""

NUMBERS = {label: n for n, label in enumerate(RATES)}
"""A rate's number in the code (MMA RP-004/RP-008, p. 2)."""


def label_at(index: int, rate: Rate) -> TimeCode:
    """The label of a frame, found from the labels before and after it."""
    seconds, frames = divmod(index, rate.labels)
    label = TimeCode(seconds // 3600, seconds // 60 % 60, seconds % 60, frames)
    while not label_exists(label, rate) or frame_index(label, rate) != index:
        frames = label.frames + 1
        carry, frames = divmod(frames, rate.labels)
        total = label.hours * 3600 + label.minutes * 60 + label.seconds + carry
        label = TimeCode(total // 3600, total // 60 % 60, total % 60, frames)
    return label


def pieces(label: TimeCode, rate: Rate) -> list[bytes]:
    """The eight quarter frames of a time (MMA RP-004/RP-008, p. 2)."""
    hours = label.hours | NUMBERS[rate.label] << 5
    nibbles = [
        nibble
        for value in (label.frames, label.seconds, label.minutes, hours)
        for nibble in (value & 0x0F, value >> 4)
    ]
    return [bytes([0xF1, piece << 4 | nibble]) for piece, nibble in enumerate(nibbles)]


def full(label: TimeCode, rate: Rate) -> bytes:
    """A full message to all devices (MMA RP-004/RP-008, p. 3)."""
    hours = label.hours | NUMBERS[rate.label] << 5
    return bytes([0xF0, 0x7F, 0x7F, 1, 1, hours, label.minutes, label.seconds, label.frames, 0xF7])


def quarter_frames(
    rate: Rate, start: int, seconds: float, at_us: int = 0, speed: float = 1.0
) -> list[Message]:
    """Code that runs forward from a frame (an even one) on; `speed` other than 1 is a scrub."""
    count = int(seconds * speed * float(rate.frames_per_second) * 4)
    quarter = 1_000_000 / (rate.frames_per_second * 4 * Fraction(speed))
    every = [piece for n in range(count // 8 + 1) for piece in pieces(label_at(start + 2 * n, rate), rate)]
    return [(at_us + round(n * quarter), data) for n, data in enumerate(every[:count])]


def listen(
    state: Follower, messages: Iterable[Message], until_us: int | None = None
) -> tuple[Follower, list[tuple[int, Followed]]]:
    """What comes of the messages, each with its moment; time passes between them as on a real clock."""
    out: list[tuple[int, Followed]] = []
    for moment, data in [*messages, *([(until_us, b"")] if until_us is not None else [])]:
        while (due := due_us(state)) is not None and due <= moment:
            state, events = pass_by(state, due)
            out += [(due, event) for event in events]
            if due_us(state) == due:
                break
        for event in heard(data):
            state, events = follow(state, event, moment)
            out += [(moment, one) for one in events]
    return state, out


def clocks(bpm: float, count: int, at_us: int = 0) -> list[Message]:
    """MIDI clock, 24 a quarter note (MIDI 1.0 Detailed Specification 4.2.1, p. 30)."""
    return [(at_us + round(n * 60_000_000 / (24 * bpm)), b"\xf8") for n in range(count)]


def listen_to_clock(
    state: ClockFollower, messages: Iterable[Message], until_us: int | None = None
) -> tuple[ClockFollower, list[tuple[int, Followed]]]:
    """The same for a clock."""
    out: list[tuple[int, Followed]] = []
    for moment, data in [*messages, *([(until_us, b"")] if until_us is not None else [])]:
        while (due := clock_due_us(state)) is not None and due <= moment:
            state, events = pass_by_clock(state, due)
            out += [(due, event) for event in events]
            if clock_due_us(state) == due:
                break
        for event in heard(data):
            state, events = follow_clock(state, event, moment)
            out += [(moment, one) for one in events]
    return state, out


def at(messages: Iterable[Message], move_us: int) -> Iterator[Message]:
    """The messages at other moments."""
    return ((moment + move_us, data) for moment, data in messages)
