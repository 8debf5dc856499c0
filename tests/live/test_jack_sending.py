"""Messages on a real MIDI server: on time, whole, in order, stopped and put ahead."""

from __future__ import annotations

import time

from switchmatrix.live.machine import Machine
from switchmatrix.live.matching import Match, match
from switchmatrix.live.records import MS, Due, Ports, Refused, Stopped
from tests.live.kit import (
    changes,
    full_name,
    heard,
    in_time,
    machine,
    output_to,
    pair,
    sent_all,
    until,
    virtual,
)

SILENCE = bytes.fromhex("B0 07 00")


def test_virtual_port_is_found_by_the_name_that_the_rig_gives_it(jack: Machine) -> None:
    virtual(jack, "main: a 20:0")
    there = jack.ports()
    assert isinstance(there, Ports)
    assert match("main: a 20:0", there.outputs) == Match("main: a 20:0", full_name(jack, "main: a 20:0"))


def test_port_processes_own_ports_are_not_listed(jack: Machine) -> None:
    pair(jack, "main")
    assert jack.ports() == Ports("jack", (), (full_name(jack, "main"),))


def test_what_is_handed_arrives_byte_for_byte_and_in_order(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    datas = [bytes.fromhex("B0 00 01"), bytes.fromhex("C5 7F"), bytes.fromhex("F0 7D 01 F7"), *changes(2000)]
    sender.hand(in_time(jack, 20, 0.1, datas))
    assert [one.data for one in heard(jack, receiver, 2003)] == datas


def test_nothing_leaves_before_its_moment(jack: Machine) -> None:
    sender, _ = pair(jack, "main")
    sender.hand(in_time(jack, 20, 0.3, changes(1000)))
    assert min(one.sent_ns - one.due_ns for one in sent_all(jack, sender)) >= 0


def test_what_was_sent_is_reported_with_its_number_and_moment(jack: Machine) -> None:
    sender, _ = pair(jack, "main")
    first, second = in_time(jack, 20, 5, changes(2))
    sender.hand([first, second])
    sent = sent_all(jack, sender)
    assert [(one.number, one.due_ns, one.data) for one in sent] == [
        (1, first.moment_ns, first.data),
        (2, second.moment_ns, second.data),
    ]


def test_all_that_was_sent_becomes_certain(jack: Machine) -> None:
    sender, _ = pair(jack, "main")
    sender.hand(in_time(jack, 0, 0.3, changes(100)))
    sent_all(jack, sender)
    end = jack.now_ns() + 5_000 * MS
    while sender.certain < 100 and jack.now_ns() < end:
        jack.wait(jack.now_ns() + 20 * MS)
    assert sender.certain == 100


def test_longest_system_exclusive_that_jack_takes_arrives_whole(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    data = b"\xf0\x7d" + bytes(15_997) + b"\xf7"
    sender.hand([Due(0, data)])
    assert [one.data for one in heard(jack, receiver, 1)] == [data]


def test_longer_system_exclusive_is_refused_with_its_whole_batch(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    refused = sender.hand([Due(0, SILENCE), Due(0, b"\xf0\x7d" + bytes(15_998) + b"\xf7")])
    reason = "a message of 16001 bytes is too long for JACK, which drops it silently: 16000 are the most"
    assert refused == Refused(full_name(jack, "main"), reason)
    assert (sender.waiting(), heard(jack, receiver, 1, seconds=0.3)) == (0, [])


def test_stop_drops_what_waits_and_names_it(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    datas = changes(10)
    sender.hand([*in_time(jack, 0, 0, datas[:4]), *in_time(jack, 60_000, 1, datas[4:])])
    assert [one.data for one in heard(jack, receiver, 4)] == datas[:4]
    assert sender.stop() == Stopped(4, (5, 6, 7, 8, 9, 10))
    assert sender.waiting() == 0


def test_stop_in_mid_stream_leaves_whole_messages_and_says_how_many(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    datas = [b"\xf0\x7d" + one[1:] + bytes(60) + b"\xf7" for one in changes(5000)]
    sender.hand(in_time(jack, 0, 0.2, datas))
    came = heard(jack, receiver, 20)
    stopped = sender.stop()
    assert isinstance(stopped, Stopped)
    came += heard(jack, receiver, stopped.sent - len(came))
    assert [one.data for one in came] == datas[: stopped.sent]
    assert stopped.dropped == tuple(range(stopped.sent + 1, 5001))


def test_stopped_port_sends_again_what_it_is_handed_then(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    sender.hand(in_time(jack, 60_000, 1, changes(3)))
    sender.stop()
    sender.hand([Due(0, SILENCE)])
    assert [one.data for one in heard(jack, receiver, 1)] == [SILENCE]


def test_what_is_put_ahead_leaves_before_what_waits(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    datas = changes(3)
    sender.hand(in_time(jack, 300, 1, datas))
    sender.hand([Due(jack.now_ns(), SILENCE)], ahead=True)
    assert [one.data for one in heard(jack, receiver, 4)] == [SILENCE, *datas]


def test_batches_of_one_port_run_side_by_side(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    start = jack.now_ns() + 100 * MS
    first, second, third = changes(3)
    sender.hand([Due(start, first), Due(start + 100 * MS, third)])
    sender.hand([Due(start + 50 * MS, second)])
    assert [one.data for one in heard(jack, receiver, 3)] == [first, second, third]


def test_ports_run_side_by_side(jack: Machine) -> None:
    (a, hears_a), (b, hears_b) = pair(jack, "a"), pair(jack, "b")
    plan = in_time(jack, 100, 20, changes(20))
    a.hand(plan)
    b.hand(plan)
    came_a, came_b = heard(jack, hears_a, 20), heard(jack, hears_b, 20)
    assert max(abs(x.moment_ns - y.moment_ns) for x, y in zip(came_a, came_b, strict=True)) < 20 * MS


def test_second_run_on_an_output_is_refused(jack: Machine) -> None:
    pair(jack, "main")
    with machine() as other:
        again = other.open_output(full_name(jack, "main"))
    assert isinstance(again, Refused)
    assert again.reason.startswith("another run of this tool is sending on it (process ")


def test_second_run_that_shares_is_let_in(jack: Machine) -> None:
    _, receiver = pair(jack, "main")
    output_to(jack, "main", share=True).hand([Due(0, SILENCE)])
    assert [one.data for one in heard(jack, receiver, 1)] == [SILENCE]


def test_closed_output_may_be_opened_again(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    sender.close()
    output_to(jack, "main").hand([Due(0, SILENCE)])
    assert [one.data for one in heard(jack, receiver, 1)] == [SILENCE]


def test_closed_ports_are_gone_from_the_server(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    sender.close()
    receiver.close()
    assert until(lambda: jack.ports() == Ports("jack", (), ()), 5)


def test_output_that_is_not_there_is_refused(jack: Machine) -> None:
    assert jack.open_output("nobody:nothing") == Refused("nobody:nothing", "the machine has no such output")


def test_input_that_is_not_there_is_refused(jack: Machine) -> None:
    assert jack.open_input("nobody:nothing") == Refused("nobody:nothing", "the machine has no such input")


def test_waiting_ends_at_the_moment_given(jack: Machine) -> None:
    moment = time.monotonic_ns() + 30 * MS
    jack.wait(moment)
    assert jack.now_ns() >= moment
