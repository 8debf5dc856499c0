"""One line: how much of each send is surely through, and how much may be."""

from __future__ import annotations

from switchmatrix.live.records import MS, Heard, Lost, Refused
from switchmatrix.live.rehearsing.line import CLOCKS, Line
from switchmatrix.live.stepping.inputs import Count
from tests.live.rehearsing.puppets import Puppet, PuppetIn, dues


def handed(*sizes: int) -> tuple[Line, Puppet]:
    """A line with sends 1, 2, ... of so many messages each."""
    out = Puppet()
    line = Line("rack", out, None)
    for n, size in enumerate(sizes, 1):
        line.hand(n, dues(size, from_ms=100 * n))
    return line, out


def test_port_lost_in_mid_send_tells_certain_from_may_have_from_never() -> None:
    line, out = handed(6)
    out.go(3)
    out.certain = 2
    out.lose(certain=2, unknown=4)
    line.pump()
    assert line.counts() == (Count(1, "rack", 2, 4),)


def test_count_is_of_each_send_that_is_under_way() -> None:
    line, out = handed(3, 3, 2)
    out.go(4)
    out.certain = 4
    out.lose(certain=4, unknown=5)
    line.pump()
    assert line.counts() == (Count(1, "rack", 3, 3), Count(2, "rack", 1, 2), Count(3, "rack", 0, 0))


def test_what_a_lost_port_may_have_sent_is_what_was_due_first() -> None:
    out = Puppet()
    line = Line("rack", out, None)
    line.hand(1, dues(2, from_ms=500))
    line.hand(2, dues(2, from_ms=10), ahead=True)
    out.lose(certain=0, unknown=3)
    line.pump()
    assert line.counts() == (Count(1, "rack", 0, 1), Count(2, "rack", 0, 2))


def test_beat_that_is_back_after_the_loss_proves_nothing_of_the_port_that_was_gone() -> None:
    line, out = handed(4)
    out.go(3)
    out.lose(certain=1, unknown=3)
    out.certain = 3
    line.pump()
    assert line.counts() == (Count(1, "rack", 1, 3),)


def test_what_left_beside_a_dropped_beat_is_not_proved_by_the_next_one() -> None:
    line, out = handed(4)
    out.go(2)
    out.certain = 1
    line.pump()
    out.missed, out.certain = 1, 2
    line.pump()
    assert (line.dropped, line.counts()) == (1, (Count(1, "rack", 1, 2),))


def test_after_a_dropped_beat_was_told_beats_prove_what_is_sent_from_then_on() -> None:
    line, out = handed(2)
    out.missed = 1
    line.stop()
    line.drop()
    line.calm()
    line.hand(2, dues(1))
    out.go(1)
    out.certain = 1
    line.pump()
    assert (line.dropped, line.busy_with(2)) == (0, False)


def test_send_is_busy_until_its_last_message_is_proved() -> None:
    line, out = handed(2)
    out.go(2)
    out.certain = 1
    line.pump()
    before = line.busy_with(1)
    out.certain = 2
    line.pump()
    assert (before, line.busy_with(1)) == (True, False)


def test_without_beats_a_message_that_left_counts_as_through() -> None:
    line, out = handed(2)
    out.beats = False
    out.go(2)
    line.pump()
    assert not line.busy_with(1)


def test_without_beats_what_the_port_says_only_as_it_is_lost_may_have_gone() -> None:
    line, out = handed(3)
    out.beats = False
    out.go(1)
    line.pump()
    out.go(1)
    out.lose(certain=0, unknown=2)
    line.pump()
    assert line.counts() == (Count(1, "rack", 1, 2),)


def test_stopped_port_has_sent_what_left_before_it_stopped() -> None:
    line, out = handed(5)
    out.go(1)
    out.at_stop = 2
    out.certain = 2
    line.stop()
    assert line.counts() == (Count(1, "rack", 2, 3),)


def test_refused_batch_leaves_no_count() -> None:
    out = Puppet(refuses="too long")
    line = Line("rack", out, None)
    assert (line.hand(1, dues(2)), line.counts()) == (Refused("out", "too long"), ())


def test_clocks_are_nobodys_send() -> None:
    line, out = handed(2)
    line.hand(CLOCKS, dues(3))
    out.go(5)
    out.certain = 4
    line.pump()
    assert line.counts() == (Count(1, "rack", 2, 2),)


def test_clocks_that_were_due_before_a_loss_are_not_counted_as_the_sends() -> None:
    out = Puppet()
    line = Line("rack", out, None)
    line.hand(1, dues(1, from_ms=100))
    line.hand(CLOCKS, dues(2, from_ms=1))
    out.lose(certain=0, unknown=2)
    line.pump()
    assert line.counts() == (Count(1, "rack", 0, 0),)


def test_the_moment_of_the_last_send_is_no_clocks_moment() -> None:
    line, out = handed(1)
    line.hand(CLOCKS, dues(1, from_ms=900))
    out.go(2)
    line.pump()
    assert line.last_ns == 100 * MS


def test_lost_return_is_a_lost_port() -> None:
    back = PuppetIn()
    line = Line("rack", Puppet(), back)
    back.lost = Lost("in", "its process ended", 0, 0)
    assert line.lost == back.lost


def test_port_whose_return_is_lost_has_surely_not_sent_what_it_still_had() -> None:
    out, back = Puppet(), PuppetIn()
    line = Line("rack", out, back)
    line.hand(1, dues(4))
    out.go(2)
    out.certain = 1
    back.lost = Lost("in", "its process ended", 0, 0)
    line.stop()
    assert line.counts() == (Count(1, "rack", 1, 2),)


def test_given_up_ports_count_as_lost_so_that_closing_them_asks_no_server() -> None:
    out, back = Puppet(), PuppetIn(came=[Heard(1, b"\xf8")])
    line = Line("rack", out, back)
    back.lost = Lost("in", "its process ended", 0, 0)
    assert line.given_up() == (out, back)
    assert (out.lost, back.came) == (Lost("out", "its process ended", 0, 0), [])


def test_what_came_is_told_once() -> None:
    back = PuppetIn(came=[Heard(1, b"\xf8")])
    line = Line("rack", Puppet(), back)
    line.pump()
    assert (line.heard(), line.heard()) == ((Heard(1, b"\xf8"),), ())


def test_nothing_is_kept_of_a_thousand_sends_that_are_through() -> None:
    out = Puppet()
    line = Line("rack", out, None)
    for n in range(1, 1_001):
        line.hand(n, dues(3))
        line.hand(CLOCKS, dues(2))
        out.go(5)
        out.certain += 5
        line.pump()
        line.forget(n)
    kept = (line._waiting, line._unproved, line._size, line._sure, line._came)
    assert [len(one) for one in kept] == [0, 0, 0, 0, 0]


def test_nothing_is_kept_of_a_thousand_sends_that_were_dropped() -> None:
    out = Puppet()
    line = Line("rack", out, None)
    for n in range(1, 1_001):
        line.hand(n, dues(3))
        out.go(1)
        line.stop()
        line.drop()
        out.certain += 1
    line.pump()
    kept = (line._waiting, line._unproved, line._size, line._sure)
    assert [len(one) for one in kept] == [0, 0, 0, 0]
