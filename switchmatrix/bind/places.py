"""Places in a song, its tempo and its meter."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from switchmatrix.bind.fields import Fields, scalars
from switchmatrix.controls import times
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.midi.timecode import RATES, Rate, TimeCode, label_exists, seconds
from switchmatrix.model.song import BarPlace, ClockPlace, MeterMark, Place, TempoMark
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Broken, Mapping, Node, Scalar, Sequence

_Mark = TypeVar("_Mark", TempoMark, MeterMark)
_BAR = re.compile(r"bar ([0-9]{1,5})(?: beat ([0-9]{1,3}))?")
_CLOCK = re.compile(r"([0-9]{1,3}):([0-5][0-9](?:\.[0-9]{1,6})?)")
_CODE = re.compile(r"([0-9]{1,2}):([0-9]{2}):([0-9]{2})[:;]([0-9]{2})")
_BARE = re.compile(r"(?:[Bb][Aa][Rr][Ss]?)? ?([0-9]{1,5})(?:\.([0-9]))?")
_WRITE = "write `bar 17`, `bar 17 beat 3`, minutes:seconds, or hours:minutes:seconds:frames"
SLOWEST_BPM, FASTEST_BPM = Fraction(4), Fraction(1000)
"""Quarter notes a minute: a MIDI file holds at most 16,777,215 µs a quarter (RP-001 p. 9)."""


@dataclass(frozen=True, slots=True)
class Clock:
    """Where bar 1 stands in time code, if the song says so, and the song's meters.

    `broken` where it says so wrongly, which has been said; `meters` is None where they are wrong.
    """

    start: Fraction | None
    rate: Rate | None
    meters: tuple[MeterMark, ...] | None
    broken: bool = False


def bad(span: Span, message: str, help: str = _WRITE) -> Diagnostic:
    """A place that is none."""
    return names.BAD_PLACE.at(span, message, help)


def place(scalar: Scalar, clock: Clock, found: list[Diagnostic]) -> Place | None:
    """The place that the text says."""
    if (bar := _BAR.fullmatch(scalar.text)) is not None:
        return _bar_place(scalar, int(bar[1]), int(bar[2] or 1), clock.meters, found)
    if (minutes := _CLOCK.fullmatch(scalar.text)) is not None:
        return ClockPlace(int(minutes[1]) * 60 + Fraction(minutes[2]), scalar.text, scalar.span)
    if (code := _CODE.fullmatch(scalar.text)) is not None:
        return _code_place(scalar, TimeCode(*map(int, code.groups())), clock, found)
    bare = _BARE.fullmatch(scalar.text)
    help = _WRITE
    if bare is not None:
        help = f"write `bar {bare[1]} beat {bare[2]}`" if bare[2] else f"write `bar {bare[1]}`"
    found.append(bad(scalar.span, f"`{scalar.text}` is no place in a song", help))
    return None


def _bar_place(
    scalar: Scalar, bar: int, beat: int, meters: tuple[MeterMark, ...] | None, found: list[Diagnostic]
) -> BarPlace | None:
    in_force = [m for m in meters or () if m.at.bar <= bar]
    beats = beat if meters is None else in_force[-1].beats if in_force else 4
    if bar < 1 or beat < 1 or beat > beats:
        message = f"there is no `{scalar.text}`: bars and beats count from 1"
        help = "write `bar 1` for the song's beginning"
        if bar >= 1 and beat > beats:
            message = f"`{scalar.text}` is past the bar's end: it has {beats} beats"
            help = f"write beat 1 to {beats}, or the next bar"
        found.append(bad(scalar.span, message, help))
        return None
    return BarPlace(bar, beat, scalar.text, scalar.span)


def _code_place(scalar: Scalar, code: TimeCode, clock: Clock, found: list[Diagnostic]) -> ClockPlace | None:
    if clock.broken:
        return None
    if clock.start is None or clock.rate is None:
        message = f"`{scalar.text}` is time code, and the song does not say where bar 1 stands in it"
        found.append(bad(scalar.span, message, "give the song its `start` and `rate`"))
        return None
    at = _seconds(scalar, code, clock.rate, found)
    if at is None:
        return None
    if at < clock.start:
        found.append(
            bad(scalar.span, f"`{scalar.text}` is before the song's start", "mend it, or the `start`")
        )
        return None
    return ClockPlace(at - clock.start, scalar.text, scalar.span)


def _seconds(scalar: Scalar, code: TimeCode, rate: Rate, found: list[Diagnostic]) -> Fraction | None:
    if label_exists(code, rate):
        return seconds(code, rate)
    why = "drop-frame leaves it out" if rate.drop and code.frames < 2 else "no clock counts it"
    message = f"there is no `{scalar.text}` at {rate.label} frames: {why}"
    found.append(bad(scalar.span, message, "write a label that the code counts"))
    return None


def clock_of(fields: Fields, meters: tuple[MeterMark, ...] | None, found: list[Diagnostic]) -> Clock:
    """The song's `start` and `rate`."""
    if fields.broken("start") or fields.broken("rate"):
        return Clock(None, None, meters, broken=True)
    scalar, rate_text = fields.scalar("start"), fields.text("rate")
    rate = RATES.get(rate_text) if rate_text is not None else None
    if scalar is None:
        return Clock(None, rate, meters)
    code = _CODE.fullmatch(scalar.text)
    if code is None or rate is None:
        message = f"`{scalar.text}` is no start in time code" if code is None else "`start` needs a `rate`"
        help = "write `start: 1:00:00:00` and `rate: 25` (24, 25, 30 drop or 30)"
        found.append(bad(scalar.span, message, help))
        return Clock(None, rate, meters, broken=True)
    start = _seconds(scalar, TimeCode(*map(int, code.groups())), rate, found)
    return Clock(start, rate, meters, broken=start is None)


