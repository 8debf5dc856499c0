"""The README's pictures: what they show is what the screen shows."""

from __future__ import annotations

import re
from functools import cache
from html import unescape

import pytest

from switchmatrix.live.stepping.prepared import Prepared
from tests.screens import pictures

_TEXT = re.compile(r"<text [^>]*>([^<]*)</text>")


@cache
def show() -> Prepared:
    """The example show, prepared once."""
    return pictures.example()


def words(svg: str) -> list[str]:
    """What a picture says, a piece of a row each."""
    return [unescape(text).replace("\N{NO-BREAK SPACE}", " ").strip() for text in _TEXT.findall(svg)]


@pytest.mark.parametrize("name", pictures.PICTURES)
def test_picture_shows_what_the_screen_shows(name: str) -> None:
    kept = (pictures.FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    assert words(kept) == words(pictures.picture(name, show()))


@pytest.mark.parametrize("name", pictures.PICTURES)
def test_picture_needs_nothing_from_the_web_and_has_no_window(name: str) -> None:
    kept = (pictures.FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    assert re.findall(r"@font-face|url\(http|<circle|Fira", kept) == []


@pytest.mark.parametrize("name", pictures.PICTURES)
def test_picture_says_that_it_is_no_real_rig(name: str) -> None:
    kept = (pictures.FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    assert words(kept)[0] == "stand-in: a rig made of software in this process: nothing leaves the machine"
