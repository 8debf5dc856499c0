"""Whole control lists on the implementation chart: every control stands there, and every number once."""

from __future__ import annotations

import re

from hypothesis import given, settings

from switchmatrix.emit.chart import chart
from tests.definition.kit import defined
from tests.definition.lists import Listed, lists, written
from tests.definition.test_whole_lists import THREE_HUNDRED


def remarks(text: str) -> str:
    """The chart's last column on one line."""
    lines = text.splitlines()
    start = next(line.index("Remarks") for line in lines if "Remarks" in line)
    return " ".join(" ".join(line[start:] for line in lines).split())


def numbers(text: str) -> list[int]:
    """The controllers that have a row of their own, as far down as they stand."""
    return [int(number) for number in re.findall(r"^ +: ([0-9]+) \([0-9A-F]{2}H\)", text, re.MULTILINE)]


def used(given: list[Listed]) -> list[int]:
    """The controllers that the list's messages need, and those that move a control too."""
    sent = {int(message[3:5], 16) for one in given for message in re.findall(r"B1 .. ..", one.wire)}
    also = {int(number) for one in given for number in re.findall(r"also-cc: \[([0-9]+)\]", one.yaml)}
    return sorted(sent | also)


@settings(max_examples=30)
@given(lists())
def test_every_control_of_a_list_stands_on_its_chart(given: list[Listed]) -> None:
    shown = remarks(chart(defined(written(given))))
    assert [one.name for one in given if f"{one.name}: " not in shown] == []


@settings(max_examples=30)
@given(lists())
def test_chart_has_a_row_for_each_controller_of_a_list_and_no_other(given: list[Listed]) -> None:
    assert numbers(chart(defined(written(given)))) == used(given)


def test_three_hundred_controls_stand_on_one_chart() -> None:
    text = chart(defined(written(THREE_HUNDRED)))
    shown = remarks(text)
    assert [one.name for one in THREE_HUNDRED if f" {one.name}: " not in shown] == []
    assert numbers(text) == used(THREE_HUNDRED)
