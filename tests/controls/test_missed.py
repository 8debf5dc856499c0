"""How far a code misses the value asked: times by a part of the value, levels by a part of the range."""

from __future__ import annotations

from fractions import Fraction

import pytest

from switchmatrix.controls import encode, missed
from switchmatrix.definition.controls import Control
from switchmatrix.definition.values import MINUS_INFINITY, NoteValue, Quantity, Value, Word
from tests.controls.making import choice, level, time

PERCENT = level((0, "0"), (100, "100"), unit="%")
FADER = level((1, "-60"), (100, "0"), (127, "12"), unit="dB", bottom=0)
ECHO = time((0, "0"), (127, "1270"))
SWIRL = time((0, "0.05"), (127, "6.4"), unit="Hz")


@pytest.mark.parametrize(
    ("it", "asked", "part"),
    [
        (PERCENT, Quantity(Fraction(35), "%"), Fraction(0)),
        (PERCENT, Quantity(Fraction("35.4"), "%"), Fraction("0.004")),  # 0.4 of a range of 100
        (FADER, Quantity(Fraction("0.25"), "dB"), Fraction(7, 36 * 72)),  # 101 is 4/9 dB, 7/36 dB off; 72 dB
        (FADER, Quantity(MINUS_INFINITY, "dB"), Fraction(0)),
        (ECHO, Quantity(Fraction("468.75"), "ms"), Fraction("1.25") / Fraction("468.75")),
        (ECHO, Quantity(Fraction(15), "ms"), Fraction(1, 3)),  # 20 ms for 15
        (ECHO, Quantity(Fraction(0), "ms"), Fraction(0)),
        (ECHO, Quantity(Fraction(3), "Hz"), Fraction(1, 100)),  # 333.33 ms become 330
        (SWIRL, Quantity(Fraction("1.22"), "Hz"), Fraction(2, 122)),
        (choice(tape=(0, 42, 21)), Word("tape"), Fraction(0)),
    ],
)
def test_miss_is_a_part_of_the_value_or_of_the_range(it: Control, asked: Value, part: Fraction) -> None:
    assert missed(it, asked, encode(it, asked)) == part


@pytest.mark.parametrize(
    ("it", "asked", "code"),
    [
        (PERCENT, Quantity(Fraction(35), "%"), 101),
        (ECHO, NoteValue(Fraction(1, 2), "1/8"), 20),
        (choice(tape=(0, 42, 21)), Quantity(Fraction(35), "%"), 21),
    ],
)
def test_what_has_no_number_misses_nothing(it: Control, asked: Value, code: int) -> None:
    """A code that means nothing, a length that waits for its tempo, a word: their findings are others'."""
    assert missed(it, asked, code) == 0
