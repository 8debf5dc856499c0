"""What a person reads where a control cannot take what he wrote, and what an encoder refuses."""

from __future__ import annotations

from fractions import Fraction

import pytest

from switchmatrix.controls import decode, encode, outside, program, read, sysex
from switchmatrix.definition.carriers import Slot, SysexCarrier
from switchmatrix.definition.controls import Control
from switchmatrix.definition.programs import BankSelect
from switchmatrix.definition.values import MINUS_INFINITY, Misread, NoteValue, Quantity, Word
from switchmatrix.midi.messages import SystemExclusive
from switchmatrix.midi.messages import encode as encoded
from switchmatrix.midi.numbers import WireBank, WireChannel
from tests.controls.making import choice, level, time

PERCENT = level((0, "0"), (127, "100"), unit="%")
FADER = level((1, "-60"), (127, "12"), unit="dB", bottom=0)
TRIM = level((0, "-60"), (127, "12"), unit="dB")
GAIN = level((0, "0"), (127, "10"))
ECHO = time((0, "0"), (127, "1270"))
SWIRL = time((0, "0.05"), (127, "6.4"), unit="Hz")
MODE = choice(tape=(0, 42, 21), clean=(43, 84, 64), grain=(85, 127, 127))

WRITE_A_TIME = "write it like `480 ms`, `1.5 s`, `2 Hz`, `1/8`, `1/8 dotted` or `1/8 triplet`"
WHOLE = "`0 %` (it goes to `100 %`)"


@pytest.mark.parametrize(
    ("it", "text", "message", "help"),
    [
        (PERCENT, "loud", "`loud` is no number in %", f"write one such as {WHOLE}"),
        (PERCENT, "40 percent", "`40 percent` is no number in %", "write one such as `40 %`"),
        (PERCENT, "400 percent", "`400 percent` is no number in %", f"write one such as {WHOLE}"),
        (PERCENT, "12,5 %", "`12,5 %` is no number in %", "write one such as `12.5 %`"),
        (PERCENT, "12,5", "`12,5` is no number in %", f"write one such as {WHOLE}"),
        (FADER, "\u22126 dB", "`\u22126 dB` is no number in dB", "write one such as `-6 dB`"),
        (FADER, "\u22126 decibels", "`\u22126 decibels` is no number in dB", "write one such as `-6 dB`"),
        (GAIN, "loud", "`loud` is no number", "write one such as `0` (it goes to `10`)"),
        (PERCENT, "40", "`40` has no unit; this control is set in %", "write it like `40 %`"),
        (PERCENT, "0", "`0` has no unit; this control is set in %", "write it like `0 %`"),
        (PERCENT, "100", "`100` has no unit; this control is set in %", "write it like `100 %`"),
        (PERCENT, "200", "`200` has no unit; this control is set in %", f"write it like {WHOLE}"),
        (PERCENT, "40 dB", "`40 dB` is in dB; this control is set in %", "write it like `40 %`"),
        (GAIN, "3 %", "`3 %` is in %; this control is set as a plain number", "write it like `3`"),
        (ECHO, "soon", "`soon` is no time", WRITE_A_TIME),
        (ECHO, "0/8", "`0/8` is no time", WRITE_A_TIME),
        (ECHO, "-5 ms", "`-5 ms` is no time", WRITE_A_TIME),
        (ECHO, "0 Hz", "`0 Hz` is no time", WRITE_A_TIME),
        (MODE, "Tape", "`Tape` is no value here", "did you mean `tape`?"),
        (MODE, "flange", "`flange` is no value here", "known here as values: `clean`, `grain`, `tape`"),
    ],
)
def test_text_that_means_nothing_is_answered_with_what_to_write(
    it: Control, text: str, message: str, help: str
) -> None:
    assert read(it, text) == Misread(message, help)


