"""A song or a scene found by part of its name."""

from __future__ import annotations

import pytest

from switchmatrix.live.stepping.searching import find
from tests.live.stepping.kit import SHOW, ready, show_of


def found(text: str) -> list[str]:
    """The stops found, as people see them."""
    return [f"{stop.key.item} {stop.label}" for stop in find(SHOW, text)]


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("bri", "1 Nine Lanterns: bridge"),
        ("harb", "3 Harbour Bell: market"),
        ("BELL", "3 Harbour Bell: market"),
        ("lantern", "1 Nine Lanterns: verse"),
        ("quay", "3 Harbour Bell: quay"),
        ("bell qu", "3 Harbour Bell: quay"),
        ("verse@2", "1 Nine Lanterns: verse@2"),
        ("silence", "0 silence"),
        ("change", "2 changeover"),
        ("spare", "3 Harbour Bell: spare"),
    ],
)
def test_the_likeliest_comes_first(text: str, first: str) -> None:
    assert found(text)[0] == first


def test_a_song_brings_all_its_scenes_its_first_stop_before_them() -> None:
    assert found("harbour") == [
        "3 Harbour Bell: market",
        "3 Harbour Bell: quay",
        "3 Harbour Bell: market@2",
        "3 Harbour Bell: spare",
    ]


def test_every_word_must_be_there() -> None:
    assert found("bell bridge") == []


@pytest.mark.parametrize("text", ["", "  ", "zzz"])
def test_nothing_is_found_for_nothing(text: str) -> None:
    assert found(text) == []


def test_marks_on_letters_do_not_matter() -> None:
    show = ready(show_of({"bell.yaml": ("song: Harbour Bell", "song: Größe der Brücke")}))
    assert next(stop.label for stop in find(show, "grosse brucke")) == "Größe der Brücke: market"
