"""`switchmatrix manual`: the topics, a page, and what is said of a topic that is not there."""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from switchmatrix.cli.manual import command
from switchmatrix.manual import TOPICS, page

SHORT = (("start", "A first show"), ("values", "What may be said"))


def test_without_a_topic_every_topic_stands_on_a_line_with_its_title(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("switchmatrix.cli.manual.TOPICS", SHORT)

    result = CliRunner().invoke(command, [])

    assert (result.exit_code, result.output) == (
        0,
        "start   A first show\nvalues  What may be said\n",
    )


def test_topics_come_in_reading_order() -> None:
    result = CliRunner().invoke(command, [])

    assert [line.split()[0] for line in result.output.splitlines()] == [topic for topic, _ in TOPICS]


@pytest.mark.parametrize("topic", [topic for topic, _ in TOPICS])
def test_a_topic_prints_its_page_and_nothing_else(topic: str) -> None:
    result = CliRunner().invoke(command, [topic])

    assert (result.exit_code, result.stdout, result.stderr) == (0, page(topic), "")


def test_an_unknown_topic_is_wrong_usage_with_the_nearest_known() -> None:
    result = CliRunner().invoke(command, ["tmepo"])

    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.splitlines()[-1] == "Error: no topic is called tmepo: did you mean `tempo`?"


def test_a_topic_like_no_other_is_answered_with_what_there_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("switchmatrix.cli.manual.TOPICS", SHORT)

    result = CliRunner().invoke(command, ["rain"])

    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.splitlines()[-1] == (
        "Error: no topic is called rain: known here as topics: `start`, `values`"
    )