@pytest.mark.parametrize(
    ("it", "text", "message", "help"),
    [
        (PERCENT, "101 %", "`101 %` is out of range", "it goes from `0 %` to `100 %`"),
        (FADER, "-61 dB", "`-61 dB` is out of range", "it goes from `-60 dB` to `12 dB`"),
        (TRIM, "-inf dB", "this control has no `-inf dB`", "its lowest is `-60 dB`"),
        (ECHO, "2 s", "`2000 ms` is out of range", "it goes from `0 ms` to `1270 ms`"),
        (ECHO, "0.5 Hz", "`0.5 Hz` (2000 ms) is out of range", "it goes from `0 ms` to `1270 ms`"),
        (SWIRL, "0 ms", "`0 ms` is no rate", "write a time longer than 0 ms"),
        (SWIRL, "100 ms", "`100 ms` (10 Hz) is out of range", "it goes from `0.05 Hz` to `6.4 Hz`"),
    ],
)
def test_value_past_the_ends_is_answered_with_the_ends(
    it: Control, text: str, message: str, help: str
) -> None:
    assert read(it, text) == Misread(message, help, out_of_range=True)


def test_word_that_the_control_has_is_not_outside() -> None:
    assert outside(MODE, Word("tape")) is None


def test_word_that_the_control_has_not_got_is_outside() -> None:
    known = "known here as values: `clean`, `grain`, `tape`"
    assert outside(MODE, Word("flange")) == Misread("`flange` is no value here", known)


@pytest.mark.parametrize("value", [Word("tape"), NoteValue(Fraction(1), "1/4")])
def test_what_is_no_quantity_is_no_value_of_a_level(value: Word | NoteValue) -> None:
    refused = Misread(f"`{value}` is no value here", "write a number with its unit")
    assert outside(PERCENT, value) == refused


def test_quantity_in_another_unit_is_outside() -> None:
    refused = Misread("`3 dB` is in dB", "this control is set in %")
    assert outside(PERCENT, Quantity(Fraction(3), "dB")) == refused


def test_plain_number_is_outside_where_a_unit_is_wanted() -> None:
    refused = Misread("`3` is in no unit", "this control is set in %")
    assert outside(PERCENT, Quantity(Fraction(3), "")) == refused


def test_bottom_of_a_fader_means_minus_infinity_in_its_unit() -> None:
    assert decode(FADER, 0) == Quantity(MINUS_INFINITY, "dB")


def test_number_past_the_ends_has_no_code() -> None:
    with pytest.raises(ValueError, match=r"^200 % is outside the range$"):
        encode(PERCENT, Quantity(Fraction(200), "%"))


def test_note_value_has_no_code_before_its_tempo() -> None:
    with pytest.raises(ValueError, match=r"^1/4 has no code$"):
        encode(ECHO, NoteValue(Fraction(1), "1/4"))


# MIDI 1.0 Detailed Specification 4.2.1, p. 13: a bank select controller alone has 128 values.
@pytest.mark.parametrize("scheme", [BankSelect.MSB, BankSelect.LSB])
def test_bank_that_one_controller_cannot_say_is_refused(scheme: BankSelect) -> None:
    (select,) = program.bank_select(WireBank(128), scheme, WireChannel(0))
    with pytest.raises(ValueError, match=r"^a data byte of .* is not 0-127$"):
        encoded(select)


def test_template_with_the_devices_id_needs_one() -> None:
    carrier = SysexCarrier((0x7D, Slot.ID, Slot.VALUE), False, None)
    with pytest.raises(ValueError, match=r"^the template has the device's id, and the device has none$"):
        sysex.messages(carrier, 5, None)


# By hand: 0x7D is not summed, nor is 0x11 after the value; 128 - 5 = 0x7B.
def test_checksum_is_of_its_bounds_alone() -> None:
    carrier = SysexCarrier((0x7D, Slot.VALUE, 0x11, Slot.CHECKSUM), False, (1, 1))
    assert sysex.messages(carrier, 5, None) == (SystemExclusive((0x7D, 0x05, 0x11, 0x7B)),)
