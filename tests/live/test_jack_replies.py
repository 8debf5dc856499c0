"""Replies that no sound box would give, over a real JACK server: each is told, and nothing hangs."""

from __future__ import annotations

import time

from switchmatrix.live.identity import read_reply
from switchmatrix.live.line_check.asking import MOST_KEPT, ask
from switchmatrix.live.line_check.records import Round
from switchmatrix.live.machine import Machine
from tests.live.boxes import Answer, box
from tests.live.rigs import run_on

BENCH = run_on("bench").rig
ANSWER = "F07E1006027D0100020000000100F7"
CUT = "F07E1006027DF7"


def never() -> bool:
    """Nobody wishes it to end."""
    return False


def asked(jack: Machine, answers: list[Answer], rounds: int = 1) -> tuple[Round, ...]:
    """What a box with these answers brings; one reply is expected."""
    with box(jack, BENCH, "shelf", answers) as wires:
        found = ask(wires, {"shelf": 1}, never, rounds)
    assert isinstance(found, dict)
    return found["shelf"]


def test_reply_of_these_tests_is_one() -> None:
    assert read_reply(bytes.fromhex(ANSWER)) is not None


def test_sound_reply_is_timed_in_every_round(jack: Machine) -> None:
    rounds = asked(jack, [(0.01, ANSWER, 1)], rounds=3)
    assert [len(one.replies) for one in rounds] == [1, 1, 1]
    assert all(10_000_000 <= one.replies[0].after_ns < 400_000_000 for one in rounds)


def test_device_that_answers_twice_is_heard_twice(jack: Machine) -> None:
    (one,) = asked(jack, [(0, ANSWER, 2)])
    assert len(one.replies) == 2


def test_reply_after_the_time_out_is_late(jack: Machine) -> None:
    (one,) = asked(jack, [(0.8, ANSWER, 1)])
    assert (len(one.replies), len(one.late)) == (0, 1)
    assert one.late[0].after_ns >= 800_000_000


def test_reply_that_is_cut_short_is_told_and_is_no_reply(jack: Machine) -> None:
    (one,) = asked(jack, [(0, CUT, 1)])
    assert (one.replies, one.cut) == ((), (bytes.fromhex(CUT),))


def test_flood_of_replies_ends_in_time_and_is_told(jack: Machine) -> None:
    start = time.monotonic()
    (one,) = asked(jack, [(0, ANSWER, 10_000)])
    assert len(one.replies) == MOST_KEPT
    assert one.flood > 0
    assert time.monotonic() - start < 30


def test_garbage_hides_no_reply(jack: Machine) -> None:
    (one,) = asked(jack, [(0, "3C4A01", 20), (0.02, "C5", 20), (0.02, "F4F5FD", 20), (0.02, ANSWER, 1)])
    assert len(one.replies) == 1


def test_system_exclusive_without_end_hides_no_later_reply(jack: Machine) -> None:
    (one,) = asked(jack, [(0, "F07E1006027D01", 1), (0.05, ANSWER, 1)])
    assert len(one.replies) == 1


def test_silent_box_costs_the_wait_for_late_replies_once(jack: Machine) -> None:
    start = time.monotonic()
    rounds = asked(jack, [], rounds=3)
    assert [(one.replies, one.late) for one in rounds] == [((), ())] * 3
    assert time.monotonic() - start < 20
