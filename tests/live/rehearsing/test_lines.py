"""All ports of a rig: what is told of sends, of losses, and of what comes back."""

from __future__ import annotations

import threading
import time
from dataclasses import replace

from switchmatrix.live.loop import Loop
from switchmatrix.live.records import LONGEST_ON_JACK, MS, Due, Heard, Lost
from switchmatrix.live.rehearsing import lines as rehearsing_lines
from switchmatrix.live.rehearsing.lines import Report, RigLines
from switchmatrix.live.rehearsing.opening import opener
from switchmatrix.live.stepping.inputs import Count, Done, Late, PortBack, PortLost, SendFailed
from tests.live.kit import until
from tests.live.rehearsing.puppets import (
    RIG,
    Opener,
    Puppet,
    PuppetIn,
    Stillness,
    opening,
    reports,
    rig_lines,
    send,
)
from tests.live.stepping.kit import SHOW

DROPPED = "the MIDI server dropped 1 of its own beats, so maybe messages"


def two() -> tuple[Puppet, Puppet, RigLines]:
    """Two ports, open."""
    rack, floor = Puppet("rack out"), Puppet("floor out")
    return rack, floor, rig_lines(opening({"rack": rack, "floor": floor}))


def through(*outs: Puppet) -> None:
    """All that a port was handed leaves and is proved."""
    for out in outs:
        out.go(out.waiting())
        out.certain = len(out.handed)


def test_send_is_done_when_every_port_has_proved_its_messages() -> None:
    rack, floor, lines = two()
    lines.send(send(1, "rrf"))
    through(rack)
    floor.go(1)
    before = reports(lines)
    floor.certain = 1
    assert (before, reports(lines)) == ([], [Done(RIG, 1)])


def test_done_is_told_once() -> None:
    rack, floor, lines = two()
    lines.send(send(1, "rf"))
    through(rack, floor)
    assert (reports(lines), reports(lines)) == ([Done(RIG, 1)], [])


def test_of_two_ports_of_which_one_is_lost_the_other_is_stopped_before_it_is_counted() -> None:
    rack, floor, lines = two()
    lines.send(send(1, "rrrfff"))
    rack.go(1)
    rack.lose(certain=1, unknown=2)
    floor.go(1)
    floor.at_stop, floor.certain = 1, 1
    counts = (Count(1, "rack", 1, 2), Count(1, "floor", 1, 2))
    assert reports(lines)[0] == PortLost(RIG, "rack", "the cable is out", counts)
    assert (floor.stops, floor.waiting()) == (1, 0)


def test_both_ports_lost_at_once_are_told_with_the_same_counts() -> None:
    rack, floor, lines = two()
    lines.send(send(1, "rf"))
    rack.lose(certain=0, unknown=1)
    floor.lose(certain=0, unknown=0)
    counts = (Count(1, "rack", 0, 1), Count(1, "floor", 0, 0))
    told = [PortLost(RIG, port, "the cable is out", counts) for port in ("rack", "floor")]
    assert reports(lines)[:2] == told


def test_send_to_a_port_that_is_not_open_stops_the_rest_and_says_what_went() -> None:
    rack = Puppet("rack out")
    lines = rig_lines(opening({"rack": rack}, shut={"floor": "nothing is there"}))
    told = reports(lines)
    lines.send(send(1, "rr"))
    rack.go(1)
    rack.certain = 1
    lines.send(send(2, "rf", from_ms=50))
    counts = (Count(1, "rack", 1, 1), Count(2, "rack", 0, 0), Count(2, "floor", 0, 0))
    assert told == [PortLost(RIG, "floor", "nothing is there")]
    failed = SendFailed(RIG, "floor", "the port is not open: nothing is there", counts)
    assert (reports(lines), rack.waiting()) == ([failed], 0)


def test_send_to_a_port_that_the_rigs_file_has_only_since_then_says_so() -> None:
    _, _, lines = two()
    lines.ports = ("rack",)
    lines._links[0].lines.pop()
    lines.send(send(1, "f"))
    why = "the port is not open: it was not among the rig's ports when this run began"
    assert reports(lines) == [SendFailed(RIG, "floor", why, (Count(1, "floor", 0, 0),))]


