"""The log: written a line at a time, read back after a power cut."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.live.stepping import log
from switchmatrix.live.stepping.inputs import (
    BringBack,
    Done,
    Drive,
    Jump,
    Next,
    OutputsMuted,
    Pin,
    Quit,
    TakeOut,
)
from switchmatrix.live.stepping.log import Resumed
from tests.live.stepping.kit import CHORUS, MARKET, SHOW, VERSE_2, Rehearsal, running

WHEN = "2031-06-14T19:30:05.250+02:00"


def written(rehearsal: Rehearsal) -> bytes:
    """The rehearsal's log as its file has it."""
    return "".join(log.line(entry, WHEN) for entry in rehearsal.logged()).encode("utf-8")


def night() -> Rehearsal:
    """A rehearsal whose log has something of all."""
    rehearsal = Rehearsal(SHOW)
    rehearsal.take(OutputsMuted())
    rehearsal.take(Done("a-rig", 1))
    rehearsal.take(TakeOut("a-rig", "echo"))
    rehearsal.take(TakeOut("a-rig", "wah"))
    rehearsal.take(BringBack("a-rig", "wah"))
    rehearsal.take(Next())
    rehearsal.take(Pin("bell too loud"))
    rehearsal.take(Drive(("a-rig", "b-rig")))
    rehearsal.take(Next())
    return rehearsal


AFTER = Resumed(
    VERSE_2,
    ("a-rig", "b-rig"),
    {"a-rig": ("echo",), "b-rig": ()},
    ((CHORUS, "lantern chorus", "bell too loud"),),
)


def test_a_line_is_json_with_its_moment_first() -> None:
    assert log.line({"event": "left"}, WHEN) == f'{{"when":"{WHEN}","event":"left"}}\n'


def test_a_send_is_logged_with_its_bytes_and_moments() -> None:
    rehearsal = running()
    rehearsal.take(Jump(MARKET))
    sent = [entry for entry in rehearsal.logged() if entry["event"] == "send"]
    assert [(entry["rig"], entry["send"], entry["scene"], entry["fires"]) for entry in sent] == [
        ("a-rig", 2, "market", [])
    ]
    assert json.loads(json.dumps(sent[0]["messages"]))[0] == ["floor", 0, "b55a7f"]


def test_a_run_is_read_back_as_it_was() -> None:
    assert log.resumed(log.read(written(night()))) == AFTER


def test_a_run_that_was_left_is_read_back_too() -> None:
    rehearsal = night()
    rehearsal.take(Quit())
    assert log.resumed(log.read(written(rehearsal))) == AFTER


@given(cut=st.integers(1, 40))
def test_a_torn_last_line_is_passed_over(cut: int) -> None:
    whole = written(night())
    torn = whole + b'{"when":"2031-06-14T19:31","event":"at","item":3,"song":"b'[:cut]
    assert log.resumed(log.read(torn)) == AFTER


@given(at=st.integers(0, 3000))
def test_a_log_cut_anywhere_reads_as_far_as_its_lines_are_whole(at: int) -> None:
    data = written(night())[:at]
    lines = data.split(b"\n")[:-1]
    entries = log.read(data)
    assert len(entries) - len(lines) in (0, 1)
    assert list(entries[: len(lines)]) == [json.loads(line) for line in lines]


@pytest.mark.parametrize(
    "data", [b"", b"\n\n", b"null\n[1]\n7\n", b'{"event":7}\n', b"\xff\xfe\n", b"\x00" * 512]
)
def test_what_is_no_entry_is_passed_over(data: bytes) -> None:
    assert log.resumed(log.read(data)) is None


@pytest.mark.parametrize("text", ['{"event":"at","item":"3"}', '{"event":"out","rig":3,"device":[]}'])
def test_an_entry_that_makes_no_sense_changes_nothing(text: str) -> None:
    data = written(night()) + text.encode() + b"\n"
    assert log.resumed(log.read(data)) == AFTER


def test_the_last_run_in_a_log_counts() -> None:
    other = running(at=MARKET)
    first, second = (
        written(night()),
        "".join(log.line(entry, WHEN) for entry in Rehearsal(SHOW, at=MARKET).logged()),
    )
    assert other.state.at == MARKET
    assert log.resumed(log.read(first + second.encode())) == Resumed(
        MARKET, ("a-rig",), {"a-rig": (), "b-rig": ()}
    )


def test_a_resumed_run_keeps_its_remarks() -> None:
    data = written(night())
    again = Rehearsal(SHOW, resumed=log.resumed(log.read(data)))
    assert [remark.text for remark in again.state.pinned] == ["bell too loud"]
    both = log.resumed(log.read(data + written(again)))
    assert both == AFTER
