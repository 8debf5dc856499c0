"""The shortest change time that bytes and waits allow.

On one port: whenever it is free, the message with the longest way after it is sent, and gives way to one
with a longer way (Jackson's rule, preemptive; common practice in scheduling). A byte takes 320
microseconds (MIDI 1.0 Detailed Specification 4.2.1, p. 1).
"""

from __future__ import annotations

from functools import cache
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from switchmatrix.compile.bound import lower_bound_us
from switchmatrix.compile.schedule import schedule
from switchmatrix.compile.step import Role, Step
from tests.compile.cases import Case, drawn, mute, rig_of, unit
from tests.compile.drawn import Dice
from tests.compile.forcing import forced_by

BYTE = 320
PORTS = rig_of({"rack": "din", "floor": "din", "board": "usb"})

Triple = tuple[int, int, int]
"""How many bytes' time a message waits before it can go, its bytes, and how long its device settles."""


def one_machine(*messages: Triple) -> tuple[Step, ...]:
    """Messages on one port, each behind one of no bytes' time to its own device that settles first."""
    return tuple(
        step
        for n, (head, size, tail) in enumerate(messages, 1)
        for step in (
            *unit(f"box-{n}", 3, port="board", channel=n, settle_us=head * BYTE),
            *unit(f"box-{n}", size, channel=n, settle_us=tail * BYTE),
        )
    )


# By hand, in bytes' time. Each row of the comment: who is on the wire, until when.
@pytest.mark.parametrize(
    ("messages", "bound"),
    [
        ([], 0),
        # the only one 2-5, settled at 9
        ([(2, 3, 4)], 9),
        # the longer way first: second 0-2, settled at 9; first 2-6, settled at 7
        ([(0, 4, 1), (0, 2, 7)], 9),
        # first 0-1, gives way to second 1-3, settled at 10; third 3-4, settled at 8; first 4-7, settled at 8
        ([(0, 4, 1), (1, 2, 7), (3, 1, 4)], 10),
        # first 0-3 (a shorter way does not break in), settled at 8; second 3-5, settled at 6
        ([(0, 3, 5), (1, 2, 1)], 8),
        # nothing until 4: first 4-5, gives way to second 5-7, settled at 10; first 7-9, settled at 9
        ([(4, 3, 0), (5, 2, 3)], 10),
        # one after the other, all of no way after them: 2 + 3 + 4
        ([(0, 2, 0), (0, 3, 0), (0, 4, 0)], 9),
    ],
)
def test_bound_of_one_port_is_as_worked_by_hand(messages: list[Triple], bound: int) -> None:
    assert lower_bound_us(PORTS, one_machine(*messages)) == bound * BYTE


def least_in_pieces(messages: list[Triple]) -> int:
    """The least of all ways to send the messages byte by byte, any of them broken off at any byte."""
    tails = [tail for _, _, tail in messages]

    @cache
    def least(now: int, left: tuple[int, ...]) -> int:
        if not any(left):
            return 0
        can = [n for n, (head, _, _) in enumerate(messages) if left[n] and head <= now]
        ways = [least(now + 1, left)] if len(can) < sum(map(bool, left)) else []
        for n in can:
            after = (*left[:n], left[n] - 1, *left[n + 1 :])
            done = now + 1 + tails[n] if left[n] == 1 else 0
            ways.append(max(done, least(now + 1, after)))
        return min(ways)

    return least(0, tuple(size for _, size, _ in messages))


SMALL = st.tuples(st.integers(0, 5), st.integers(1, 3), st.integers(0, 6))


@settings(max_examples=300, deadline=None)
@given(st.lists(SMALL, min_size=1, max_size=4))
def test_bound_of_one_port_is_the_least_of_all_ways_in_pieces(messages: list[Triple]) -> None:
    assert lower_bound_us(PORTS, one_machine(*messages)) == least_in_pieces(messages) * BYTE


def test_bound_is_the_least_for_every_three_messages_of_few_bytes() -> None:
    few = list(product((0, 2), (1, 2), (0, 3)))
    threes = [list(three) for three in product(few, repeat=3)]
    assert [
        three
        for three in threes
        if lower_bound_us(PORTS, one_machine(*three)) != least_in_pieces(three) * BYTE
    ] == []


