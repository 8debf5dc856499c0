"""Setlists: what moved, came and went; and which leg is held against which."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.compare.diff import diff
from switchmatrix.compare.setlists import common
from switchmatrix.emit.diff_text import diff_text
from tests.cli.kit import TWO_LEGS
from tests.compare.kit import Files, side

SONGS = ("lantern", "harbour", "ebb", "squall")
MORE = {f"{name}.yaml": f"song: {name.title()}\nscenes: {{verse: {{gate: tight}}}}\n" for name in SONGS}
RIG = {"rigs/a-rig.yaml": TWO_LEGS["rigs/a-rig.yaml"]}


def show(*setlist: str, leg: str = "tour") -> Files:
    """A show of four songs with one leg."""
    legs = f"legs:\n  {leg}: {{rigs: [a-rig], setlist: [{', '.join(setlist)}]}}\n"
    return {**MORE, **RIG, "show.yaml": f"show: Tidewrack\nrigs: [a-rig]\n{legs}"}


def setlist(old: Files, new: Files) -> list[str]:
    """What is said of the setlist."""
    said = diff_text(diff(side(old), side(new)), "OLD", "NEW")
    return [line.strip() for line in said.splitlines() if line.startswith("      ")]


def test_a_song_that_goes_to_the_front_is_the_one_that_moves() -> None:
    old, new = show("lantern", "harbour", "ebb", "squall"), show("squall", "lantern", "harbour", "ebb")
    assert setlist(old, new) == ["squall moves from 4 to 1"]


def test_a_song_that_comes_moves_no_other() -> None:
    old, new = show("lantern", "ebb"), show("lantern", "harbour", "ebb")
    assert setlist(old, new) == ["harbour is new, number 2"]


def test_a_song_that_goes_moves_no_other() -> None:
    old, new = show("lantern", "harbour", "ebb"), show("lantern", "ebb")
    assert setlist(old, new) == ["harbour is gone; it was number 2"]


def test_a_standing_scene_and_its_remark_are_part_of_a_setlist() -> None:
    old = show("lantern", "{standing: changeover, remark: capo off}")
    new = show("lantern", "{standing: changeover, remark: capo on}", "{standing: changeover}")
    assert setlist(old, new) == [
        "changeover (standing) is new, number 3",
        "2. changeover: remark was capo off, now capo on",
    ]


def test_songs_are_told_in_the_order_of_the_new_setlist() -> None:
    louder = {f"{name}.yaml": MORE[f"{name}.yaml"].replace("tight", "loose") for name in SONGS}
    new = {**show("squall", "ebb", "harbour", "lantern"), **louder}
    said = diff_text(diff(side(show("lantern", "harbour", "ebb", "squall")), side(new)), "OLD", "NEW")
    told = [line.strip() for line in said.splitlines() if line.startswith("    ") and line.strip() in SONGS]
    assert told == ["squall", "ebb", "harbour", "lantern"]


def test_a_leg_under_another_name_is_found_by_what_it_plays() -> None:
    old, new = show("lantern", "ebb", leg="summer"), show("lantern", "ebb", leg="autumn")
    assert diff_text(diff(side(old), side(new)), "OLD", "NEW") == (
        "OLD, now NEW\n\nThe songs\n  summer, now autumn\n"
    )


def test_a_leg_that_plays_something_else_is_another_leg() -> None:
    old, new = show("lantern", "ebb", leg="summer"), show("harbour", "squall", leg="autumn")
    assert diff_text(diff(side(old), side(new)), "OLD", "NEW") == (
        "OLD, now NEW\n\nThe songs\n  the leg autumn is new\n  the leg summer is gone\n"
    )


def test_two_legs_of_one_show_are_held_against_each_other() -> None:
    found = diff(side(TWO_LEGS, "summer"), side(TWO_LEGS, "winter"))
    assert diff_text(found, "show@summer", "show@winter") == (
        "show@summer, now show@winter\n\nThe songs\n  summer, now winter\n    setlist\n"
        "      lantern is gone; it was number 1\n"
        "      changeover (standing) is gone; it was number 2\n"
        "    the rig b-rig is gone from this leg\n"
        "    lantern is gone from this leg\n"
    )


def test_a_leg_is_held_against_the_one_of_its_name_in_the_other_show() -> None:
    louder = {**TWO_LEGS, "harbour.yaml": TWO_LEGS["harbour.yaml"].replace("tight", "loose")}
    found = diff(side(TWO_LEGS, "winter"), side(louder))
    assert [leg.leg.name for leg in found.legs] == ["winter"]


KEYS = st.lists(st.tuples(st.just(False), st.sampled_from("abc")), max_size=7)


def longest(old: list[tuple[bool, str]], new: list[tuple[bool, str]]) -> int:
    """The length of a longest common subsequence, by trying every way."""
    if not old or not new:
        return 0
    if old[0] == new[0]:
        return 1 + longest(old[1:], new[1:])
    return max(longest(old[1:], new), longest(old, new[1:]))


@given(KEYS, KEYS)
def test_what_keeps_its_order_is_as_much_as_can_be(
    old: list[tuple[bool, str]], new: list[tuple[bool, str]]
) -> None:
    pairs = common(old, new)
    assert [old[n] for n, _ in pairs] == [new[m] for _, m in pairs]
    assert pairs == sorted(set(pairs))
    assert len(pairs) == longest(old, new)
