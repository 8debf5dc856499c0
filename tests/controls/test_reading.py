"""What a text says to a control."""

from __future__ import annotations

from fractions import Fraction

import pytest

from switchmatrix.controls import at_tempo, outside, read
from switchmatrix.definition.controls import SWITCH, Codes, Control, Named
from switchmatrix.definition.values import MINUS_INFINITY, Misread, NoteValue, Quantity, Value, Word
from tests.controls.making import choice, control, level, time

PERCENT = level((0, "0"), (127, "100"), unit="%")
FADER = level((1, "-60"), (127, "12"), unit="dB", bottom=0)
GAIN = level((0, "0"), (127, "10"))
ECHO = time((0, "0"), (127, "1270"))
LONG = time((0, "20"), (127, "2540"))
SWIRL = time((0, "0.05"), (127, "6.4"), unit="Hz")
MODE = choice(tape=(0, 42, 21), clean=(43, 84, 64), grain=(85, 127, 127))
ENGAGE = control(SWITCH, Named((("on", Codes(127, 127, 127)), ("off", Codes(0, 0, 0)))))


@pytest.mark.parametrize(
    ("it", "text", "says"),
    [
        (PERCENT, "40 %", Quantity(Fraction(40), "%")),
        (PERCENT, "40%", Quantity(Fraction(40), "%")),
        (PERCENT, "12.5 %", Quantity(Fraction(25, 2), "%")),
        (FADER, "-6 dB", Quantity(Fraction(-6), "dB")),
        (FADER, "+3 dB", Quantity(Fraction(3), "dB")),
        (FADER, "-inf dB", Quantity(MINUS_INFINITY, "dB")),
        (GAIN, "3.5", Quantity(Fraction(7, 2), "")),
        (ECHO, "480 ms", Quantity(Fraction(480), "ms")),
        (ECHO, "1.2 s", Quantity(Fraction(1200), "ms")),
        (ECHO, "2 Hz", Quantity(Fraction(2), "Hz")),
        (ECHO, "0 ms", Quantity(Fraction(0), "ms")),
        (SWIRL, "0.5 Hz", Quantity(Fraction(1, 2), "Hz")),
        (SWIRL, "2 s", Quantity(Fraction(2000), "ms")),
        (ECHO, "1/8 dotted", NoteValue(Fraction(3, 4), "1/8 dotted")),
        (ECHO, "1/1", NoteValue(Fraction(4), "1/1")),
        (MODE, "clean", Word("clean")),
        (ENGAGE, "on", Word("on")),
    ],
)
def test_text_says_its_value(it: Control, text: str, says: Value) -> None:
    assert read(it, text) == says


@pytest.mark.parametrize(
    ("it", "text"),
    [
        (PERCENT, "101 %"),
        (PERCENT, "-0.001 %"),
        (PERCENT, "-inf %"),
        (FADER, "-61 dB"),
        (FADER, "12.5 dB"),
        (LONG, "19.999 ms"),
        (LONG, "2.6 s"),
        (LONG, "100 Hz"),
        (LONG, "0.1 Hz"),
        (SWIRL, "7 Hz"),
        (SWIRL, "100 ms"),
        (SWIRL, "0 ms"),
    ],
)
def test_value_past_the_ends_is_refused_as_out_of_range(it: Control, text: str) -> None:
    value = read(it, text)
    assert isinstance(value, Misread)
    assert value.out_of_range


@pytest.mark.parametrize(
    ("it", "text"),
    [
        (PERCENT, "40"),
        (PERCENT, "40 dB"),
        (GAIN, "3 %"),
        (PERCENT, "12,5 %"),
        (PERCENT, "1e1 %"),
        (PERCENT, "40 % "),
        (PERCENT, "40  %"),
        (PERCENT, "0x28 %"),
        (PERCENT, "nan %"),
        (PERCENT, "4_0 %"),
        (FADER, "--6 dB"),
        (FADER, "\u22126 dB"),
        (FADER, "on"),
        (ECHO, "-5 ms"),
        (ECHO, "0 Hz"),
        (ECHO, "40 %"),
        (ECHO, "480"),
        (ECHO, "1/8 swung"),
        (ECHO, "-inf ms"),
        (MODE, "Tape"),
        (ENGAGE, "127"),
        (ENGAGE, "yes"),
    ],
)
def test_text_that_is_no_value_of_the_control_is_refused(it: Control, text: str) -> None:
    value = read(it, text)
    assert isinstance(value, Misread)
    assert not value.out_of_range


# A note value is in range or not at its tempo: a half at 60 a minute is 2 s, at 96 it is 1.25 s.
@pytest.mark.parametrize(("quarter_ms", "fits"), [(Fraction(1000), False), (Fraction(625), True)])
def test_note_value_is_judged_at_its_tempo(quarter_ms: Fraction, fits: bool) -> None:
    value = read(ECHO, "1/2")
    assert isinstance(value, NoteValue)
    assert (outside(ECHO, at_tempo(value, quarter_ms)) is None) is fits
