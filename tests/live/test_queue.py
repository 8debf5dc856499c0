"""In which order a port sends what it was handed, and how late batches stay whole."""

from __future__ import annotations

import pytest

from switchmatrix.live.queue import Queue
from switchmatrix.live.records import MS, Sent

A, B, C, D = b"\xf8", b"\xfa", b"\xfb", b"\xfc"


def run(queue: Queue, late_ns: int = 0) -> list[Sent]:
    """Everything sent, each message so late past the moment that the queue gives it."""
    sent = []
    while (batch := queue.next()) is not None:
        sent.append(queue.went(batch, batch.due() + late_ns))
    return sent


def test_batch_keeps_its_order() -> None:
    queue = Queue()
    queue.hand(1, [(1, 20, A), (2, 10, B)])
    assert run(queue) == [Sent(1, 20, 20, A), Sent(2, 10, 10, B)]


def test_between_batches_the_moment_decides() -> None:
    queue = Queue()
    queue.hand(1, [(1, 10, A), (2, 30, B)])
    queue.hand(2, [(3, 20, C)])
    assert run(queue) == [Sent(1, 10, 10, A), Sent(3, 20, 20, C), Sent(2, 30, 30, B)]


def test_at_one_moment_the_batch_handed_first_goes_first() -> None:
    queue = Queue()
    queue.hand(1, [(1, 10, A)])
    queue.hand(2, [(2, 10, B)])
    assert run(queue) == [Sent(1, 10, 10, A), Sent(2, 10, 10, B)]


def test_parts_of_a_batch_are_one_batch() -> None:
    queue = Queue()
    queue.hand(1, [(1, 10, A)])
    queue.hand(1, [(2, 20, B)])
    assert len(queue.batches) == 1


def test_what_is_ahead_goes_first_whatever_its_moment() -> None:
    queue = Queue()
    queue.hand(1, [(1, 10, A), (2, 20, B)])
    queue.hand(2, [(3, 500, C), (4, 600, D)], ahead=True)
    assert [one.number for one in run(queue)] == [3, 4, 1, 2]


def test_empty_batch_is_nothing() -> None:
    queue = Queue()
    queue.hand(1, [])
    assert queue == Queue()


def test_late_message_pushes_back_the_rest_of_its_batch() -> None:
    queue = Queue()
    queue.hand(1, [(1, 0, A), (2, 10 * MS, B)])
    first = queue.next()
    assert first is not None
    queue.went(first, 5 * MS)
    assert run(queue) == [Sent(2, 10 * MS, 15 * MS, B)]


def test_message_late_by_less_than_a_millisecond_pushes_nothing_back() -> None:
    queue = Queue()
    queue.hand(1, [(1, 0, A), (2, 10 * MS, B)])
    assert run(queue, late_ns=MS) == [Sent(1, 0, MS, A), Sent(2, 10 * MS, 11 * MS, B)]


def test_small_lateness_never_adds_up() -> None:
    queue = Queue()
    queue.hand(1, [(n, n * MS, A) for n in range(1, 1001)])
    assert run(queue, late_ns=MS)[-1] == Sent(1000, 1000 * MS, 1001 * MS, A)


def test_late_batch_pushes_back_no_other() -> None:
    queue = Queue()
    queue.hand(1, [(1, 0, A), (2, 10 * MS, B)])
    queue.hand(2, [(3, 12 * MS, C)])
    first = queue.next()
    assert first is not None
    queue.went(first, 5 * MS)
    assert run(queue) == [Sent(3, 12 * MS, 12 * MS, C), Sent(2, 10 * MS, 15 * MS, B)]


def test_stop_forgets_and_names_what_was_not_sent() -> None:
    queue = Queue()
    queue.hand(1, [(1, 10, A), (2, 20, B)])
    queue.hand(2, [(3, 0, C)], ahead=True)
    assert (queue.stop(), queue) == ((1, 2, 3), Queue())


def test_sent_are_counted() -> None:
    queue = Queue()
    queue.hand(1, [(1, 10, A), (2, 20, B)])
    run(queue)
    assert queue == Queue(sent=2)


