"""`send`: the gate before the first byte, what is sent, and what is said of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.live.records import NoPorts, Ports
from tests.cli.kit import lay, run
from tests.cli.wired import answered, listed, machine, no_pace
from tests.live.rigs import SONGS


@pytest.fixture(autouse=True)
def _no_pace(monkeypatch: pytest.MonkeyPatch) -> None:
    no_pace(monkeypatch)


def test_nothing_is_sent_until_a_person_has_said_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path)
    box = machine(monkeypatch, show, "a-rig")
    code, out = answered("send", show, "lantern", "verse", said="n\n")
    assert (code, box.heard) == (1, 0)
    assert "Are the outputs muted, and have the player and the monitor engineer been told? [y/N]: n\n" in out
    assert "nothing was sent: nobody has said that outputs are muted and people told" in out


def test_nobody_there_to_ask_is_no_answer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path)
    box = machine(monkeypatch, show, "a-rig")
    code, _ = answered("send", show, "lantern", "verse", said="")
    assert (code, box.heard) == (1, 0)


def test_scene_is_sent_once_a_person_has_said_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path)
    box = machine(monkeypatch, show, "a-rig")
    code, out = answered("send", show, "lantern", "verse", said="y\n")
    assert (code, box.heard) == (0, 3)
    assert out.splitlines()[-1] == "lantern verse: 3 messages sent"


def test_yes_says_it_in_advance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path)
    box = machine(monkeypatch, show, "a-rig")
    code, out = answered("send", show, "lantern", "verse", "--yes", said="")
    assert (code, box.heard) == (0, 3)
    assert "A change can jump in level: outputs muted" in out


def test_after_a_scene_only_what_differs_is_sent(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path)
    box = machine(monkeypatch, show, "a-rig")
    code, out = answered("send", show, "lantern", "chorus", "--after", "verse", "--yes", said="")
    assert (code, box.heard) == (0, 2)
    assert "echo recalls cliff (panel 17)" in out


def test_home_brings_the_whole_rig_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path)
    machine(monkeypatch, show, "a-rig")
    code, out = answered("send", show, "--home", "--yes", said="")
    assert (code, out.splitlines()[-1]) == (0, "home: 3 messages sent")


def test_dry_run_opens_no_port_and_sends_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    listed(monkeypatch, NoPorts("nobody may look"))
    ran = run("send", lay(tmp_path), "lantern", "verse", "--dry-run")
    assert ran.code == 0
    assert ran.out.splitlines()[-1] == "dry run: nothing was sent"
    assert "echo recalls slap (panel 4)" in ran.out


def test_port_that_is_missing_ends_it_before_the_gate(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    listed(monkeypatch, Ports("jack", (), ("box:other",)))
    ran = run("send", lay(tmp_path), "lantern", "verse", "--yes")
    assert (ran.code, ran.out) == (1, "")
    assert ran.err == "rack: no port is `rack`; there is only `box:other`\nnothing was sent\n"


def test_stand_in_in_the_process_asks_nothing_and_marks_every_line(tmp_path: Path) -> None:
    ran = run("send", lay(tmp_path), "lantern", "verse", "--stand-in")
    assert ran.code == 0
    assert [line for line in ran.out.splitlines() if line and not line.startswith("stand-in: ")] == []
    assert "stand-in: gate-1  threshold -38 dB" in ran.out


def test_show_with_an_error_sends_nothing(tmp_path: Path) -> None:
    ran = run("send", lay(tmp_path, {"lantern.yaml": "song: Lantern\n"}), "lantern", "verse", "--stand-in")
    assert ran.code == 1
    assert "nothing was compiled" in ran.err


@pytest.mark.parametrize(
    "args",
    [(), ("lantern",), ("lantern", "verse", "--home"), ("--home", "--after", "verse")],
)
def test_what_to_send_must_be_said_once(tmp_path: Path, args: tuple[str, ...]) -> None:
    ran = run("send", lay(tmp_path), *args, "--stand-in")
    assert ran.code == 2
    assert "give SONG and SCENE, or --home alone" in ran.err


def test_what_must_be_set_by_hand_is_said_before_the_gate(monkeypatch: pytest.MonkeyPatch) -> None:
    machine(monkeypatch, SONGS, "bench")
    code, out = answered("send", SONGS, "--home", "--rig", "bench", said="n\n")
    assert code == 1
    assert out.splitlines()[0] == "set by hand before this: amp.lead on"


def test_clock_is_sent_beside_a_scene_for_four_quarter_notes(monkeypatch: pytest.MonkeyPatch) -> None:
    box = machine(monkeypatch, SONGS, "bench")
    code, out = answered("send", SONGS, "bench-round", "bare board", "--rig", "bench", "--yes", said="")
    sent = int(out.splitlines()[-1].split()[-3])
    assert (code, box.heard - sent) == (0, 96)
