"""Values that fall midway between two codes, worked out by hand: halves up."""

from __future__ import annotations

from fractions import Fraction

import pytest

from switchmatrix.controls import decode, encode, read
from switchmatrix.definition.controls import Control
from switchmatrix.definition.values import Misread, Quantity
from tests.controls.making import level, time

PERCENT = level((0, "0"), (127, "100"), unit="%")
HUNDRED = level((0, "0"), (100, "100"), unit="%")
BACKWARDS = level((0, "100"), (100, "0"), unit="%")
PAN = level((0, "-100"), (64, "0"), (127, "100"), unit="%")
FADER = level((1, "-60"), (60, "-20"), (100, "0"), (127, "12"), unit="dB", bottom=0)
ECHO = time((0, "0"), (127, "1270"))
SWIRL = time((0, "0.05"), (127, "6.4"), unit="Hz")


@pytest.mark.parametrize(
    ("it", "text", "code"),
    [
        (PERCENT, "50 %", 64),  # 50 * 1.27 = 63.5
        (PERCENT, "49.999 %", 63),  # 63.49873
        (HUNDRED, "0.5 %", 1),
        (HUNDRED, "0.499999999 %", 0),
        (HUNDRED, "35 %", 35),  # 35 % of codes 0-100 = 23h
        (BACKWARDS, "99.5 %", 1),  # midway between code 0 (100 %) and code 1 (99 %)
        (BACKWARDS, "99.6 %", 0),
        (PAN, "0 %", 64),
        (PAN, "-0.78125 %", 64),  # half of a step of 100/64 below the centre: 63.5
        (PAN, "-0.79 %", 63),
        (PAN, "0.79 %", 64),  # a step above the centre is 100/63 = 1.587
        (PAN, "0.8 %", 65),
        (PAN, "-100 %", 0),
        (PAN, "100 %", 127),
        (FADER, "-inf dB", 0),
        (FADER, "-60 dB", 1),
        (FADER, "0.25 dB", 101),  # 100 + 0.25 * 27 / 12 = 100.5625
        (FADER, "0.2 dB", 100),  # 100.45
        (FADER, "-0.25 dB", 100),  # 99.5, two codes a dB below 0 dB
        (FADER, "-0.26 dB", 99),
        (ECHO, "5 ms", 1),
        (ECHO, "4.999 ms", 0),
        (ECHO, "0.375 s", 38),  # 37.5
        (ECHO, "2 Hz", 50),  # 500 ms
        (SWIRL, "0.075 Hz", 1),  # midway between 0.05 and 0.1 Hz
        (SWIRL, "300 ms", 66),  # 3.333 Hz: 65.67 steps of 0.05 Hz above 0.05
        (SWIRL, "2 s", 9),  # 0.5 Hz
    ],
)
def test_value_becomes_the_nearest_code_halves_up(it: Control, text: str, code: int) -> None:
    value = read(it, text)
    assert not isinstance(value, Misread)
    assert encode(it, value) == code


@pytest.mark.parametrize(
    ("it", "code", "means"),
    [
        (PERCENT, 64, Quantity(Fraction(6400, 127), "%")),
        (PAN, 63, Quantity(Fraction(-25, 16), "%")),
        (PAN, 65, Quantity(Fraction(100, 63), "%")),
        (FADER, 127, Quantity(Fraction(12), "dB")),
        (FADER, 80, Quantity(Fraction(-10), "dB")),
        (ECHO, 47, Quantity(Fraction(470), "ms")),
        (SWIRL, 23, Quantity(Fraction(6, 5), "Hz")),
        (HUNDRED, 101, None),
    ],
)
def test_code_means_its_exact_number(it: Control, code: int, means: Quantity | None) -> None:
    assert decode(it, code) == means


def test_no_float_takes_part_in_a_thousand_small_steps() -> None:
    # 0.1 has no exact float: a sum of tenths in floats drifts off the tie at 0.5.
    fine = level((0, "0"), (100, "10"))
    asked = [f"{n // 100}.{n % 100:02d}" for n in range(1001)]
    read_all = [read(fine, text) for text in asked]
    assert [encode(fine, value) for value in read_all if not isinstance(value, Misread)] == [
        (n + 5) // 10 for n in range(1001)
    ]
