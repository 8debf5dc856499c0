"""Messages at ticks: what rounding one of them does to the next ones, worked out by hand.

A byte takes 320 microseconds (MIDI 1.0 Detailed Specification 4.2.1, p. 1); a tick lasts 500 here, unless
a test says otherwise.
"""

from __future__ import annotations

from fractions import Fraction

from switchmatrix.compile.plan import PlannedVisit
from switchmatrix.compile.schedule import Timed
from switchmatrix.compile.step import Role, Step
from switchmatrix.compile.ticks import scene_ticks, song_ticks
from switchmatrix.model.rig import Rig
from switchmatrix.states.state import State, Visit
from switchmatrix.states.timeline import TempoChange, Timeline
from tests.compile.cases import mute, rig_of, unit, with_devices

RACK = with_devices(rig_of({"rack": "din"}), "alder", "birch", "cedar")


def steady(tick_us: int) -> Timeline:
    """One tempo, at which a tick lasts so many whole microseconds."""
    return Timeline((TempoChange(0, 0, tick_us * 960, Fraction(tick_us * 960, 1000)),), ())


def one(steps: list[Step], starts_us: int) -> Timed:
    """The only message of a unit, as a wire of 320 microseconds a byte brings it."""
    (step,) = steps
    return Timed(step, starts_us, starts_us + 320 * len(step.data) + step.settle_us)


def visit(tick: int, *messages: Timed, on_time: bool = False) -> PlannedVisit:
    """A visit at a tick, with its messages."""
    return PlannedVisit(Visit(1, "verse", 1, tick, "", None, None, State(()), ()), messages, 0, 0, on_time)


def song(*visits: PlannedVisit, rig: Rig = RACK, tick_us: int = 500) -> list[int]:
    """The tick of each message."""
    return [tick for _, tick in song_ticks(rig, steady(tick_us), visits)]


def scene(*messages: Timed, rig: Rig = RACK) -> list[int]:
    """The tick of each message of one transition."""
    return [tick for _, tick in scene_ticks(rig, steady(500), messages)]


def test_a_visit_at_the_start_of_the_song_is_at_tick_0() -> None:
    assert song(visit(0, one(unit("alder", 3), 0))) == [0]


# 0 + 960 + 40 is 1,000, tick 2 to the microsecond.
def test_a_wait_that_ends_on_a_tick_is_over_at_it() -> None:
    assert scene(one(unit("alder", 3, gap_us=40), 0), one(unit("alder", 3), 1000)) == [0, 2]


# Alder goes at 500 and is out at 1,460, so birch, at tick 2, is out at 2,420, and its gap is over at 3,420.
def test_a_message_behind_another_of_its_port_is_out_later_than_its_tick_says() -> None:
    assert scene(
        one(unit("alder", 3), 1), one(unit("birch", 3, gap_us=1000), 961), one(unit("birch", 3), 2921)
    ) == [1, 2, 7]


def test_a_message_behind_that_of_the_visit_before_is_out_later_than_its_tick_says() -> None:
    first = visit(0, one(unit("alder", 3), 1))
    then = visit(1, one(unit("birch", 3, gap_us=1000), 461), one(unit("birch", 3), 2421))
    assert song(first, then) == [1, 2, 7]


# Alder goes at 500 and is out at 1,460, which its own next message need not wait for: it queues at 1,000.
def test_a_device_that_needs_no_gap_is_sent_to_while_its_last_message_is_still_on_the_wire() -> None:
    assert scene(one(unit("alder", 3), 1), one(unit("alder", 3), 961)) == [1, 2]


# Cedar goes at 1,000. Alder would go at 1,000 as well, and its track is merged first.
def test_a_track_that_comes_before_takes_the_next_tick_behind_the_visit_before() -> None:
    first, then = visit(0, one(unit("cedar", 3), 1)), visit(0, one(unit("alder", 3), 961))
    assert song(first, then, tick_us=1000) == [1, 2]


# Alder goes at 500, is out at 1,460 and has settled at 2,460; it was planned at 1,961.
def test_a_device_that_still_settles_from_the_visit_before_is_waited_for() -> None:
    first = visit(0, one(unit("alder", 3, settle_us=1000), 1))
    assert song(first, visit(1, one(unit("alder", 3), 1461))) == [1, 5]


# Birch goes at 1,000 and holds from 12,020; cedar holds from 2,920. Alder was planned at 11,980, tick 23.96.
def test_what_two_devices_must_hold_waits_for_both() -> None:
    both = mute(["alder.mix"], ["birch.out", "cedar.out"])
    rig = with_devices(rig_of({"rack": "din"}, (both,)), "alder", "birch", "cedar", "dogwood")
    assert scene(
        one(unit("dogwood", 3), 0),
        one(unit("birch", 3, moves="out", settle_us=10_060, role=Role.MUTE_ON), 960),
        one(unit("cedar", 3, moves="out", role=Role.MUTE_ON), 1920),
        one(unit("alder", 3), 11_980),
        rig=rig,
    ) == [0, 2, 4, 25]


# 4,040 is tick 8.08: at tick 9 it would have settled at 10,460, so it goes at tick 8.
def test_what_settles_late_by_rounding_goes_a_tick_earlier() -> None:
    assert song(visit(20, one(unit("alder", 3, settle_us=5000), 4040 - 10_000), on_time=True)) == [8]


# 3,999 goes at 4,000, is out at 4,960 and has settled at 5,001, a microsecond late.
def test_a_microsecond_late_is_late() -> None:
    assert song(visit(10, one(unit("alder", 3, settle_us=41), -1001), on_time=True)) == [7]


def test_a_visit_that_is_late_anyway_is_not_brought_forward() -> None:
    assert song(visit(10, one(unit("alder", 3), 0), on_time=True)) == [10]


def test_a_visit_that_need_not_land_on_time_is_rounded_up() -> None:
    assert song(visit(10, one(unit("alder", 3), 1))) == [11]


# 501 goes at 1,000 and is out at 1,960: 10 late; a tick earlier would be tick 0.002.
def test_a_visit_is_brought_forward_to_the_start_of_the_song() -> None:
    assert song(visit(1, one(unit("alder", 3, settle_us=989), -499), on_time=True)) == [0]


# Alder's second message waits until 1,060, tick 2.12, however early it is planned.
def test_a_visit_that_nothing_brings_to_land_sooner_is_left() -> None:
    first, second = one(unit("alder", 3, gap_us=100), 0), one(unit("alder", 3), 1060)
    assert song(visit(0, first, second, on_time=True)) == [0, 3]


# A quarter of 500,003 microseconds: a tick is 500,003 of the 960ths. 194,272 times 960 is 373 ticks and one.
def test_a_960th_of_a_microsecond_past_a_tick_is_the_next_tick() -> None:
    line = Timeline((TempoChange(0, 0, 500_003, Fraction(500_003, 1000)),), ())
    message = one(unit("alder", 3), 194_272)
    assert scene_ticks(RACK, line, [message]) == [(message, 374)]
