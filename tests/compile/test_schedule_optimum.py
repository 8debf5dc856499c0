"""On small transitions an exhaustive search gives the shortest change time: schedules come close to it."""

from __future__ import annotations

import math
import random
from functools import cache

from switchmatrix.compile.bound import lower_bound_us
from switchmatrix.compile.schedule import schedule
from tests.compile.cases import Case, drawn, mute, rig_of, unit
from tests.compile.drawn import Dice
from tests.compile.optimum import optimum_us

COUNT = 2000
SEED = 20


@cache
def cases() -> tuple[Case, ...]:
    """Two ports, three devices, up to six messages; only those in which something takes time."""
    chance = random.Random(SEED)
    every = (drawn(Dice(chance.randbytes(120)), devices=3, most=6) for _ in range(COUNT + COUNT // 10))
    return tuple(case for case in every if optimum_us(case) > 0)


@cache
def optima() -> tuple[int, ...]:
    """Each case's shortest change time, in microseconds."""
    return tuple(map(optimum_us, cases()))


def taken() -> list[int]:
    """Each case's change time as it is scheduled."""
    return [schedule(case.rig, case.steps).change_time_us() for case in cases()]


def ratios(above: list[int], below: list[int] | tuple[int, ...]) -> list[float]:
    """How many times as long each is."""
    return [one / other for one, other in zip(above, below, strict=True)]


def test_there_are_two_thousand_cases_and_some_of_each_kind() -> None:
    steps = [case.steps for case in cases()]
    assert len(steps) >= COUNT
    assert (
        min(
            sum(1 for case in cases() if case.rig.mutes),
            sum(1 for one in steps if any(s.gap_us for s in one)),
            sum(1 for one in steps if any(s.parts > 1 for s in one)),
            sum(1 for one in steps if any(s.settle_us for s in one)),
            sum(1 for one in steps if len({s.port for s in one}) == 2),
            sum(1 for one in steps if len(one) == 6),
            sum(1 for case in cases() if any(port.usb for port in case.rig.ports)),
        )
        >= COUNT // 10
    )


def test_no_schedule_is_shorter_than_the_optimum() -> None:
    assert min(ratios(taken(), optima())) == 1


def test_the_geometric_mean_of_change_time_over_optimum_is_at_most_1_01() -> None:
    found = ratios(taken(), optima())
    assert math.exp(sum(map(math.log, found)) / len(found)) <= 1.01


def test_no_bound_is_above_the_optimum() -> None:
    bounds = [lower_bound_us(case.rig, case.steps) for case in cases()]
    assert [
        (bound, least, case.shown())
        for bound, least, case in zip(bounds, optima(), cases(), strict=True)
        if bound > least
    ] == []


RACK = rig_of({"rack": "din", "floor": "usb"})


# The echo takes something again at 2,960: whoever sends it the gate's message meanwhile, and waits for it
# then, is done at 12,920. A schedule leaves no port idle: the wah's nine bytes go first, until 3,840.
def test_the_search_finds_what_leaving_a_port_idle_gains() -> None:
    echo = [*unit("echo", 3, gap_us=2000), *unit("echo", 3, settle_us=9000)]
    case = Case(RACK, (*echo, *unit("gate", 3, channel=2), *unit("wah", 9, channel=3)))
    assert optimum_us(case) == 2960 + 960 + 9000
    assert schedule(case.rig, case.steps).change_time_us() == 3840 + 960 + 9000


# Mixer on at 0, out at 960, held 5 ms; the amp out at 6,920, 10 ms more, the mixer out at 17,880.
def test_the_search_holds_mutes() -> None:
    muted = rig_of({"rack": "din"}, (mute(["amp.mix"], ["mixer.mix"], 5000, 10000),))
    case = Case(muted, (*unit("mixer", 3), *unit("amp", 3, channel=2), *unit("mixer", 3)))
    assert optimum_us(case) == 17880


# Each unit of two takes 960 + 2,000 + 960; on one channel the second cannot begin within the first.
def test_the_search_breaks_no_unit() -> None:
    one, two = unit("echo", 3, 3, gap_us=2000), unit("gate", 3, 3, gap_us=2000)
    assert optimum_us(Case(RACK, (*one, *two))) == 7840
    assert optimum_us(Case(RACK, (*one, *unit("gate", 3, 3, gap_us=2000, channel=2)))) == 4880
