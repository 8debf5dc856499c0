"""The manual's pages as texts: none is missing, none is too wide, and no example escapes its test."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

from switchmatrix.cli import COMMANDS
from switchmatrix.diagnostics.names import NAMES
from switchmatrix.emit.messages_csv import COLUMNS
from switchmatrix.manual import TOPICS, page
from switchmatrix.syntax.shapes import FILES, Schema, schema
from tests.manual.kit import CONSOLE, OTHER, PAGES, YAML, blocks

WIDEST = 110
LONGEST = 120
HYPHENATED = frozenset(("smf-format",))
"""Words with a hyphen that are no findings and stand in no example."""

every_page = pytest.mark.parametrize("topic", PAGES)


def prose(topic: str) -> str:
    """A page without its blocks."""
    return "\n".join(line for line in page(topic).split("\n") if not line.startswith("    "))


def spans(topic: str) -> list[str]:
    """What stands in backticks on a page, line breaks as spaces."""
    return [re.sub(r"\s+", " ", span) for span in re.findall(r"`([^`]+)`", prose(topic))]


def keys(shape: object) -> set[str]:
    """Every key that a schema gives a meaning."""
    if isinstance(shape, list):
        return {key for item in shape for key in keys(item)}
    if not isinstance(shape, dict):
        return set()
    own = shape.get("properties", {})
    return set(own) | {key for item in shape.values() for key in keys(item)}


def shape_of_every_file() -> list[Schema]:
    """The schemas of the four kinds of file, without those of scalars."""
    return [{k: v for k, v in schema(kind).items() if k != "$defs"} for kind in FILES]


def test_topics_are_the_pages_that_there_are() -> None:
    there = sorted(file.name for file in files("switchmatrix.manual").iterdir() if file.name.endswith(".md"))
    assert sorted(f"{topic}.md" for topic in PAGES) == there


def test_no_topic_is_listed_twice() -> None:
    assert len(dict(TOPICS)) == len(TOPICS)


@pytest.mark.parametrize(("topic", "title"), TOPICS)
def test_page_begins_with_its_title(topic: str, title: str) -> None:
    assert page(topic).splitlines()[0] == f"# {title}"


@every_page
def test_no_line_is_over_a_hundred_and_ten_columns(topic: str) -> None:
    assert [line for line in page(topic).split("\n") if len(line) > WIDEST] == []


@every_page
def test_page_is_short_enough_to_be_read(topic: str) -> None:
    assert 40 <= len(page(topic).splitlines()) <= LONGEST


@every_page
def test_page_is_plain_text_that_ends_in_one_line_break(topic: str) -> None:
    text = page(topic)
    assert (text, text.isascii()) == (text.rstrip() + "\n", True)


@every_page
def test_no_line_ends_in_a_space_and_none_holds_a_tab(topic: str) -> None:
    assert [line for line in page(topic).split("\n") if line != line.rstrip() or "\t" in line] == []


@every_page
def test_examples_are_indented_and_not_fenced(topic: str) -> None:
    assert [line for line in page(topic).split("\n") if line.lstrip().startswith(("```", "~~~"))] == []


@every_page
def test_every_line_that_names_a_file_begins_a_file_that_is_run(topic: str) -> None:
    named = re.findall(r"^ *# (\S+\.yaml)$", page(topic), flags=re.MULTILINE)
    assert [block.path for block in blocks(topic) if block.kind == YAML] == named


@every_page
def test_every_prompt_is_a_command_that_is_run(topic: str) -> None:
    prompts = re.findall(r"^\s*\$ (.*)$", page(topic), flags=re.MULTILINE)
    assert [c for block in blocks(topic) if block.kind == CONSOLE for c, _ in block.shown] == prompts


@every_page
def test_every_indented_line_is_in_a_block(topic: str) -> None:
    indented = [line[4:] for line in page(topic).split("\n") if line.startswith("    ")]
    in_blocks = [line for block in blocks(topic) for line in block.text.splitlines() if line]
    assert [line for line in in_blocks if line] == indented


def test_the_only_blocks_that_are_not_run_as_they_stand_are_a_makers_chart_and_the_carriers() -> None:
    kept = [
        block.text.splitlines()[0][:25] for topic in PAGES for block in blocks(topic) if block.kind == OTHER
    ]
    assert kept == ["BRINEWICK B-7 TIDE ECHO  ", "CARRIER                  "]


def test_the_makers_chart_holds_nothing_that_could_be_run() -> None:
    chart = [block for block in blocks("chart") if block.kind == OTHER]
    assert [
        line for block in chart for line in block.text.splitlines() if re.search(r"[{}$]|\w: ", line)
    ] == []


@every_page
def test_backticks_come_in_pairs(topic: str) -> None:
    assert [part for part in prose(topic).split("\n\n") if part.count("`") % 2] == []


@pytest.mark.parametrize("key", sorted(keys(shape_of_every_file())))
def test_every_key_of_the_files_is_mentioned(key: str) -> None:
    word = re.compile(rf"(?<![\w-]){re.escape(key)}(?![\w-])")
    said = [span for topic in PAGES for span in spans(topic) if not span.startswith("switchmatrix ")]
    assert [span for span in said if word.search(span)] != []


@pytest.mark.parametrize("column", [*COLUMNS, "channel", "layer", "name"])
def test_every_column_of_the_tables_is_mentioned(column: str) -> None:
    assert any(column in span.split() for span in spans("files")) or column in page("files")


@pytest.mark.parametrize("name", sorted({s for topic in PAGES for s in spans(topic) if "-" in s}))
def test_what_looks_like_a_finding_is_one_or_stands_in_an_example(name: str) -> None:
    known = {one.name for one in NAMES}
    examples = "".join(block.text for topic in PAGES for block in blocks(topic))
    parts = re.findall(r"[a-z]+(?:-[a-z]+)+", name)
    assert [
        part for part in parts if part not in known and part not in examples and part not in OPTIONS
    ] == []


OPTIONS = frozenset(("smf-format", "time-code", "stand-in"))


@every_page
def test_topics_that_a_page_sends_to_are_there(topic: str) -> None:
    named = [s.split()[2] for s in spans(topic) if s.startswith("switchmatrix manual ")]
    assert [name for name in named if name not in PAGES] == []


@every_page
def test_commands_that_a_page_mentions_are_there(topic: str) -> None:
    named = [s.split()[1] for s in spans(topic) if s.startswith("switchmatrix ")]
    assert [name for name in named if name not in COMMANDS] == []


def test_a_topic_that_is_not_there_has_no_page() -> None:
    with pytest.raises(KeyError, match="rain"):
        page("rain")
