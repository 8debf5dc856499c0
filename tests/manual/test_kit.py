"""The manual's tests at work: how a page is cut into blocks, and that a wrong example is noticed."""

from __future__ import annotations

import re

import pytest

from switchmatrix.diagnostics.lines import render
from tests.manual import kit
from tests.manual.kit import CONSOLE, OTHER, YAML, Block, as_pattern, cut

PAGE = """\
# Rain

Some words.

    # lantern.yaml
    song: Lantern

    scenes:
      verse: {gate: tight}

    # show.yaml
    show: Rain

    $ switchmatrix check show
    nothing wrong

    $ switchmatrix state show lantern
    ...

More words.

    a chart
"""


def test_a_page_is_cut_into_files_commands_and_the_rest() -> None:
    assert [(block.line, block.kind) for block in cut("rain", PAGE)] == [
        (5, YAML),
        (11, YAML),
        (14, CONSOLE),
        (22, OTHER),
    ]


def test_a_file_has_its_name_from_its_first_line_and_blank_lines_inside() -> None:
    block = cut("rain", PAGE)[0]
    assert (block.path, block.body) == (
        "lantern.yaml",
        "song: Lantern\n\nscenes:\n  verse: {gate: tight}\n",
    )


def test_each_command_has_the_output_below_it() -> None:
    block = cut("rain", PAGE)[2]
    assert block.shown == [
        ("switchmatrix check show", "nothing wrong"),
        ("switchmatrix state show lantern", "..."),
    ]


def test_a_line_of_dots_stands_for_any_lines_and_other_lines_for_themselves() -> None:
    pattern = re.compile(as_pattern("first\n...\nlast"))
    fits = ["first\nlast\n", "first\na\nb\nlast\n", "first\nlast\nmore\n", "fir\nlast\n"]
    assert [bool(pattern.fullmatch(text)) for text in fits] == [True, True, False, False]


def test_a_wrong_file_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    wrong = Block("rain", 1, "# lantern.yaml\nsong: Lantern\nscenes:\n  verse: {gate: tihgt}\n")
    monkeypatch.setattr(kit, "blocks", lambda _: (wrong,))
    ran = kit.ran.__wrapped__("rain")
    assert [render(list(one.found)) for one in ran] == [
        "lantern.yaml:3:17: error unknown-word: `gate` has no word `tihgt`\n"
    ]


def test_a_command_is_run_on_the_files_above_it(monkeypatch: pytest.MonkeyPatch) -> None:
    page = cut("rain", "    # lantern.yaml\n    song: X\n\n    $ switchmatrix check show --format lines\n")
    monkeypatch.setattr(kit, "blocks", lambda _: page)
    command, printed = kit.ran.__wrapped__("rain")[-1].printed[0]
    assert command == "switchmatrix check show --format lines"
    assert printed == "lantern.yaml:1:1: error missing-key: the file lacks `scenes`"
