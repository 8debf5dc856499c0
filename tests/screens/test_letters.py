"""Block letters."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.screens.rehearse.letters import _LETTERS, HIGH, block, plain


def test_name_is_drawn_five_rows_tall() -> None:
    assert block("hi 2", 80, 5) == [
        "█   █ ███    ████ ",
        "█   █  █         █",
        "█████  █      ███ ",
        "█   █  █     █    ",
        "█   █ ███    █████",
    ]


def test_name_with_little_room_is_drawn_three_rows_tall() -> None:
    assert block("hi 2", 80, 3) == [
        "█   █ ▀█▀    ▀▀▀▀▄",
        "█▀▀▀█  █     ▄▀▀▀ ",
        "▀   ▀ ▀▀▀    ▀▀▀▀▀",
    ]


def test_name_with_much_room_is_drawn_ten_rows_tall() -> None:
    assert block("i", 80, 10) == ["██████"] * 2 + ["  ██  "] * 6 + ["██████"] * 2


def test_name_that_is_too_long_ends_in_three_dots() -> None:
    assert block("hi 2", 12, 5) == [
        "█   █      ",
        "█   █      ",
        "█████      ",
        "█   █      ",
        "█   █ █ █ █",
    ]


def test_letters_that_the_table_has_not_got_are_boxes() -> None:
    assert block("波", 80, 5) == ["█████", "█   █", "█   █", "█   █", "█████"]


@pytest.mark.parametrize(
    ("name", "drawn"),
    [
        ("Æsir", "AESIR"),
        ("Straße", "STRASSE"),
        ("crème", "CREME"),
        ("Ben\N{RIGHT SINGLE QUOTATION MARK}s", "BEN'S"),
    ],
)
def test_letters_of_other_languages_are_drawn_bare(name: str, drawn: str) -> None:
    assert plain(name) == drawn


@pytest.mark.parametrize("letter", sorted(_LETTERS))
def test_letter_is_five_rows_of_one_width(letter: str) -> None:
    rows = _LETTERS[letter].split("/")
    assert (len(rows), len({len(row) for row in rows})) == (HIGH, 1)


def test_no_two_letters_look_alike() -> None:
    assert len(set(_LETTERS.values())) == len(_LETTERS)


@given(name=st.text(max_size=40), width=st.integers(20, 200), rows=st.integers(1, 12))
def test_no_name_is_wider_than_the_screen_nor_lower_than_three_rows(name: str, width: int, rows: int) -> None:
    drawn = block(name, width, rows)
    assert max(map(len, drawn)) <= width
    assert len(drawn) in {3, 5, 10}
    assert len(drawn) <= max(rows, 3)
