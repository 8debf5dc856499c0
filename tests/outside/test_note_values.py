"""Lengths of note values: 60,000 ms over the tempo, times the beats; dotted 3/2, triplet 2/3.

Worked out from that, which is common music arithmetic; three decimals, halves up.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from switchmatrix.controls import times
from switchmatrix.definition.values import decimal
from tests.support import judged, sent

TEXTS = (
    "1/1",
    "1/2",
    "1/4 dotted",
    "1/4",
    "1/8 dotted",
    "1/4 triplet",
    "1/8",
    "1/8 triplet",
    "1/16",
)

# Milliseconds, in the order of TEXTS.
LENGTHS = {
    60: "4000 2000 1500 1000 750 666.667 500 333.333 250",
    72: "3333.333 1666.667 1250 833.333 625 555.556 416.667 277.778 208.333",
    90: "2666.667 1333.333 1000 666.667 500 444.444 333.333 222.222 166.667",
    100: "2400 1200 900 600 450 400 300 200 150",
    120: "2000 1000 750 500 375 333.333 250 166.667 125",
    137: "1751.825 875.912 656.934 437.956 328.467 291.971 218.978 145.985 109.489",
    140: "1714.286 857.143 642.857 428.571 321.429 285.714 214.286 142.857 107.143",
    174: "1379.31 689.655 517.241 344.828 258.621 229.885 172.414 114.943 86.207",
}


def length(text: str, bpm: int) -> str:
    """The note value in milliseconds at `bpm` quarter notes a minute, as a listing says it."""
    note = times.note_value(text)
    assert note is not None
    quantity = times.at_tempo(note, Fraction(60_000, bpm))
    assert quantity.unit == "ms"
    return decimal(Fraction(quantity.number))


@pytest.mark.parametrize(("bpm", "listed"), LENGTHS.items())
def test_note_values_last_as_long_as_the_table_says(bpm: int, listed: str) -> None:
    assert " ".join(length(text, bpm) for text in TEXTS) == listed


# 3/4 is three quarter notes, 1/64 a sixteenth of one: worked out at 120, where a quarter lasts 500 ms.
@pytest.mark.parametrize(
    ("text", "listed"), [("3/4", "1500"), ("5/8", "1250"), ("1/32 triplet", "41.667"), ("1/64", "31.25")]
)
def test_other_fractions_of_a_bar_are_note_values_too(text: str, listed: str) -> None:
    assert length(text, 120) == listed


@pytest.mark.parametrize(
    "text", ["1/3", "0/4", "1/8dotted", "1/8 double dotted", "1 / 8", "8", "1/128", "-1/4"]
)
def test_what_is_no_note_value_is_none(text: str) -> None:
    assert times.note_value(text) is None


# The echo takes ten milliseconds a code. At 120: 375 ms is 37.5 codes, halves up 38 (26h); 166.667 is
# 16.67 codes, 17 (11h); 125 is 12.5, halves up 13 (0Dh); 750 is 75 (4Bh) and 1000 is 100 (64h).
@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("1/8 dotted", "26"),
        ("1/8 triplet", "11"),
        ("1/16", "0D"),
        ("1/4 dotted", "4B"),
        ("1/2", "64"),
    ],
)
def test_note_value_in_a_song_is_sent_as_its_length(text: str, code: str) -> None:
    lantern = (
        f"song: Lantern\ntempo: 120\nscenes: {{verse: {{at: bar 1, echo: {{engage: on, time: {text}}}}}}}\n"
    )
    show = judged({"lantern.yaml": lantern})
    assert sent(show, "lantern", "verse")[-1][-8:] == f"B2 16 {code}"


# In 6/8 the tempo is given in dotted quarters: 80 of them are 120 quarters, and an eighth lasts 250 ms.
def test_eighth_under_a_dotted_beat_is_a_third_of_the_beat() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 80, beat: 1/4 dotted}]
meter: 6/8
scenes: {verse: {at: bar 1, echo: {engage: on, time: 1/8}}}
"""
    assert sent(judged({"lantern.yaml": lantern}), "lantern", "verse")[-1][-8:] == "B2 16 19"
