"""Note values in quarters: dotted is half as long again, three triplets make two (common practice)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from switchmatrix.controls.times import note_value
from switchmatrix.definition.values import NoteValue


@pytest.mark.parametrize(
    ("text", "quarters"),
    [
        ("1/4", Fraction(1)),
        ("1/8", Fraction(1, 2)),
        ("1/8 dotted", Fraction(3, 4)),
        ("1/8 triplet", Fraction(1, 3)),
        ("3/16", Fraction(3, 4)),
    ],
)
def test_note_value_is_so_many_quarters(text: str, quarters: Fraction) -> None:
    assert note_value(text) == NoteValue(quarters, text)
