"""Every file and every output that the manual shows is run: what is shown is what comes."""

from __future__ import annotations

import re

import pytest

from switchmatrix.diagnostics import long
from switchmatrix.diagnostics.diagnostic import Diagnostic, Severity
from tests.manual.kit import CONSOLE, PAGES, YAML, Block, as_pattern, blocks, every, ran, run
from tests.support import BASE_SHOW, findings, judged

every_file = pytest.mark.parametrize("block", every(YAML), ids=str)
every_output = pytest.mark.parametrize("block", every(CONSOLE), ids=str)
every_page = pytest.mark.parametrize("topic", PAGES)


def heads(found: tuple[Diagnostic, ...], *severities: Severity) -> list[str]:
    """The first line of each finding of these severities, as `check` prints it."""
    return [long.render([one], {}).splitlines()[0] for one in found if one.severity in severities]


def shown_below(block: Block) -> str:
    """The commands and outputs that stand directly below a block; nothing where a file does."""
    page = blocks(block.topic)
    return "".join(next.text for next in page[page.index(block) + 1 :][:1] if next.kind == CONSOLE)


@every_file
def test_file_leaves_the_show_without_an_error_that_is_not_shown_below_it(block: Block) -> None:
    errors = heads(run(block).found, Severity.ERROR)
    assert [head for head in errors if head not in shown_below(block)] == []


@every_output
def test_output_shown_is_what_comes(block: Block) -> None:
    came = "".join(f"$ {command}\n{printed}\n" for command, printed in run(block).printed)
    wanted = "".join(re.escape(f"$ {command}\n") + as_pattern(shown) for command, shown in block.shown)
    assert re.fullmatch(wanted, came), came


@every_output
def test_output_shows_each_error_and_warning_that_the_show_has_there(block: Block) -> None:
    grave = heads(run(block).found, Severity.ERROR, Severity.WARNING)
    assert [head for head in grave if head not in block.text] == []


@every_output
def test_every_command_is_shown_with_something_of_what_it_prints(block: Block) -> None:
    assert [command for command, shown in block.shown if not set(shown.splitlines()) - {"...", ""}] == []


@every_output
def test_no_command_is_given_wrongly(block: Block) -> None:
    assert [text for _, text in run(block).printed if "Usage:" in text] == []


@every_page
def test_every_song_of_a_page_is_played_at_its_end(topic: str) -> None:
    at_the_end = ran(topic)[-1:]
    assert [str(d.span) for one in at_the_end for d in one.found if d.name == "song-unused"] == []


def test_first_page_alone_makes_a_show_with_nothing_to_say() -> None:
    files = {block.path: block.body for block in blocks("start") if block.kind == YAML}
    assert findings(judged(files, base=None)) == []


def test_first_page_makes_the_show_that_the_other_pages_build_on() -> None:
    base = {path: path.read_text(encoding="utf-8") for path in BASE_SHOW.rglob("*.yaml")}
    made = {BASE_SHOW / block.path: block.body for block in blocks("start") if block.kind == YAML}
    assert made == base
