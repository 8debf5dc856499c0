"""Numbers to codes and back along straight pieces, in exact arithmetic, halves up."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise

from switchmatrix.definition.controls import Linear
from switchmatrix.definition.values import MINUS_INFINITY, UNITS, Misread, Quantity

_DASHES = str.maketrans("\u2212\u2013\u2010\u2011", "----")
"""Dashes that phones and word processors put for a minus."""

_GIVEN = re.compile(r"[+-]?[0-9]{1,9}(?:\.[0-9]{1,9})?(?![0-9,])")
_QUANTITY = re.compile(r"([+-]?[0-9]{1,9}(?:\.[0-9]{1,9})?|-inf) ?([^\d\s].*)?")


def parse(text: str) -> Quantity | None:
    """A number with its unit, as written; None where it is none."""
    match = _QUANTITY.fullmatch(text)
    if match is None or (match[2] or "") not in (*UNITS, "s"):
        return None
    number = MINUS_INFINITY if match[1] == "-inf" else Fraction(match[1])
    return Quantity(number, match[2] or "")


def read(scale: Linear, text: str) -> Quantity | Misread:
    """The quantity, if it carries the control's unit."""
    asked = parse(text)
    if asked is None:
        given = _GIVEN.match(text.translate(_DASHES))
        example = _example(scale, Fraction(given[0]) if given is not None else None)
        pointed = parse(text.replace(",", ".").translate(_DASHES))
        if pointed is not None and pointed.unit == scale.unit:
            example = f"`{pointed}`"
        what = f"number in {scale.unit}" if scale.unit else "number"
        return Misread(f"`{text}` is no {what}", f"write one such as {example}")
    if asked.unit != scale.unit:
        said = f"is in {asked.unit}" if asked.unit else "has no unit"
        wanted = f"in {scale.unit}" if scale.unit else "as a plain number"
        example = _example(scale, asked.number)
        return Misread(f"`{text}` {said}; this control is set {wanted}", f"write it like {example}")
    return asked


def _example(scale: Linear, number: Fraction | float | None) -> str:
    """The person's own number in the control's unit, where it is in range; else the range."""
    numbers = [at for _, at in scale.points]
    if number is not None and min(numbers) <= number <= max(numbers):
        return f"`{Quantity(number, scale.unit)}`"
    return f"`{Quantity(min(numbers), scale.unit)}` (it goes to `{Quantity(max(numbers), scale.unit)}`)"


def outside(scale: Linear, asked: Quantity) -> Misread | None:
    """Why the quantity cannot be held at all, if so."""
    numbers = [number for _, number in scale.points]
    low, high = min(numbers), max(numbers)
    if asked.number == MINUS_INFINITY:
        if scale.bottom is not None:
            return None
        lowest = Quantity(low, scale.unit)
        return Misread("this control has no `-inf dB`", f"its lowest is `{lowest}`", out_of_range=True)
    if low <= asked.number <= high:
        return None
    reach = f"`{Quantity(low, scale.unit)}` to `{Quantity(high, scale.unit)}`"
    return Misread(f"`{asked}` is out of range", f"it goes from {reach}", out_of_range=True)


def encode(scale: Linear, asked: Quantity) -> int:
    """The nearest code; ValueError for a quantity that `outside` refuses."""
    if asked.number == MINUS_INFINITY and scale.bottom is not None:
        return scale.bottom
    for (low, at_low), (high, at_high) in pairwise(scale.points):
        if min(at_low, at_high) <= asked.number <= max(at_low, at_high):
            part = (Fraction(asked.number) - at_low) / (at_high - at_low)
            return (low + part * (high - low) + Fraction(1, 2)).__floor__()
    raise ValueError(f"{asked} is outside the range")


def decode(scale: Linear, code: int) -> Quantity | None:
    """What the device does with `code`; None for a code outside the scale."""
    if code == scale.bottom:
        return Quantity(MINUS_INFINITY, scale.unit)
    for (low, at_low), (high, at_high) in pairwise(scale.points):
        if low <= code <= high:
            return Quantity(at_low + Fraction(code - low, high - low) * (at_high - at_low), scale.unit)
    return None