def test_message_too_long_for_its_port_stops_what_other_ports_were_handed() -> None:
    rack, floor, lines = two()
    floor.refuses = f"a message is too long: {LONGEST_ON_JACK} are the most"
    lines.send(send(1, "rrf"))
    counts = (Count(1, "rack", 0, 0), Count(1, "floor", 0, 0))
    assert reports(lines) == [SendFailed(RIG, "floor", floor.refuses, counts)]
    assert rack.waiting() == 0


def test_send_to_a_port_that_has_just_been_lost_is_told_as_the_loss() -> None:
    rack, floor, lines = two()
    rack.lose(certain=0, unknown=0)
    lines.send(send(1, "fr"))
    counts = (Count(1, "floor", 0, 0), Count(1, "rack", 0, 0))
    assert reports(lines)[0] == PortLost(RIG, "rack", "the cable is out", counts)
    assert floor.waiting() == 0


def test_nothing_is_sent_while_a_fault_is_yet_to_be_told() -> None:
    rack, floor, lines = two()
    floor.refuses = "no"
    lines.send(send(1, "rf"))
    lines.send(send(2, "r"))
    counts = (Count(1, "rack", 0, 0), Count(1, "floor", 0, 0), Count(2, "rack", 0, 0))
    assert (reports(lines), rack.waiting()) == ([SendFailed(RIG, "floor", "no", counts)], 0)


def test_of_two_faults_the_second_tells_of_what_was_to_be_sent_after_the_first() -> None:
    rack, floor, lines = two()
    rack.lose(certain=0, unknown=0)
    floor.lose(certain=0, unknown=0)
    told = lines.poll(0)
    first = next(told)
    lines.send(send(1, "f"))
    second = next(told)
    assert first == PortLost(RIG, "rack", "the cable is out")
    assert second == PortLost(RIG, "floor", "the cable is out", (Count(1, "floor", 0, 0),))


def test_after_a_fault_was_told_the_ports_that_live_are_sent_to() -> None:
    rack, floor, lines = two()
    rack.lose(certain=0, unknown=0)
    reports(lines)
    lines.send(send(1, "f"))
    through(floor)
    assert reports(lines) == [Done(RIG, 1)]


def test_dropped_beat_fails_what_is_under_way_and_proves_none_of_it() -> None:
    rack, _, lines = two()
    lines.send(send(1, "rrf"))
    rack.go(2)
    rack.certain = 1
    before = reports(lines)
    rack.missed, rack.certain = 1, 2
    counts = (Count(1, "rack", 1, 2), Count(1, "floor", 0, 0))
    assert (before, reports(lines)) == ([], [SendFailed(RIG, "rack", DROPPED, counts)])


def test_dropped_beat_is_told_once_and_the_next_send_is_done() -> None:
    rack, floor, lines = two()
    rack.missed = floor.missed = 1
    told = reports(lines)
    lines.send(send(1, "rf"))
    through(rack, floor)
    assert (told, reports(lines)) == ([SendFailed(RIG, "rack", DROPPED)], [Done(RIG, 1)])


def test_beats_dropped_before_the_lines_were_taken_are_nobodys_messages() -> None:
    first = opening({"rack": (rack := Puppet())})
    rack.missed = 3
    assert reports(rig_lines(first)) == []


def test_beat_dropped_as_a_port_is_lost_is_told_with_the_loss_alone() -> None:
    rack, floor, lines = two()
    rack.lose(certain=0, unknown=0)
    floor.missed = 1
    told = reports(lines)
    assert told == [PortLost(RIG, "rack", "the cable is out")]
    assert reports(lines) == []


def test_port_missing_at_the_start_is_told_and_later_there() -> None:
    again = Opener()
    lines = rig_lines(opening({"rack": Puppet()}, shut={"floor": "nothing is there"}), again)
    first = reports(lines, 0)
    again.next.append(opening({"floor": Puppet()}))
    told = [reports(lines, ms) for ms in (500, 1_000, 1_001)]
    assert first == [PortLost(RIG, "floor", "nothing is there")]
    assert told == [[], [], [PortBack(RIG, "floor")]]
    assert again.asked == [(("floor",), ()), (("floor",), ())]


