"""Ports inside one process: the clock jumps, and a stand-in answers."""

from __future__ import annotations

import pytest

from switchmatrix.live.loop import Loop, LoopInput, LoopOutput
from switchmatrix.live.records import MS, Due, Heard, Lost, Ports, Refused, Sent, Stopped

A, B, C = b"\xb0\x07\x01", b"\xb0\x07\x02", b"\xb0\x07\x03"


def output(loop: Loop, name: str, virtual: bool = False) -> LoopOutput:
    """An open output."""
    port = loop.open_output(name, virtual=virtual)
    assert isinstance(port, LoopOutput)
    return port


def input(loop: Loop, name: str, virtual: bool = False) -> LoopInput:
    """An open input."""
    port = loop.open_input(name, virtual=virtual)
    assert isinstance(port, LoopInput)
    return port


def test_virtual_ports_are_what_the_machine_has() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    output(loop, "back", virtual=True)
    assert loop.ports() == Ports("loop", ("back",), ("main",))


def test_message_is_heard_at_its_moment() -> None:
    loop = Loop()
    hears, sends = input(loop, "main", virtual=True), output(loop, "main")
    sends.hand([Due(5, A)])
    loop.wait(10)
    assert (hears.news(), sends.news()) == ((Heard(5, A),), (Sent(1, 5, 5, A),))


def test_waiting_ends_with_the_first_news() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    output(loop, "main").hand([Due(5, A), Due(7, B)])
    loop.wait(10)
    assert loop.now_ns() == 5


def test_waiting_with_nothing_to_come_ends_at_its_moment() -> None:
    loop = Loop(start_ns=3)
    loop.wait(10)
    assert loop.now_ns() == 10


def test_message_past_the_moment_waits() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    sends = output(loop, "main")
    sends.hand([Due(50, A)])
    loop.wait(10)
    assert (sends.news(), sends.waiting(), loop.now_ns()) == ((), 1, 10)


def test_resident_answers() -> None:
    loop = Loop()
    hears, answers = input(loop, "main", virtual=True), output(loop, "back", virtual=True)
    sends, back = output(loop, "main"), input(loop, "back")

    def resident() -> None:
        answers.hand([Due(heard.moment_ns + 20 * MS, B) for heard in hears.news()])

    loop.residents.append(resident)
    sends.hand([Due(0, A)])
    loop.wait(MS)
    assert sends.news() == (Sent(1, 0, 0, A),)
    loop.wait(100 * MS)
    assert back.news() == (Heard(20 * MS, B),)


def test_pace_is_told_each_moment() -> None:
    moments: list[int] = []
    loop = Loop(pace=moments.append)
    input(loop, "main", virtual=True)
    output(loop, "main").hand([Due(5, A)])
    loop.wait(10)
    assert moments == [5]


def test_stop_drops_what_waits() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    sends = output(loop, "main")
    sends.hand([Due(5, A), Due(50, B)])
    loop.wait(10)
    assert (sends.stop(), sends.waiting()) == (Stopped(1, (2,)), 0)


def test_what_is_put_ahead_goes_first() -> None:
    loop = Loop()
    hears, sends = input(loop, "main", virtual=True), output(loop, "main")
    sends.hand([Due(5, A)])
    sends.hand([Due(5, B)], ahead=True)
    loop.wait(10)
    assert hears.news() == (Heard(5, B), Heard(5, A))


def test_cut_loop_is_lost_on_every_port() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    sends = output(loop, "main")
    sends.hand([Due(5, A), Due(50, B)])
    loop.wait(10)
    loop.cut()
    assert sends.lost == Lost("main", "the MIDI server no longer answers", 1, 1)


def test_nothing_is_taken_by_a_lost_port() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    sends = output(loop, "main")
    loop.cut()
    assert sends.hand([Due(5, A)]) == Refused("main", "the MIDI server no longer answers")


def test_output_that_is_not_there_is_refused() -> None:
    assert Loop().open_output("main") == Refused("main", "the machine has no such output")


def test_input_that_is_not_there_is_refused() -> None:
    assert Loop().open_input("main") == Refused("main", "the machine has no such input")


def test_output_that_is_open_is_refused() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    output(loop, "main")
    assert loop.open_output("main") == Refused("main", "it is open already")


def test_closed_output_may_be_opened_again() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    output(loop, "main").close()
    assert isinstance(loop.open_output("main"), LoopOutput)


def test_closing_the_loop_leaves_the_virtual_side() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    output(loop, "main")
    loop.close()
    assert loop.ports() == Ports("loop", (), ("main",))


def test_bytes_that_are_no_message_are_a_bug() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    with pytest.raises(ValueError, match="B0 07: status byte B0 takes 2 data bytes, not 1"):
        output(loop, "main").hand([Due(5, b"\xb0\x07")])


def test_message_of_one_port_is_not_heard_on_another() -> None:
    loop = Loop()
    input(loop, "main", virtual=True)
    other = input(loop, "aux", virtual=True)
    output(loop, "main").hand([Due(5, C)])
    loop.wait(10)
    assert other.news() == ()
