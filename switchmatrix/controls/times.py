"""Times: milliseconds, seconds, rates in Hz, and note values worked out from the tempo."""

from __future__ import annotations

import re
from fractions import Fraction

from switchmatrix.definition.values import Misread, NoteValue, Quantity

_NOTE = re.compile(r"([0-9]{1,2})/(1|2|4|8|16|32|64)(?: (dotted|triplet))?")
_STRETCH = {None: Fraction(1), "dotted": Fraction(3, 2), "triplet": Fraction(2, 3)}
_WRITE = "write it like `480 ms`, `1.5 s`, `2 Hz`, `1/8`, `1/8 dotted` or `1/8 triplet`"


def note_value(text: str) -> NoteValue | None:
    """`1/8`, `1/8 dotted`, `1/8 triplet`; None where it is none."""
    match = _NOTE.fullmatch(text)
    if match is None or int(match[1]) == 0:
        return None
    return NoteValue(Fraction(4 * int(match[1]), int(match[2])) * _STRETCH[match[3]], text)


def read(text: str, quantity: Quantity | None) -> Quantity | NoteValue | Misread:
    """The time that `text` says; `quantity` is its reading as a number with a unit, if it is one."""
    note = note_value(text)
    if note is not None:
        return note
    if quantity is None or quantity.unit not in ("ms", "s", "Hz"):
        return Misread(f"`{text}` is no time", _WRITE)
    if quantity.number < 0 or (quantity.unit == "Hz" and quantity.number == 0):
        return Misread(f"`{text}` is no time", _WRITE)
    if quantity.unit == "s":
        return Quantity(quantity.number * 1000, "ms")
    return quantity


def in_unit(asked: Quantity, unit: str) -> Quantity | None:
    """The same time in `unit` (ms or Hz); None for a rate of 0 ms."""
    if asked.unit == unit:
        return asked
    return Quantity(1000 / Fraction(asked.number), unit) if asked.number else None


def at_tempo(note: NoteValue, quarter_ms: Fraction) -> Quantity:
    """The note value's length where a quarter note lasts `quarter_ms` milliseconds."""
    return Quantity(note.quarters * quarter_ms, "ms")