def test_lost_port_that_is_back_is_sent_to() -> None:
    again = Opener()
    rack, floor, lines = two()
    lines._open = again
    again.next.append(opening({"rack": (new := Puppet())}))
    rack.lose(certain=0, unknown=0)
    reports(lines)
    assert reports(lines) == [PortBack(RIG, "rack")]
    lines.send(send(1, "rf"))
    through(new, floor)
    assert reports(lines) == [Done(RIG, 1)]


def test_port_that_is_lost_again_is_told_again() -> None:
    again = Opener()
    _, _, lines = two()
    lines._open = again
    new = Puppet()
    again.next.append(opening({"rack": new}))
    old = lines.line("rack")
    assert old is not None
    assert isinstance(old.output, Puppet)
    old.output.lose(certain=0, unknown=0)
    told = [reports(lines), reports(lines)]
    new.lose(certain=0, unknown=0)
    told.append(reports(lines))
    lost, back = PortLost(RIG, "rack", "the cable is out"), PortBack(RIG, "rack")
    assert told == [[lost], [back], [lost]]


def test_lost_port_and_its_return_are_closed_before_it_is_opened_anew() -> None:
    closed: list[bool] = []
    rack, back, stage = Puppet(), PuppetIn(), Stillness()
    again = Opener(first=lambda: closed.extend((rack.closed, back.closed)))
    first = opening({"rack": rack, "floor": Puppet()}, {"rack": back}, transport=stage)
    lines = rig_lines(first, again)
    back.lost = Lost("in", "its process ended", 0, 0)
    reports(lines)
    assert (closed, stage.closed) == ([True, True], False)


def test_transport_is_closed_when_its_last_port_is_lost() -> None:
    stage = Stillness()
    rack = Puppet()
    lines = rig_lines(opening({"rack": rack}, transport=stage))
    rack.lose(certain=0, unknown=0)
    reports(lines)
    assert stage.closed


def test_transport_on_which_nothing_could_be_opened_is_closed() -> None:
    stage = Stillness()
    lines = rig_lines(opening({}, shut={"rack": "no", "floor": "no"}, transport=stage))
    reports(lines)
    assert stage.closed


def test_port_that_had_a_return_is_awaited_with_it_and_after_a_while_taken_without() -> None:
    again = Opener()
    rack = Puppet()
    lines = rig_lines(opening({"rack": rack}, {"rack": PuppetIn()}), again)
    rack.lose(certain=0, unknown=0)
    for second in range(7):
        reports(lines, second * 1_000)
    assert [whole for _, whole in again.asked] == [("rack",)] * 5 + [()] * 2


def test_port_without_a_return_is_not_made_to_wait_for_one() -> None:
    again = Opener()
    rack = Puppet()
    lines = rig_lines(opening({"rack": rack}), again)
    rack.lose(certain=0, unknown=0)
    reports(lines)
    assert again.asked == [(("rack",), ())]


def test_ports_that_cannot_be_tried_at_all_say_why_and_are_tried_again() -> None:
    def fails() -> None:
        raise OSError(24, "Too many open files")

    again = Opener(first=fails)
    first = opening({}, shut={"rack": "nothing is there"})
    lines = RigLines(RIG, ("rack",), again, first, at_once=False)
    for ms in (0, 1_000, 2_000):
        reports(lines, ms)
        assert until(lambda: lines._thread is None or not lines._thread.is_alive(), 5)
    assert again.asked == [(("rack",), ())] * 3
    assert lines.health() == {"rack": "lost: it cannot be opened: Too many open files"}


