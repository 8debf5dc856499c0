"""Numbers to codes: a straight line, two that meet at a centre, or points."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from switchmatrix.bind.fields import Fields, scalars, whole
from switchmatrix.controls import numbers, times
from switchmatrix.definition.controls import LEVEL, TIME, Linear
from switchmatrix.definition.values import Quantity
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Scalar

Pieces = tuple[tuple[tuple[int, Fraction], ...], str]
"""Points of code and number, and the unit of the numbers."""


def scale_wrong(span: Span, message: str, help: str, found: list[Diagnostic]) -> None:
    """What is wrong with a scale."""
    found.append(names.SCALE_WRONG.at(span, message, help))


def linear(kind: str, key: Scalar, fields: Fields, least: int, most: int) -> Linear | None:
    """A straight line, two that meet at a centre, or points."""
    if any(fields.broken(k) for k in ("range", "codes", "points", "centre", "bottom")):
        return None
    if fields.has("points") == fields.has("range"):
        message = f"`{key.text}` needs a `range` or `points`, one of the two"
        scale_wrong(key.span, message, "write one", fields.found)
        return None
    beside = next((fields.node.key(k) for k in ("codes", "centre") if fields.has(k)), None)
    if beside is not None and fields.has("points"):
        message = f"`{beside.text}` goes with a `range`, and `points` have their own codes"
        scale_wrong(beside.span, message, "take it away", fields.found)
        return None
    bottom = fields.whole("bottom", least, most)
    if bottom is None and fields.has("bottom"):
        return None
    points = _points(fields, least, most) if fields.has("points") else None
    pieces = points if fields.has("points") else _range(kind, fields, least, most, bottom)
    return None if pieces is None else _with_bottom(key, fields, pieces, bottom)


def _with_bottom(key: Scalar, fields: Fields, pieces: Pieces, bottom: int | None) -> Linear | None:
    """The scale, its bottom code outside the range and in dB."""
    points, unit = pieces
    if bottom is not None and unit != "dB":
        message = f"a bottom is `-inf dB`, and `{key.text}` is in {unit or 'no unit'}"
        scale_wrong(key.span, message, "take it away", fields.found)
        return None
    if bottom is not None and points[0][0] <= bottom <= points[-1][0]:
        message = f"the bottom code {bottom} lies among the codes of the range"
        scale_wrong(key.span, message, "leave it out of `codes`", fields.found)
        return None
    return Linear(points, unit, bottom)


def _quantity(kind: str, scalar: Scalar, found: list[Diagnostic]) -> Quantity | None:
    """A bound of a range: times in ms or Hz."""
    parsed = numbers.parse(scalar.text)
    read: object = times.read(scalar.text, parsed) if kind == TIME else parsed
    seconds = kind != TIME and parsed is not None and parsed.unit == "s"
    if isinstance(read, Quantity) and isinstance(read.number, Fraction) and not seconds:
        return read
    help = "write a number with its unit, such as `40 %`"
    if kind == TIME:
        help = "write it like `0 ms` or `2 s`"
    elif seconds:
        help = "a level has no seconds: write it in ms, or make it `kind: time`"
    found.append(names.BAD_VALUE.at(scalar.span, f"`{scalar.text}` is no bound of a range", help))
    return None


def _range(kind: str, fields: Fields, least: int, most: int, bottom: int | None) -> Pieces | None:
    given = fields.scalars("range")
    bounds = [_quantity(kind, scalar, fields.found) for scalar in given]
    if len(bounds) != 2 or bounds[0] is None or bounds[1] is None:
        return None
    low, high = bounds[0], bounds[1]
    if low.unit != high.unit:
        message = f"the range goes from {low.unit or 'no unit'} to {high.unit or 'no unit'}"
        scale_wrong(given[1].span, message, "use one unit", fields.found)
        return None
    if not low.number < high.number:
        message = f"the range goes from {low} to {high}"
        scale_wrong(given[0].span, message, "write the lower end first", fields.found)
        return None
    codes = _code_pair(fields, least, most, bottom)
    if codes is None:
        return None
    ends = sorted(zip(codes, (Fraction(low.number), Fraction(high.number)), strict=True))
    if not fields.has("centre"):
        return tuple(ends), low.unit
    centre = fields.whole("centre", least, most)
    return None if centre is None else _centred(fields, ends, centre, low.unit)


def _centred(fields: Fields, ends: list[tuple[int, Fraction]], centre: int, unit: str) -> Pieces | None:
    """Two lines that meet in 0 at the centre code."""
    (first, at_first), (last, at_last) = ends
    if first < centre < last and min(at_first, at_last) < 0 < max(at_first, at_last):
        return ((first, at_first), (centre, Fraction(0)), (last, at_last)), unit
    scalar = fields.scalar("centre")
    span = scalar.span if scalar is not None else fields.span
    message = f"the centre code {centre} must lie between the codes, and 0 within the range"
    scale_wrong(span, message, "mend one of them", fields.found)
    return None


def _code_pair(fields: Fields, least: int, most: int, bottom: int | None) -> tuple[int, int] | None:
    """The codes of the range's two ends: all that the carrier holds, but the bottom, unless said."""
    given = fields.scalars("codes")
    if not fields.has("codes"):
        return (least + 1 if bottom == least else least), (most - 1 if bottom == most else most)
    codes = [whole(scalar, least, most, "the code", fields.found) for scalar in given]
    if len(codes) != 2 or codes[0] is None or codes[1] is None:
        return None
    if codes[0] == codes[1]:
        scale_wrong(given[0].span, "both ends of the range have one code", "give each its own", fields.found)
        return None
    return codes[0], codes[1]


def _points(fields: Fields, least: int, most: int) -> Pieces | None:
    points: list[tuple[int, Fraction]] = []
    units: set[str] = set()
    sound = True
    for item in fields.items("points"):
        pair = scalars(item)
        if len(pair) != 2:
            sound = False  # a part of it was refused before
        elif not pair[0].text.isdecimal():
            scale_wrong(
                item.span, "a point is a code and a value", "write it like `[64, 0 dB]`", fields.found
            )
            sound = False
        else:
            code = whole(pair[0], least, most, "the code", fields.found)
            value = _quantity(LEVEL, pair[1], fields.found)
            if code is None or value is None:
                sound = False
            else:
                units.add(value.unit)
                points.append((code, Fraction(value.number)))
    return _in_order(fields, points, units) if sound else None


def _in_order(fields: Fields, points: list[tuple[int, Fraction]], units: set[str]) -> Pieces | None:
    """The points, which rise or fall all the way by rising codes."""
    steps = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points)]
    one_way = all(step > 0 for _, step in steps) or all(step < 0 for _, step in steps)
    if len(units) == 1 and one_way and all(code > 0 for code, _ in steps):
        return tuple(points), units.pop()
    node = fields.node.get("points")
    message = "the points do not all rise (or fall) in one unit, by rising codes"
    scale_wrong(node.span if node is not None else fields.span, message, "put them in order", fields.found)
    return None
