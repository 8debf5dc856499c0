"""The bands laid out."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.screens.rehearse.bands import Row, rows, shortened
from switchmatrix.screens.rehearse.view import View

LITTLE = View(
    mark=None,
    where="Harbour Bell, bar 17, scene 3 of 9",
    scene="hi",
    here=("capo off",),
    changed=("gate: loose to tight",),
    then=("next: toll, bar 33",),
    wire=("A rig: nothing sent yet",),
    asked=(),
    keys=("n next",),
)


def test_bands_stand_in_their_order_and_the_keys_at_the_foot() -> None:
    assert rows(LITTLE, 40, 13) == [
        Row("HERE  Harbour Bell, bar 17, scene 3 of 9", bold=True),
        Row("█   █ ███", bold=True),
        Row("█   █  █ ", bold=True),
        Row("█████  █ ", bold=True),
        Row("█   █  █ ", bold=True),
        Row("█   █ ███", bold=True),
        Row("capo off"),
        Row("CHANGED  gate: loose to tight"),
        Row("THEN     next: toll, bar 33"),
        Row("WIRE     A rig: nothing sent yet"),
        Row(""),
        Row(""),
        Row("n next"),
    ]


def test_question_stands_in_reverse_above_the_keys() -> None:
    asked = replace(LITTLE, asked=("Are they?", "y: yes."))
    assert rows(asked, 12, 24)[-3:] == [
        Row("Are they?   ", reverse=True),
        Row("y: yes.     ", reverse=True),
        Row("n next"),
    ]


def test_question_leaves_the_scene_three_rows_and_every_band_a_row_at_80_by_24() -> None:
    long = replace(
        LITTLE,
        mark="stand-in: no rig",
        here=tuple(f"here {n}" for n in range(9)),
        changed=tuple(f"change {n}" for n in range(30)),
        then=("next: toll", "next song: Slack Water", "hand over: mandola"),
        wire=tuple(f"wire {n}" for n in range(9)),
        asked=tuple(f"question {n}" for n in range(8)),
    )
    shown = [row.text for row in rows(long, 80, 24)]
    assert [row for row in shown if row.startswith(("HERE", "CHANGED", "THEN", "WIRE"))] == [
        "HERE  Harbour Bell, bar 17, scene 3 of 9",
        "CHANGED  change 0",
        "THEN     next: toll",
        "WIRE     wire 0",
    ]
    assert shown[2:5] == ["█   █ ▀█▀", "█▀▀▀█  █ ", "▀   ▀ ▀▀▀"]


def test_what_does_not_fit_is_counted() -> None:
    many = replace(LITTLE, changed=tuple(f"change {n}" for n in range(30)))
    assert [row.text for row in rows(many, 60, 14)][7:11] == [
        "CHANGED  change 0",
        "         change 1",
        "         change 2",
        "         change 3 (and 26 more)",
    ]


def test_letters_are_five_rows_tall_and_more_at_160_by_48() -> None:
    assert [row.text for row in rows(LITTLE, 160, 48)].count("██      ██  ██████") == 4


def test_long_sentence_goes_on_in_the_next_row() -> None:
    long = replace(LITTLE, then=("next: toll, bar 33, wait for the gulls",))
    assert [row.text for row in rows(long, 36, 14)][8:10] == [
        "THEN     next: toll, bar 33, wait",
        "         for the gulls",
    ]


def test_what_is_shortened_ends_in_three_dots() -> None:
    assert shortened("the gulls are away", 12) == "the gulls..."


sentences = st.lists(st.text("abc de", min_size=1, max_size=60), max_size=12).map(tuple)


@given(
    seen=st.builds(
        View,
        mark=st.none() | st.just("stand-in"),
        where=st.text("abc ", max_size=90),
        scene=st.text("abc 1", min_size=1, max_size=30),
        here=sentences,
        changed=sentences,
        then=sentences,
        wire=sentences,
        asked=st.just(()) | st.just(("why", "asked", "y: yes.")),
        keys=st.just(("n next, b back",)),
    ),
    width=st.integers(10, 200),
    height=st.integers(1, 60),
)
def test_screen_has_its_rows_and_the_question_and_the_keys_are_always_there(
    seen: View, width: int, height: int
) -> None:
    shown = rows(seen, width, height)
    assert len(shown) == height
    assert max(len(row.text) for row in shown) <= width
    assert "n next" in " ".join(row.text for row in shown[-3:])
    assert (seen.asked == () or height < 4) or Row("y: yes.".ljust(width), reverse=True) in shown


def test_question_that_is_too_long_for_the_screen_says_so() -> None:
    asked = replace(LITTLE, asked=tuple(f"Set by hand: box-{n} on." for n in range(30)))
    shown = rows(asked, 60, 24)
    assert [row.text.rstrip() for row in shown if row.reverse][:2] == [
        "(14 more rows: make the window higher)",
        "Set by hand: box-14 on.",
    ]
    assert shown[0].text == "HERE  Harbour Bell, bar 17, scene 3 of 9"