def test_opening_that_hangs_in_a_thread_holds_up_nothing() -> None:
    gate = threading.Event()
    rack, new = Puppet(), Puppet()
    again = Opener([opening({"rack": new})], first=lambda: gate.wait(20))
    lines = RigLines(RIG, ("rack",), again, opening({"rack": rack}), at_once=False)
    rack.lose(certain=0, unknown=0)
    start = time.monotonic()
    told = [reports(lines, ms) for ms in (0, 2_000, 4_000)]
    took = time.monotonic() - start
    gate.set()
    assert until(lambda: not again.next, 10)
    assert until(lambda: told[-1] == [PortBack(RIG, "rack")] or _more(told, lines), 10)
    assert told[0] == [PortLost(RIG, "rack", "the cable is out")]
    assert took < 5
    assert lines.line("rack") is not None
    assert not new.closed


def _more(told: list[list[Report]], lines: RigLines) -> bool:
    """Listen once more; False."""
    told.append(reports(lines, 6_000))
    return False


def test_closing_while_opening_hangs_ends_and_what_is_then_opened_is_closed_too() -> None:
    gate = threading.Event()
    stage = Stillness()
    again = Opener([opening({"rack": Puppet()}, transport=stage)], first=lambda: gate.wait(20))
    lines = RigLines(RIG, ("rack",), again, opening({}, shut={"rack": "no"}), at_once=False)
    reports(lines)
    start = time.monotonic()
    lines.close()
    took = time.monotonic() - start
    gate.set()
    assert until(lambda: stage.closed, 10)
    assert took < rehearsing_lines.ENDS_S + 5


def test_closing_closes_what_was_just_opened_and_is_not_yet_taken() -> None:
    stage = Stillness()
    again = Opener([opening({"rack": Puppet()}, transport=stage)])
    lines = rig_lines(opening({}, shut={"rack": "no"}), again)
    reports(lines)
    lines.close()
    assert stage.closed


def test_closing_closes_open_and_lost_ports() -> None:
    stage, rack, floor = Stillness(), Puppet(), Puppet()
    lines = rig_lines(opening({"rack": rack, "floor": floor}, transport=stage))
    lines._again_ns = 1 << 62
    rack.lose(certain=0, unknown=0)
    reports(lines)
    lines.close()
    assert (stage.closed, rack.closed) == (True, True)


def test_drop_stops_every_port_and_nothing_more_is_told_of_the_send() -> None:
    rack, floor, lines = two()
    lines.send(send(1, "rf"))
    rack.go(1)
    lines.drop()
    rack.certain = 1
    assert (rack.waiting(), floor.waiting(), reports(lines)) == (0, 0, [])


def test_what_came_is_told_by_port() -> None:
    back = PuppetIn(came=[Heard(5, b"\xf8")])
    lines = rig_lines(opening({"rack": Puppet(), "floor": Puppet()}, {"floor": back}))
    reports(lines)
    assert (lines.heard(), lines.heard()) == ({"floor": (Heard(5, b"\xf8"),)}, {})


def test_clocks_for_a_port_that_is_lost_go_nowhere() -> None:
    _, floor, lines = two()
    floor.lose(certain=0, unknown=0)
    reports(lines)
    lines.clocks("floor", (Due(1, b"\xf8"),))
    assert floor.handed == []


def test_health_says_each_port_in_words() -> None:
    rack, floor = Puppet(), Puppet(beats=False)
    lines = rig_lines(opening({"rack": rack, "floor": floor}, deaf={"rack": "the machine has no such input"}))
    said = dict(lines.health())
    rack.lose(certain=0, unknown=0)
    reports(lines)
    assert (said, lines.health()["rack"]) == (
        {
            "rack": "open, and its return is not there: the machine has no such input",
            "floor": "open, not watched: a dead server goes unnoticed",
        },
        "lost: the cable is out",
    )


def test_nothing_is_kept_of_a_thousand_sends_that_are_through() -> None:
    rack, floor, lines = two()
    for n in range(1, 1_001):
        lines.send(send(n, "rrf"))
        through(rack, floor)
        assert reports(lines) == [Done(RIG, n)]
    assert (len(lines._sends), len(lines._reports), len(lines._dead)) == (0, 0, 0)