def places(node: Node | None, clock: Clock, found: list[Diagnostic]) -> tuple[Place, ...]:
    """One place, or a list of them."""
    read = [place(scalar, clock, found) for scalar in scalars(node)]
    return tuple(p for p in read if p is not None)


def meters(fields: Fields, found: list[Diagnostic]) -> tuple[MeterMark, ...] | None:
    """The song's meters from bar 1 on; 4/4 where it says none, None where it says them wrongly."""
    node = fields.node.get("meter")
    if isinstance(node, Broken):
        return None
    if isinstance(node, Sequence):
        marks = [_meter_mark(item, found) for item in node.items]
        return _from_bar_1("meter", tuple(m for m in marks if m is not None), node, found) or None
    span = node.span if node is not None else fields.span
    text = node if isinstance(node, Scalar) else Scalar("4/4", span)
    meter = _meter(text, found)
    return (MeterMark(BarPlace(1, 1, "bar 1", span), *meter, span),) if meter is not None else None


def _meter(scalar: Scalar, found: list[Diagnostic]) -> tuple[int, int] | None:
    beats, _, unit = scalar.text.partition("/")
    if 1 <= len(beats) <= 2 and 1 <= int(beats) <= 64 and unit in ("1", "2", "4", "8", "16", "32"):
        return int(beats), int(unit)
    found.append(
        names.TEMPO_UNSOUND.at(scalar.span, f"`{scalar.text}` is no meter", "write it like `4/4` or `6/8`")
    )
    return None


def _meter_mark(item: Node, found: list[Diagnostic]) -> MeterMark | None:
    if not isinstance(item, Mapping):
        return None
    fields = Fields(item, found)
    scalar, text = fields.scalar("at"), fields.scalar("meter")
    meter = _meter(text, found) if text is not None else None
    at = _mark_place(scalar, (), found)
    if at is not None and at.beat != 1:
        found.append(bad(at.span, "a meter changes at the beginning of a bar", f"write `bar {at.bar}`"))
        return None
    return None if at is None or meter is None else MeterMark(at, *meter, item.span)


def _mark_place(
    scalar: Scalar | None, in_force: tuple[MeterMark, ...] | None, found: list[Diagnostic]
) -> BarPlace | None:
    """Tempo and meter change at bars."""
    at = place(scalar, Clock(None, None, in_force), found) if scalar is not None else None
    if isinstance(at, ClockPlace):
        found.append(
            bad(at.span, f"`{at.text}` is no bar: tempo and meter change at bars and beats", "write `bar 17`")
        )
        return None
    return at


def tempos(
    fields: Fields, in_force: tuple[MeterMark, ...] | None, found: list[Diagnostic]
) -> tuple[TempoMark, ...]:
    """The song's tempos from bar 1 on; none where it says none."""
    node = fields.node.get("tempo")
    if isinstance(node, Scalar):
        bpm = bpm_of(node, Fraction(1), found)
        at = BarPlace(1, 1, "bar 1", node.span)
        return () if bpm is None else (TempoMark(at, bpm, Fraction(1), node.span),)
    if not isinstance(node, Sequence):
        return ()
    marks = [_tempo_mark(item, in_force, found) for item in node.items]
    return _from_bar_1("tempo", tuple(m for m in marks if m is not None), node, found)


def bpm_of(scalar: Scalar, beat: Fraction, found: list[Diagnostic]) -> Fraction | None:
    """Beats a minute, where a beat is `beat` quarter notes."""
    bpm = Fraction(scalar.text)
    if SLOWEST_BPM <= bpm * beat <= FASTEST_BPM:
        return bpm
    message = f"{scalar.text} is no tempo: it goes from {SLOWEST_BPM} to {FASTEST_BPM} quarter notes a minute"
    found.append(names.TEMPO_UNSOUND.at(scalar.span, message, "write beats a minute"))
    return None


def _tempo_mark(
    item: Node, in_force: tuple[MeterMark, ...] | None, found: list[Diagnostic]
) -> TempoMark | None:
    if not isinstance(item, Mapping):
        return None
    fields = Fields(item, found)
    at = _mark_place(fields.scalar("at"), in_force, found)
    text = fields.scalar("beat")
    beat = times.note_value(text.text) if text is not None else times.note_value("1/4")
    if beat is None and text is not None:
        found.append(
            names.TEMPO_UNSOUND.at(
                text.span, f"`{text.text}` is no beat", "write it like `1/4` or `1/4 dotted`"
            )
        )
    scalar = fields.scalar("bpm")
    bpm = bpm_of(scalar, beat.quarters, found) if scalar is not None and beat is not None else None
    if at is None or beat is None or bpm is None:
        return None
    return TempoMark(at, bpm, beat.quarters, item.span)


def _from_bar_1(
    key: str, marks: tuple[_Mark, ...], node: Sequence, found: list[Diagnostic]
) -> tuple[_Mark, ...]:
    """The marks, which must begin at bar 1 and go forward."""
    if any(isinstance(item, Broken) for item in node.items) or len(marks) != len(node.items):
        return ()
    spots = [(m.at.bar, m.at.beat) for m in marks]
    if not spots or spots[0] != (1, 1):
        span = marks[0].at.span if marks else node.span
        found.append(
            names.TEMPO_UNSOUND.at(
                span, f"the {key} list does not begin at bar 1", "say what holds from bar 1 on"
            )
        )
        return ()
    for before, mark in zip(spots, marks[1:], strict=False):
        if (mark.at.bar, mark.at.beat) <= before:
            message = f"`{mark.at.text}` comes after a later place"
            found.append(names.TEMPO_UNSOUND.at(mark.at.span, message, "put the list in order"))
            return ()
    return marks
