"""A control's scale: from its ranges, codes, points and words."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from switchmatrix.bind.fields import Fields, scalars, whole
from switchmatrix.bind.naming import VALUE_WORDS, name
from switchmatrix.controls import numbers, times
from switchmatrix.definition.controls import CHOICE, SWITCH, TIME, TRIGGER, Codes, Linear, Named, Scale
from switchmatrix.definition.values import Misread, Quantity
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Mapping, Scalar

FIRE = "now"
_CHOICE_REFUSED = VALUE_WORDS - {"on", "off"}


def scale_of(kind: str, key: Scalar, fields: Fields, most: int) -> Scale | None:
    """The scale of a control of `kind` whose carrier holds codes up to `most`."""
    if kind == SWITCH:
        return switch_codes(fields, most)
    if kind == CHOICE:
        return named_scale(fields, "values", most)
    if kind == TRIGGER:
        codes = fields.block("codes")
        code = most if codes is None else codes.whole("fire", 0, most)
        return None if code is None or fields.broken("codes") else Named(((FIRE, Codes(code, code, code)),))
    return _linear(kind, key, fields, most)


def switch_codes(fields: Fields, most: int) -> Named | None:
    """On and off: the largest code of the carrier and 0 unless said."""
    codes = fields.block("codes")
    if codes is None:
        return (
            None
            if fields.broken("codes")
            else Named((("on", Codes(most, most, most)), ("off", Codes(0, 0, 0))))
        )
    on, off = codes.whole("on", 0, most), codes.whole("off", 0, most)
    if on is None or off is None:
        return None
    if on == off:
        _wrong(codes.span, f"on and off have one code, {on}", "give each its own", fields.found)
        return None
    return Named((("on", Codes(on, on, on)), ("off", Codes(off, off, off))))


def named_scale(fields: Fields, key: str, most: int) -> Named | None:
    """Words to codes or ranges of codes, no code meaning two words."""
    words: list[tuple[str, Codes, Span]] = []
    sound = True
    for word, node in fields.each(key):
        codes = _codes(node, most, fields.found) if isinstance(node, Scalar) else None
        if name(word, "a value", fields.found, _CHOICE_REFUSED) is None or codes is None:
            sound = False
            continue
        for other, taken, span in words:
            if codes.low <= taken.high and taken.low <= codes.high:
                related = (Related(span, f"`{other}` is given here"),)
                message = f"`{word.text}` and `{other}` share a code"
                fields.found.append(names.SCALE_WRONG.at(word.span, message, "give each its own", related))
                sound = False
        words.append((word.text, codes, word.span))
    for word, node in fields.each("send"):
        sent = whole(node, 0, most, f"`{word.text}`", fields.found) if isinstance(node, Scalar) else None
        place = next((n for n, (label, _, _) in enumerate(words) if label == word.text), None)
        if place is None or sent is None or not words[place][1].low <= sent <= words[place][1].high:
            _wrong(
                word.span,
                f"`{word.text}` is sent as a code that does not mean it",
                "send one of its own codes",
                fields.found,
            )
            sound = False
        else:
            label, codes, span = words[place]
            words[place] = (label, Codes(codes.low, codes.high, sent), span)
    return Named(tuple((word, codes) for word, codes, _ in words)) if sound and words else None


def _codes(scalar: Scalar, most: int, found: list[Diagnostic]) -> Codes | None:
    """`5`, or `0-63`, sent as the middle, halves up."""
    parts = [Scalar(part.strip(), scalar.span) for part in scalar.text.split("-")]
    bounds = [whole(part, 0, most, "the code", found) for part in parts]
    low, high = bounds[0], bounds[-1]
    if low is None or high is None:
        return None
    if low > high:
        _wrong(scalar.span, f"the codes {scalar.text} run backwards", f"write `{high}-{low}`", found)
        return None
    return Codes(low, high, (low + high + 1) // 2)


def _wrong(span: Span, message: str, help: str, found: list[Diagnostic]) -> None:
    found.append(names.SCALE_WRONG.at(span, message, help))


def _linear(kind: str, key: Scalar, fields: Fields, most: int) -> Linear | None:
    """A straight line, two that meet at a centre, or points."""
    if any(fields.broken(k) for k in ("range", "codes", "points", "centre", "bottom")):
        return None
    if fields.has("points") == fields.has("range"):
        _wrong(
            key.span, f"`{key.text}` needs a `range` or `points`, one of the two", "write one", fields.found
        )
        return None
    bottom = fields.whole("bottom", 0, most)
    pieces = _points(fields, most) if fields.has("points") else _range(kind, fields, most, bottom)
    if pieces is None or (bottom is None and fields.has("bottom")):
        return None
    points, unit = pieces
    if bottom is not None and points[0][0] <= bottom <= points[-1][0]:
        _wrong(
            key.span,
            f"the bottom code {bottom} lies among the codes of the range",
            "leave it out of `codes`",
            fields.found,
        )
        return None
    if bottom is not None and unit != "dB":
        _wrong(
            key.span,
            f"a bottom is `-inf dB`, and `{key.text}` is in {unit or 'no unit'}",
            "take it away",
            fields.found,
        )
        return None
    return Linear(points, unit, bottom)


Pieces = tuple[tuple[tuple[int, Fraction], ...], str]


def _quantity(kind: str, scalar: Scalar, found: list[Diagnostic]) -> Quantity | None:
    """A bound of a range: times in ms or Hz."""
    parsed = numbers.parse(scalar.text)
    read: object = times.read(scalar.text, parsed) if kind == TIME else parsed
    if isinstance(read, Misread) or not isinstance(read, Quantity) or not isinstance(read.number, Fraction):
        help = (
            "write it like `0 ms` or `2 s`"
            if kind == TIME
            else "write a number with its unit, such as `40 %`"
        )
        found.append(names.BAD_VALUE.at(scalar.span, f"`{scalar.text}` is no bound of a range", help))
        return None
    return read


def _range(kind: str, fields: Fields, most: int, bottom: int | None) -> Pieces | None:
    given = fields.scalars("range")
    bounds = [_quantity(kind, scalar, fields.found) for scalar in given]
    if len(bounds) != 2 or bounds[0] is None or bounds[1] is None:
        return None
    low, high = bounds[0], bounds[1]
    if low.unit != high.unit:
        _wrong(
            given[1].span,
            f"the range goes from {low.unit or 'no unit'} to {high.unit or 'no unit'}",
            "use one unit",
            fields.found,
        )
        return None
    if not low.number < high.number:
        _wrong(
            given[0].span, f"the range goes from {low} to {high}", "write the lower end first", fields.found
        )
        return None
    codes = _code_pair(fields, most, bottom)
    if codes is None:
        return None
    ends = sorted(zip(codes, (Fraction(low.number), Fraction(high.number)), strict=True))
    centre = fields.whole("centre", 0, most)
    if centre is None:
        return None if fields.has("centre") else (tuple(ends), low.unit)
    if not (ends[0][0] < centre < ends[1][0] and low.number < 0 < high.number):
        scalar = fields.scalar("centre")
        span = scalar.span if scalar is not None else fields.span
        _wrong(
            span,
            f"the centre code {centre} must lie between the codes, and 0 within the range",
            "mend one of them",
            fields.found,
        )
        return None
    return (ends[0], (centre, Fraction(0)), ends[1]), low.unit


def _code_pair(fields: Fields, most: int, bottom: int | None) -> tuple[int, int] | None:
    """The codes of the range's two ends: all that the carrier holds, but the bottom, unless said."""
    given = fields.scalars("codes")
    if not fields.has("codes"):
        return (1 if bottom == 0 else 0), (most - 1 if bottom == most else most)
    codes = [whole(scalar, 0, most, "the code", fields.found) for scalar in given]
    if len(codes) != 2 or codes[0] is None or codes[1] is None:
        return None
    if codes[0] == codes[1]:
        _wrong(given[0].span, "both ends of the range have one code", "give each its own", fields.found)
        return None
    return codes[0], codes[1]


def _points(fields: Fields, most: int) -> Pieces | None:
    points: list[tuple[int, Fraction]] = []
    units: set[str] = set()
    for item in fields.items("points"):
        pair = scalars(item)
        if len(pair) != 2 or not pair[0].text.isdecimal():
            _wrong(item.span, "a point is a code and a value", "write it like `[64, 0 dB]`", fields.found)
            return None
        code = whole(pair[0], 0, most, "the code", fields.found)
        value = _quantity("level", pair[1], fields.found)
        if code is None or value is None:
            return None
        units.add(value.unit)
        points.append((code, Fraction(value.number)))
    steps = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points)]
    rising = all(step > 0 for _, step in steps) or all(step < 0 for _, step in steps)
    if len(units) != 1 or not rising or not all(code > 0 for code, _ in steps):
        node = fields.node.get("points")
        span = node.span if isinstance(node, Mapping) or node is not None else fields.span
        _wrong(
            span,
            "the points do not all rise (or fall) in one unit, by rising codes",
            "put them in order",
            fields.found,
        )
        return None
    return tuple(points), units.pop()
