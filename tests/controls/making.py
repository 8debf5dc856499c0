"""Controls for tests, and what their codes mean, worked out again."""

from __future__ import annotations

from fractions import Fraction

from switchmatrix.definition.carriers import CcCarrier
from switchmatrix.definition.controls import CHOICE, LEVEL, TIME, Codes, Control, Linear, Named, Scale
from switchmatrix.source import Span

Points = tuple[tuple[int, Fraction], ...]


def control(kind: str, scale: Scale) -> Control:
    """A control on CC 20 with nothing special about it."""
    span = Span("definitions/box.yaml", 1, 1, 1, 1)
    return Control("it", kind, scale, CcCarrier(20), False, False, Fraction(2, 100), None, None, span)


def level(*points: tuple[int, str], unit: str = "", bottom: int | None = None) -> Control:
    """A level by its (code, number) points."""
    return control(LEVEL, Linear(tuple((code, Fraction(n)) for code, n in points), unit, bottom))


def time(*points: tuple[int, str], unit: str = "ms") -> Control:
    """A time by its (code, number) points."""
    return control(TIME, Linear(tuple((code, Fraction(n)) for code, n in points), unit))


def choice(**words: tuple[int, int, int]) -> Control:
    """A choice by the lowest, the highest and the sent code of each word."""
    return control(CHOICE, Named(tuple((word, Codes(*codes)) for word, codes in words.items())))


def meanings(points: Points) -> dict[int, Fraction]:
    """The number of every code: from each point to the next in equal steps."""
    out = {points[0][0]: points[0][1]}
    for n in range(1, len(points)):
        (start, first), (stop, last) = points[n - 1], points[n]
        step = (last - first) / (stop - start)
        out |= {start + k: first + k * step for k in range(stop - start + 1)}
    return out


def nearest(numbers: dict[int, Fraction], asked: Fraction) -> int:
    """The code whose number is nearest; of two that are as near, the higher."""
    return min(numbers, key=lambda code: (abs(numbers[code] - asked), -code))
