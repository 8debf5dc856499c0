"""Changes of whole shows take hardly longer than bytes and waits allow: pairs of states, by a stated seed."""

from __future__ import annotations

import math
import random
import tempfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from switchmatrix.compile.bound import lower_bound_us
from switchmatrix.compile.known import nothing_known, settled_rig
from switchmatrix.compile.schedule import schedule
from switchmatrix.compile.transition import Steps, transition
from switchmatrix.pipeline import Judged, judge
from tests.benchmarks.generate import generate
from tests.compile.cases import Case
from tests.compile.forcing import forced_by
from tests.compile.rules import broken

SEED = 5
PAIRS = 300
"""Drawn for each leg on each rig; each of its states from unknown comes on top."""


def example() -> Judged:
    """The example show."""
    return judge(Path(__file__).parents[2] / "songs")


def generated() -> Judged:
    """A generated show of twelve songs."""
    with tempfile.TemporaryDirectory() as folder:
        generate(Path(folder), songs=12, scenes=12, devices=16)
        return judge(Path(folder))


SHOWS = {"example": example, "generated": generated}


def changes(show: Judged) -> Iterator[Case]:
    """From unknown to every state of a leg, and between pairs of its states."""
    chance = random.Random(SEED)
    for run in show.worked_out.runs:
        states, steps = [s.state for _, song in run.songs for s in song.states], Steps()
        for state in states:
            yield Case(run.rig, transition(run.rig, nothing_known(run.rig), state, (), steps))
        for _ in range(PAIRS):
            one, other = chance.choice(states), chance.choice(states)
            yield Case(run.rig, transition(run.rig, settled_rig(run.rig, one), other, (), steps))


@cache
def measured(name: str) -> tuple[tuple[Case, float], ...]:
    """Each change of a show that takes any time (over USB some take none), and its time over its bound."""
    return tuple(
        (case, time_us(case) / lower_bound_us(case.rig, case.steps))
        for case in changes(SHOWS[name]())
        if time_us(case)
    )


def time_us(case: Case) -> int:
    """How long the change takes."""
    return schedule(case.rig, case.steps).change_time_us()


every_show = pytest.mark.parametrize("name", SHOWS)


@every_show
def test_there_are_hundreds_of_changes(name: str) -> None:
    assert len(measured(name)) >= 300


@every_show
def test_the_geometric_mean_of_change_time_over_bound_is_at_most_1_02(name: str) -> None:
    ratios = [ratio for _, ratio in measured(name)]
    assert math.exp(sum(map(math.log, ratios)) / len(ratios)) <= 1.02


@every_show
def test_one_change_of_a_hundred_at_most_is_a_tenth_over_its_bound(name: str) -> None:
    assert sum(ratio > 1.1 for _, ratio in measured(name)) <= len(measured(name)) / 100


@every_show
def test_each_change_a_tenth_over_its_bound_has_a_wait_without_which_it_is_shorter(name: str) -> None:
    assert [case.shown() for case, ratio in measured(name) if ratio > 1.1 and forced_by(case) is None] == []


@every_show
def test_no_change_is_below_its_bound(name: str) -> None:
    assert min(ratio for _, ratio in measured(name)) >= 1


@every_show
def test_no_change_of_a_show_breaks_a_rule(name: str) -> None:
    assert [
        wrong
        for case, _ in measured(name)
        for wrong in broken(case.rig, case.steps, schedule(case.rig, case.steps).messages)
    ] == []