def test_lost_port_is_tried_every_second_and_after_a_while_every_five() -> None:
    again = Opener()
    lines = rig_lines(opening({"rack": Puppet()}, shut={"floor": "no"}), again)
    tried = []
    for second in range(30):
        before = len(again.asked)
        reports(lines, second * 1_000)
        tried += [second] if len(again.asked) > before else []
    assert tried == [*range(16), 20, 25]


def test_nothing_piles_up_while_a_port_is_away_for_a_thousand_tries() -> None:
    again = Opener()
    lines = rig_lines(opening({"rack": Puppet()}, shut={"floor": "no"}), again)
    for five in range(1_000):
        reports(lines, five * 5_000)
    assert len(again.asked) == 1_000
    assert (len(lines._dead), len(lines._reports), len(lines._links)) == (0, 0, 1)


def test_waiting_on_a_loop_ends_where_another_ports_news_lie_unread() -> None:
    rig = SHOW.rigs["a-rig"].rig
    loop = Loop()
    virtual = [loop.open_input(port.out, virtual=True) for port in rig.ports]
    assert len(virtual) == 2
    says = loop.open_output("rack return", virtual=True)
    others = loop.open_input("rack return")
    open_ = opener(rig, lambda: loop)
    lines = RigLines(RIG, ("rack", "floor"), open_, open_(("floor",)), at_once=False)
    says.hand([Due(0, b"\xf8")])  # type: ignore[union-attr]
    loop.wait(1)
    reports(lines, 5_000)
    assert others.news() != ()  # type: ignore[union-attr]


def test_what_is_heard_while_ports_are_opened_is_heard_later() -> None:
    rig = SHOW.rigs["a-rig"].rig
    loop = Loop()
    for port in rig.ports:
        loop.open_input(port.out, virtual=True)
    says = loop.open_output("rack return", virtual=True)
    says.hand([Due(50 * MS, b"\xf8")])  # type: ignore[union-attr]
    open_ = opener(rig, lambda: loop)
    lines = RigLines(RIG, ("rack", "floor"), open_, open_(("rack", "floor")), at_once=True)
    reports(lines, 200)
    assert lines.heard() == {"rack": (Heard(50 * MS, b"\xf8"),)}


def test_port_is_opened_only_with_its_return_where_that_is_asked_for() -> None:
    rig = SHOW.rigs["a-rig"].rig
    loop = Loop()
    for port in rig.ports:
        loop.open_input(port.out, virtual=True)
    found = opener(rig, lambda: loop)(("rack", "floor"), ("rack",))
    assert [line.port for line in found.lines] == ["floor"]
    assert list(found.shut) == ["rack"]
    assert found.shut["rack"].startswith("its return is not there: ")
    assert list(found.deaf) == ["floor"]


def test_late_message_is_told_with_what_it_pushes_back() -> None:
    rack, _, lines = two()
    lines.send(send(1, "rrr"))
    rack.go(1)
    rack.go(2, pushed_ns=20 * MS + 1)
    assert reports(lines) == [Late(RIG, "rack", 1, rack.handed[1].moment_ns // 1000, 20_001)]


def test_what_left_late_is_told_of_a_port_that_is_lost_as_well() -> None:
    rack, _, lines = two()
    lines.send(send(1, "rr"))
    rack.go(1, pushed_ns=20 * MS)
    rack.lose(0, 1)
    lines.send(send(2, "r"))
    assert [type(one) for one in reports(lines)] == [Late, PortLost]


def test_send_before_it_is_told_allows_for_no_lateness_and_one_after_it_does() -> None:
    rack, _, lines = two()
    lines.send(send(1, "rrr"))
    rack.go(1)
    rack.go(2, pushed_ns=20 * MS)
    telling = lines.poll(0)
    lines.send(send(2, "r"))
    assert isinstance(next(telling), Late)
    lines.send(send(3, "r"))
    assert list(telling) == []
    lines.send(send(4, "r"))
    assert [knows for _, knows in rack.how] == [0, 1, 1, 3]


def test_silence_is_handed_ahead() -> None:
    rack, _, lines = two()
    lines.send(send(1, "r"))
    lines.send(replace(send(2, "r"), ahead=True))
    assert [ahead for ahead, _ in rack.how] == [False, True]
