"""What a person says of a control: a word, a quantity, a note value."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

MINUS_INFINITY = float("-inf")
"""The number of a level that is fully down, in dB."""

UNITS = ("%", "dB", "Hz", "semitones", "cents", "ms", "bpm", "")
"""A level's units; the empty one is a plain number."""


@dataclass(frozen=True, slots=True)
class Word:
    """`on`, `off`, a choice's value, or a trigger's `now`."""

    text: str

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit: milliseconds for any time, Hz for any rate."""

    number: Fraction | float
    unit: str

    def __str__(self) -> str:
        number = "-inf" if self.number == MINUS_INFINITY else decimal(Fraction(self.number))
        return f"{number} {self.unit}".rstrip()


@dataclass(frozen=True, slots=True)
class NoteValue:
    """A length in quarter notes, to be worked out from the tempo: `1/8 dotted`."""

    quarters: Fraction
    text: str

    def __str__(self) -> str:
        return self.text


Value = Word | Quantity | NoteValue


def decimal(number: Fraction) -> str:
    """The number with at most three decimals, halves away from zero, no trailing zeros."""
    top, bottom = abs(number.numerator), number.denominator
    whole, rest = divmod((2000 * top + bottom) // (2 * bottom), 1000)
    text = f"{whole}.{rest:03d}".rstrip("0").rstrip(".")
    return f"-{text}" if number < 0 and text != "0" else text


@dataclass(frozen=True, slots=True)
class Misread:
    """Why a text or value means nothing to a control, and what to write instead."""

    message: str
    help: str
    out_of_range: bool = False
