"""A whole rehearsal on rigs made of software: all that happens reaches the core, what it wants the rigs."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from switchmatrix.live.gate import ShutError
from switchmatrix.live.records import MS
from switchmatrix.live.rehearsing.following import Following, Kind
from switchmatrix.live.rehearsing.journal import last_run
from switchmatrix.live.rehearsing.lines import RigLines
from switchmatrix.live.rehearsing.session import Start
from switchmatrix.live.stepping.actions import Send
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.inputs import (
    BringBack,
    Doubt,
    Drive,
    Jump,
    Next,
    No,
    OutputsMuted,
    Pin,
    Quit,
    Reloaded,
    Silence,
    TakeOut,
)
from switchmatrix.live.stepping.prepared import SILENCE
from switchmatrix.live.stepping.state import Options
from switchmatrix.midi.timecode import RATES
from tests.live.rehearsing.hall import Hall, begun
from tests.live.stepping.code import quarter_frames
from tests.live.stepping.kit import BRIDGE, CHORUS, MARKET, VERSE, ready, show_of

BOTH = Start(driven=("a-rig", "b-rig"))
SAID = Start(Options(said=True))
PEDAL, UP = bytes.fromhex("BF 40 7F"), bytes.fromhex("BF 40 00")
RECALL = bytes.fromhex("C0 04")
"""Somebody else calls a patch of the echo."""

LOUDER = ready(
    show_of(
        {
            "bell.yaml": ("mix: 99", "mix: 98"),
            "definitions/echo-box.yaml": ("controls:", "clock: yes\ncontrols:"),
        }
    )
)
MOVED = ready(show_of({"rigs/a-rig.yaml": ("rack: {out: rack,", "rack: {out: rack two,")}))


def test_nothing_leaves_before_a_person_has_spoken(tmp_path: Path) -> None:
    hall = Hall(tmp_path)
    hall.it.do(Next())
    hall.it.do(No())
    hall.it.do(Next())
    hall.go(500)
    assert hall.arrived == []
    assert hall.it.asked is not None


def test_send_while_the_gate_is_shut_is_refused_outright(tmp_path: Path) -> None:
    hall = Hall(tmp_path)
    send = Send("a-rig", 1, VERSE, "verse", (), True, False, ())
    with pytest.raises(ShutError):
        hall.it._act((send,))


def test_rig_stands_in_each_stop_as_it_is_walked(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    faults = {hall.it.state.rig("a-rig").inside: hall.astray("a-rig")}
    for _ in hall.it.state.show.stops[1:]:
        hall.it.do(Next())
        hall.settle()
        faults[hall.it.state.rig("a-rig").inside] = hall.astray("a-rig")
    assert faults == {stop.key: [] for stop in hall.it.state.show.stops}


def test_last_send_says_how_much_and_that_it_is_through(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.it.do(Next())
    sent = hall.it.last["a-rig"]
    hall.settle()
    assert hall.it.last["a-rig"] == replace(sent, done=True)


def test_what_was_said_in_advance_is_said_of_the_ports_that_are_there(tmp_path: Path) -> None:
    hall = Hall(tmp_path, start=Start(Options(said=True), driven=("a-rig", "b-rig")), away=("b-rig",))
    hall.settle()
    hall.go(2_000)
    assert hall.astray("a-rig") == []
    assert {one.rig for one in hall.arrived} == {"a-rig"}
    assert [text for text in hall.said() if "did not send" in text] == []


def test_rig_missing_at_the_start_is_asked_about_when_it_is_there(tmp_path: Path) -> None:
    hall = Hall(tmp_path, start=BOTH, away=("b-rig",))
    hall.it.do(OutputsMuted())
    hall.settle()
    hall.away.clear()
    hall.go(1_500)
    waits = (hall.it.state.rig("b-rig").gate, hall.it.state.rig("b-rig").lost)
    hall.it.do(OutputsMuted())
    hall.settle()
    assert waits == (Gate.FIRST, frozenset())
    assert (hall.astray("a-rig"), hall.astray("b-rig")) == ([], [])


def test_loss_is_told_and_nothing_leaves_until_a_person_says_so(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.it.do(Next())
    hall.go(12)
    hall.cut("a-rig")
    before = len(hall.arrived)
    hall.go(2_000)
    held = (hall.it.state.rig("a-rig").gate, len(hall.arrived) - before, hall.it.state.rig("a-rig").lost)
    hall.it.do(OutputsMuted())
    hall.settle()
    assert held == (Gate.FAULT, 0, frozenset())
    assert hall.astray("a-rig") == []


def test_what_is_sent_after_a_fault_begins_with_silence(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.cut("a-rig")
    hall.go(2_000)
    before = len(hall.datas("a-rig", "floor"))
    hall.it.do(OutputsMuted())
    hall.settle()
    assert hall.datas("a-rig", "floor")[before] == bytes.fromhex("B5 5A 7F")


def test_where_faults_do_not_ask_the_rig_is_right_again_by_itself(tmp_path: Path) -> None:
    hall = Hall(tmp_path, start=Start(Options(said=True, asks_after_fault=False)))
    hall.settle()
    hall.it.do(Next())
    hall.go(12)
    hall.cut("a-rig")
    hall.go(2_000)
    hall.settle()
    assert (hall.it.state.rig("a-rig").gate, hall.astray("a-rig")) == (Gate.OPEN, [])


def test_loss_of_one_rig_leaves_the_other_playing(tmp_path: Path) -> None:
    hall = begun(tmp_path, start=BOTH)
    hall.cut("b-rig", away=True)
    hall.go(10)
    hall.it.do(Next())
    hall.settle()
    assert (hall.it.state.rig("a-rig").gate, hall.astray("a-rig")) == (Gate.OPEN, [])
    assert hall.it.state.rig("b-rig").gate is Gate.FAULT


def test_pedal_is_a_step(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.says("a-rig", "rack", PEDAL)
    hall.go()
    assert hall.it.state.at == CHORUS
    assert hall.it.hears == "rack, channel 16: CC 64 at 127"


def test_pedal_heard_on_the_ports_of_two_rigs_is_one_step(tmp_path: Path) -> None:
    hall = begun(tmp_path, start=BOTH)
    hall.says("a-rig", "rack", PEDAL)
    hall.says("b-rig", "rack", PEDAL, after_ms=4)
    hall.go(20)
    assert hall.it.state.at == CHORUS


def test_each_press_heard_on_the_ports_of_two_rigs_counts_however_they_lie(tmp_path: Path) -> None:
    hall = begun(tmp_path, start=BOTH)
    for at_ms in (0, 255):
        hall.says("a-rig", "rack", PEDAL, after_ms=at_ms)
        hall.says("a-rig", "rack", UP, after_ms=at_ms + 100)
        hall.says("b-rig", "rack", PEDAL, after_ms=at_ms + 10)
        hall.says("b-rig", "rack", UP, after_ms=at_ms + 110)
    hall.go(500)
    assert hall.it.state.place == 2


def test_own_message_that_a_box_passes_back_is_no_doubt(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.it.do(Next())
    hall.settle()
    for one in list(hall.arrived[-3:]):
        hall.says("a-rig", one.port, one.data)
    hall.go(20)
    assert [text for text in hall.said() if "from elsewhere" in text] == []


def test_what_somebody_else_changes_is_in_doubt_and_sent_with_the_next_change(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.elsewhere("a-rig", "rack", RECALL)
    hall.go(20)
    told = [text for text in hall.said() if "from elsewhere" in text]
    hall.it.do(Next())
    hall.settle()
    assert told == ["A rig: echo was changed from elsewhere, in doubt: mix, patch, time"]
    assert hall.astray("a-rig") == []


def test_press_of_a_pedal_that_moves_a_device_steps_with_that_device_in_doubt(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.it.do(Next())
    hall.settle()
    hall.go(600)
    hall.elsewhere("a-rig", "floor", bytes.fromhex("B5 5A 7F"))
    hall.go(20)
    hall.settle()
    assert (hall.it.state.at, hall.astray("a-rig")) == (VERSE, [])


def test_time_code_from_two_ports_is_followed_from_the_first(tmp_path: Path) -> None:
    hall = begun(tmp_path, following=Following(Kind.TIME_CODE))
    code = quarter_frames(RATES["25"], 3_600 * 25 + 3 * 25, 1.5)
    other = quarter_frames(RATES["25"], 3_600 * 25 + 13 * 25, 1.5)
    for at_us, data in code:
        hall.says("a-rig", "rack", data, after_ms=at_us / 1000)
    for at_us, data in other:
        hall.says("a-rig", "floor", data, after_ms=at_us / 1000 + 3)
    hall.go(1_600)
    assert hall.it.state.at == CHORUS
    assert [one["event"] for one in hall.logged() if one["event"] == "at"] == ["at", "at"]


def test_time_code_that_is_not_followed_is_said_once(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    for at_us, data in quarter_frames(RATES["25"], 3_600 * 25, 0.5):
        hall.says("a-rig", "rack", data, after_ms=at_us / 1000)
    hall.says("a-rig", "floor", b"\xf8", after_ms=200)
    hall.go(600)
    told = [text for text in hall.said() if "not followed" in text]
    assert (told, hall.it.state.at) == (["rack hears time code, which is not followed"], VERSE)


def test_clocks_come_at_the_scenes_tempo_through_steps_and_doubts(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.arrived.clear()
    for key in (CHORUS, BRIDGE, VERSE):
        hall.go(700)
        hall.it.do(Jump(key))
    hall.settle()
    hall.go(2_000)
    gaps = [b - a for a, b in pairwise(hall.clocks_ms())]
    # A clock gives way to a message, by 960 microseconds for three bytes at 31,250 bits a second
    # (MIDI 1.0 Detailed Specification 4.2.1, p. 1), and at most to two in a row.
    assert len(gaps) > 150
    assert (min(gaps) > 18, max(gaps) < 24) == (True, True)


def test_clocks_stop_where_a_scene_has_no_tempo(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.it.do(Jump(MARKET))
    hall.go(100)
    hall.arrived.clear()
    hall.go(1_000)
    assert hall.clocks_ms() == []


def test_clocks_stop_at_once_when_the_gate_shuts(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.go(500)
    hall.cut("a-rig")
    hall.go(2_000)
    assert {one.gate for one in hall.arrived} == {Gate.OPEN}


def test_clocks_of_a_rig_that_is_no_longer_driven_stop(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.go(500)
    hall.it.do(Drive(("b-rig",)))
    hall.go(5)
    hall.arrived.clear()
    hall.go(500)
    assert hall.clocks_ms() == []


def test_silence_in_mid_send_ends_it_between_two_messages_and_goes_first(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.it.do(Jump(MARKET))
    hall.go(5)
    before = len(hall.datas("a-rig", "floor"))
    hall.it.do(Silence())
    hall.settle()
    assert hall.datas("a-rig", "floor")[before] == bytes.fromhex("B5 5A 7F")
    assert (hall.it.state.rig("a-rig").inside, hall.astray("a-rig")) == (SILENCE, [])


def test_device_that_is_out_is_sent_nothing_until_it_is_back(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.it.do(TakeOut("a-rig", "echo"))
    hall.go(100)
    hall.arrived.clear()
    hall.it.do(Jump(MARKET))
    hall.settle()
    sent = [one.data for one in hall.arrived if one.port == "rack" and one.data[0] & 0x0F == 0]
    hall.it.do(BringBack("a-rig", "echo"))
    hall.settle()
    assert (sent, hall.astray("a-rig")) == ([], [])


def test_show_that_was_read_again_is_played_and_heard_by(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.it.do(Reloaded(LOUDER))
    hall.it.do(Jump(MARKET))
    hall.settle()
    assert hall.it.state.show is LOUDER
    assert (hall.boxes["a-rig"].now["echo"].controls[1], hall.astray("a-rig")) == (98, [])


def test_ports_that_have_changed_in_the_rigs_file_are_told(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.it.do(Reloaded(MOVED))
    told = "A rig: its ports have changed in its file: begin again to use them"
    assert told in hall.said()


def test_clocks_run_on_when_the_show_was_read_again(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.go(500)
    hall.it.do(Reloaded(LOUDER))
    hall.arrived.clear()
    hall.go(500)
    gaps = [b - a for a, b in pairwise(hall.clocks_ms())]
    assert (len(gaps), round(min(gaps)), round(max(gaps))) == (23, 21, 21)


def test_full_disk_ends_nothing(tmp_path: Path) -> None:
    (tmp_path / "tour.jsonl").symlink_to("/dev/full")
    hall = begun(tmp_path)
    hall.it.do(Next())
    hall.settle()
    assert (hall.it.journal.trouble or "").startswith("the log ")
    assert hall.astray("a-rig") == []


def test_run_that_broke_off_is_taken_up_where_it_was_after_a_person_has_spoken(tmp_path: Path) -> None:
    first = begun(tmp_path, start=BOTH)
    first.it.do(Jump(MARKET))
    first.it.do(Pin("louder"))
    first.it.do(TakeOut("a-rig", "wah"))
    first.go(20)
    resumed = last_run(tmp_path, "tour")
    second = Hall(tmp_path, start=Start(resumed=resumed))
    second.go(500)
    waits = (
        second.it.state.at,
        second.it.state.driven,
        list(second.arrived),
        second.it.state.rig("a-rig").gate,
    )
    second.it.do(OutputsMuted())
    second.settle()
    assert waits == (MARKET, ("a-rig", "b-rig"), [], Gate.RESUMED)
    assert second.it.state.rig("a-rig").out == frozenset({"wah"})
    assert [remark.text for remark in second.it.state.pinned] == ["louder"]
    assert (second.astray("a-rig"), second.astray("b-rig")) == ([], [])


def test_leaving_is_known_and_closing_closes_the_log(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    hall.it.do(Quit())
    hall.close()
    assert hall.it.left
    assert hall.logged()[-1]["event"] == "left"


def test_log_is_closed_even_where_a_port_cannot_be(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails() -> None:
        raise OSError("no")

    hall = begun(tmp_path)
    monkeypatch.setattr(hall.it.lines["a-rig"], "close", fails)
    with pytest.raises(OSError, match="no"):
        hall.close()
    assert hall.it.journal._file.closed


def test_poll_says_whether_there_is_anything_to_see(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    quiet = hall.it.poll()
    hall.says("a-rig", "rack", bytes.fromhex("B0 15 23"))
    assert (quiet, hall.it.poll()) == (False, True)


def test_running_time_wants_to_be_looked_at_when_a_cue_is_due(tmp_path: Path) -> None:
    hall = begun(tmp_path, following=Following(Kind.TIME_CODE))
    hall.it.idle()
    before = hall.it.due_ns(1 << 62)
    for at_us, data in quarter_frames(RATES["25"], 3_600 * 25 + 3 * 25, 0.5):
        hall.says("a-rig", "rack", data, after_ms=at_us / 1000)
    hall.go(505)
    assert (before, hall.clock() <= hall.it.due_ns(1 << 62) < 1 << 62) == (1 << 62, True)


def test_nothing_is_kept_of_a_thousand_sends_that_are_through(tmp_path: Path) -> None:
    hall = begun(tmp_path)
    for _ in range(500):
        hall.it.do(Doubt("a-rig", "mixer", frozenset({"in-1"}), False, False))
        hall.it.do(Next() if hall.it.state.following else Jump(VERSE))
        hall.it.do(Jump(hall.it.state.at))
        hall.settle()
        hall.arrived.clear()
    hall.go(1_000)
    lines = hall.it.lines["a-rig"]
    line = lines.line("floor")
    assert line is not None
    kept = (lines._sends, lines._reports, line._waiting, line._unproved, line._size, line._sure, line._came)
    assert hall.it.state.sends > 500
    assert [len(one) for one in kept] == [0] * 7
    assert (len(hall.it.said) <= 40, len(hall.it._pressed)) == (True, 0)


def test_silence_leaves_a_box_its_settle_whatever_left_until_its_port_had_stopped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hall = begun(tmp_path)
    hall.it.do(Next())
    recall = next(
        message.starts_us * 1000
        for message in hall.it.state.rig("a-rig").pending[0].messages
        if message.step.data[0] == 0xC0
    )
    while hall.clock() < recall - 2 * MS:
        hall.it.poll()
        hall._now = hall.clock() + MS // 2
    stop = RigLines.drop

    def slowly(lines: RigLines) -> None:
        until = hall.clock() + 3 * MS
        while hall.clock() < until:
            hall._now = hall.clock() + MS // 10
            for link in lines._links:
                link.transport.wait(hall.clock())
                for line in link.lines:
                    line.pump()
        stop(lines)

    monkeypatch.setattr(RigLines, "drop", slowly)
    hall.it.do(Silence())
    hall.settle()
    echo = [one for one in hall.arrived if one.port == "rack" and one.data[0] & 15 == 0]
    recalls = [n for n, one in enumerate(echo) if one.at_ns >= recall and one.data[0] == 0xC0]
    assert len(recalls) == 2
    assert echo[recalls[0] + 1].at_ns - echo[recalls[0]].at_ns >= 35 * MS