def test_batch_handed_after_a_late_one_does_not_overtake_it() -> None:
    queue = Queue()
    queue.hand(1, [(1, 0, b"\xc6\x1f"), (2, 93 * MS, b"\xb6\x15\x60")])
    queue.hand(2, [(3, 100 * MS, b"\xc6\x00")])
    first = queue.next()
    assert first is not None
    queue.went(first, 20 * MS)
    order = []
    while (batch := queue.next()) is not None:
        order.append((batch.due(), queue.went(batch, batch.due()).number))
    assert order == [(113 * MS, 2), (120 * MS, 3)]


def late_by(*late_ms: int) -> Queue:
    """A queue of which each message so far has left so late, past when the queue had it due."""
    queue = Queue()
    for number, ms in enumerate(late_ms, 1):
        queue.hand(number, [(number, number * 100 * MS, b"\xc6\x1f")])
        batch = queue.next()
        assert batch is not None
        queue.went(batch, batch.due() + ms * MS)
    return queue


def leave(queue: Queue, moment: int) -> None:
    """The next message leaves."""
    batch = queue.next()
    assert batch is not None
    queue.went(batch, moment)


def due(queue: Queue) -> int:
    """When the next message is due."""
    batch = queue.next()
    assert batch is not None
    return batch.due()


@pytest.mark.parametrize(("knows", "expected_ms"), [(0, 1_032), (1, 1_012), (2, 1_012), (3, 1_000)])
def test_batch_is_as_late_as_what_its_planner_did_not_know_of(knows: int, expected_ms: int) -> None:
    queue = late_by(20, 0, 12)
    queue.hand(4, [(4, 1_000 * MS, b"\xb6\x15\x60")], knows=knows)
    assert due(queue) == expected_ms * MS


def test_what_goes_ahead_is_as_late_too() -> None:
    queue = late_by(20)
    queue.hand(2, [(2, 1_000 * MS, b"\xb6\x15\x60")], ahead=True)
    assert due(queue) == 1_020 * MS


def test_small_lateness_is_not_handed_on() -> None:
    queue = late_by(1)
    queue.hand(2, [(2, 1_000 * MS, b"\xb6\x15\x60")])
    assert due(queue) == 1_000 * MS


def test_late_message_says_by_how_much_it_pushes_back_what_follows() -> None:
    queue = Queue()
    queue.hand(1, [(n, n * 10 * MS, b"\xb6\x15\x60") for n in range(1, 5)])
    pushed = []
    for late_ms in (0, 5, 6, 9):
        batch = queue.next()
        assert batch is not None
        planned = batch.messages[0][1]
        pushed.append(queue.went(batch, planned + late_ms * MS).pushed_ns)
    assert pushed == [0, 5 * MS, 0, 4 * MS]


def test_what_was_planned_knowing_is_pushed_back_by_what_comes_later_only() -> None:
    queue = Queue()
    queue.hand(1, [(1, 0, b"\xc6\x1f"), (2, 100 * MS, b"\xb6\x15\x60")])
    leave(queue, 5 * MS)
    queue.hand(2, [(3, 200 * MS, b"\xc6\x00")], knows=1)
    leave(queue, 108 * MS)
    assert due(queue) == 203 * MS


def test_what_depends_on_nothing_before_is_not_pushed_back() -> None:
    queue = Queue()
    queue.hand(1, [(1, 0, b"\xc6\x1f"), (2, 100 * MS, b"\xb6\x15\x60")], knows=None)
    queue.hand(2, [(3, 90 * MS, b"\xc6\x00")], knows=None)
    leave(queue, 20 * MS)
    queue.hand(3, [(4, 95 * MS, b"\xc6\x01")], knows=None)
    assert [(one.number, one.sent_ns) for one in run(queue)] == [(3, 90 * MS), (4, 95 * MS), (2, 120 * MS)]


def test_clock_holds_up_nothing_and_is_not_held_up() -> None:
    queue = Queue()
    queue.hand(1, [(1, 0, b"\xf8"), (2, 20 * MS, b"\xf8")])
    leave(queue, 15 * MS)
    queue.hand(2, [(3, 30 * MS, b"\xc6\x00")])
    queue.hand(3, [(4, 31 * MS, b"\xf8")])
    assert [batch.slip for batch in queue.batches.values()] == [15 * MS, 0, 0]