# Recall 640 and its settle, control 960, and its settle.
def test_bound_of_one_device_is_its_chain() -> None:
    steps = (*unit("echo", 2, settle_us=35000, role=Role.RECALL), *unit("echo", 3, settle_us=4000))
    assert lower_bound_us(PORTS, steps) == 640 + 35000 + 960 + 4000


# Both take something again 10,000 after their 960, and the second of the two waits for the first's 2,880.
def test_a_port_that_devices_come_back_to_counts_from_when_they_can() -> None:
    steps = (
        *unit("echo", 3, settle_us=10000),
        *unit("hall", 3, settle_us=10000),
        *unit("echo", 9),
        *unit("hall", 9),
    )
    assert lower_bound_us(PORTS, steps) == 960 + 10000 + 2880 + 2880


def test_a_gap_is_part_of_the_chain_but_not_after_its_end() -> None:
    assert lower_bound_us(PORTS, tuple(unit("echo", 3, 3, gap_us=2000))) == 960 + 2000 + 960


# The mixer's own two, 5 ms before and 10 ms after, and between them the amp's 960 and its settle.
def test_a_mute_adds_its_on_and_off() -> None:
    rig = rig_of({"rack": "din"}, (mute(["amp.channel"], ["mixer.out"], 5000, 10000),))
    steps = (
        *unit("mixer", 3, settle_us=1000, moves="out", role=Role.MUTE_ON),
        *unit("amp", 3, channel=2, settle_us=20000, moves="channel"),
        *unit("mixer", 3, settle_us=1000, moves="out", role=Role.MUTE_OFF),
    )
    assert lower_bound_us(rig, steps) == 960 + 1000 + 5000 + 960 + 20000 + 10000 + 960 + 1000


def test_bound_is_the_greatest_of_the_ports() -> None:
    steps = (*unit("echo", 3), *unit("gate", 3), *unit("wah", 3, port="floor"))
    assert lower_bound_us(PORTS, steps) == 2 * 960


def test_on_a_usb_port_only_waits_count() -> None:
    steps = (*unit("echo", 2, port="board", settle_us=700), *unit("gate", 3, port="board"))
    assert lower_bound_us(PORTS, steps) == 700


LARGE = st.builds(
    lambda data, devices: drawn(Dice(data), devices, 3 * devices),
    st.binary(min_size=160, max_size=160),
    st.sampled_from([3, 6, 8]),
)


@settings(max_examples=300, deadline=None)
@given(LARGE)
def test_no_change_takes_less_than_its_bound(case: Case) -> None:
    assert schedule(case.rig, case.steps).change_time_us() >= lower_bound_us(case.rig, case.steps), (
        case.shown()
    )


@settings(max_examples=150, deadline=None)
@given(LARGE, LARGE, st.integers(0, 40_000))
def test_no_change_takes_less_than_its_bound_while_another_is_under_way(
    one: Case, two: Case, at_us: int
) -> None:
    busy = schedule(two.rig, one.steps).busy
    assert schedule(two.rig, two.steps, at_us, busy).change_time_us() >= lower_bound_us(two.rig, two.steps)


@settings(max_examples=150, deadline=None)
@given(LARGE)
def test_a_change_far_over_its_bound_has_a_wait_without_which_it_is_shorter(case: Case) -> None:
    ratio = schedule(case.rig, case.steps).change_time_us() / max(1, lower_bound_us(case.rig, case.steps))
    assert ratio <= 1.1 or forced_by(case) is not None, case.shown()


# The slow box's unit shuts its channel for 3,920, and the loop's two messages wait for it: without that,
# they go inside its gap.
def test_a_unit_that_shuts_a_channel_is_named() -> None:
    steps = (*unit("slow", 3, 3, gap_us=4000), *unit("loop", 3, settle_us=4000))
    case = Case(PORTS, steps)
    assert lower_bound_us(PORTS, steps) == 960 + 4000 + 960
    assert forced_by(case) == "loop shares channel 1"


# The wah's nine bytes begin before the echo takes something again, and hold it up by 880.
def test_a_message_that_takes_the_port_is_named() -> None:
    steps = (
        *unit("echo", 3, 3, gap_us=2000),
        *unit("echo", 3, settle_us=1000),
        *unit("wah", 9, channel=2),
    )
    assert forced_by(Case(PORTS, steps)) == "rack is taken by wah"
