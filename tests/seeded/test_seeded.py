"""Faults planted in the example show: each raises exactly what it should, where it stands, and nothing else.

A family plants one kind of fault in every place that it fits. What a fault is expected to raise is worked
out from the text of the example show alone, never from what the tool says of it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache

import pytest

from tests.seeded import in_definitions, in_lines, in_playing, in_rigs, in_show, in_songs, in_spare, in_text
from tests.seeded.kit import PLAYED, Planted, batches, found, home_of, leg, read_once

Family = Callable[[], Iterator[Planted]]

FAMILIES: tuple[Family, ...] = (
    *in_text.FAMILIES,
    *in_lines.FAMILIES,
    *in_songs.FAMILIES,
    *in_playing.FAMILIES,
    *in_rigs.FAMILIES,
    *in_spare.FAMILIES,
    *in_definitions.FAMILIES,
    *in_show.FAMILIES,
)
__all__ = ["read_once"]
pytestmark = pytest.mark.usefixtures("read_once")
IDS = [f"{family.__module__.rpartition('.')[2]} {family.__name__}" for family in FAMILIES]


@cache
def planted(family: Family) -> tuple[Planted, ...]:
    """The faults of a family, made once."""
    return tuple(family())


@pytest.mark.parametrize("song", [*PLAYED, "bench-round"])
def test_what_faults_are_planted_in_is_sound(song: str) -> None:
    assert found(home_of(song)) == ()


def test_the_spare_rig_is_sound_with_and_without_its_changes() -> None:
    assert (found(leg("b-rig", "ebb")), found(leg("b-rig", "storm-glass", "ice-in-the-roads"))) == ((), ())


@pytest.mark.parametrize("family", FAMILIES, ids=IDS)
def test_each_fault_is_found_where_it_is_and_nothing_else_is(family: Family) -> None:
    wrong = [
        (batch.faults, batch.expected, got)
        for batch in batches(planted(family))
        if (got := found(batch.files)) != batch.expected
    ]
    assert wrong == []


def test_every_kind_of_fault_is_planted_in_at_least_five_places() -> None:
    places = Counter(fault.family for family in FAMILIES for fault in planted(family) for _ in fault.expected)
    assert {kind: count for kind, count in places.items() if count < 5} == {}


def test_at_least_three_hundred_faults_are_planted() -> None:
    assert sum(len(planted(family)) for family in FAMILIES) >= 300
