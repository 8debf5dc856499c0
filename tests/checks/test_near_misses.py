"""Each finding is raised, and is silent in at least five shows that are one step away from it."""

from __future__ import annotations

import pytest

from switchmatrix.diagnostics.names import NAMES
from tests.checks import (
    near_definitions,
    near_laying,
    near_reading,
    near_rig,
    near_setlists,
    near_songs,
    near_states,
    near_values,
)
from tests.checks.nearby import Files, Near
from tests.support import findings, judged

NEARS: tuple[Near, ...] = (
    *near_reading.NEARS,
    *near_definitions.NEARS,
    *near_rig.NEARS,
    *near_values.NEARS,
    *near_states.NEARS,
    *near_laying.NEARS,
    *near_songs.NEARS,
    *near_setlists.NEARS,
)


def named(files: Files) -> list[str]:
    """The names of the findings of the base show with the files laid over it."""
    return sorted(found.name for found in judged(files).found)


@pytest.mark.parametrize("near", NEARS, ids=[near.name for near in NEARS])
def test_a_finding_is_raised_alone(near: Near) -> None:
    assert set(named(near.fires)) == {near.name}


@pytest.mark.parametrize(
    ("near", "label"),
    [pytest.param(near, label, id=f"{near.name}: {label}") for near in NEARS for label in near.silent],
)
def test_a_near_miss_is_silent(near: Near, label: str) -> None:
    show = judged(near.silent[label])
    assert sorted(found.name for found in show.found) == sorted(near.beside.get(label, ())), findings(show)


def test_every_finding_has_at_least_five_near_misses() -> None:
    assert {near.name for near in NEARS if len(near.silent) >= 5} == {name.name for name in NAMES}


def test_no_finding_stands_twice() -> None:
    assert len({near.name for near in NEARS}) == len(NEARS)


def test_no_near_miss_raises_the_finding_that_it_misses() -> None:
    assert [near.name for near in NEARS if any(near.name in names for names in near.beside.values())] == []
