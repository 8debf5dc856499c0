"""`line-check`: who answers, who is looked at, the report and the last one, and the exit code."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.midi.numbers import Address
from tests.cli.kit import below, lay, run
from tests.cli.wired import answered, machine, no_pace
from tests.live.rigs import SONGS


@pytest.fixture(autouse=True)
def _no_pace(monkeypatch: pytest.MonkeyPatch) -> None:
    no_pace(monkeypatch)


def check(folder: Path, *args: str, said: str = "", rig: str = "bench") -> tuple[int, str]:
    """A line check of the example show against the stand-in in the process."""
    out = ("--out", str(folder / "checks"))
    return answered("line-check", SONGS, "--rig", rig, "--stand-in", *out, *args, said=said)


def test_every_device_that_passes_ends_with_0(tmp_path: Path) -> None:
    code, out = check(tmp_path, said="y\n" * 20)
    assert code == 0
    assert "stand-in: passed: 14 of 14 devices respond" in out


def test_device_with_an_identity_answers_and_is_not_asked_about(tmp_path: Path) -> None:
    _, out = check(tmp_path, said="y\n" * 20)
    assert "stand-in: acoustic: answers, version 0.0.1.0" in out
    assert "acoustic (shelf): " not in out


def test_gang_answers_twice(tmp_path: Path) -> None:
    _, out = check(tmp_path, "--device", "reverb")
    assert "round trip 2.0 / 2.0 / 2.0 ms (least, median, worst of 10)" in out


def test_unattended_run_with_something_left_ends_with_1(tmp_path: Path) -> None:
    code, out = check(tmp_path, "--no-ask")
    assert code == 1
    assert "switcher  bench  not checked  it cannot answer, and nobody was asked" in out


def test_unattended_run_of_what_can_answer_ends_with_0(tmp_path: Path) -> None:
    code, _ = check(tmp_path, "--no-ask", "--device", "acoustic", "--device", "reverb")
    assert code == 0


def test_device_that_does_not_show_it_fails_by_eye(tmp_path: Path) -> None:
    code, out = check(tmp_path, "--device", "switcher", said="n\n")
    assert code == 1
    assert "switcher (bench): its panel must show 07-4 (pair). Does it?" in out
    assert "switcher  bench  by eye no" in out


def test_device_that_nobody_answers_for_is_not_checked(tmp_path: Path) -> None:
    code, out = check(tmp_path, "--device", "switcher", said="s\n")
    assert code == 1
    assert "switcher  bench  not checked  its panel must show 07-4 (pair)" in out


def test_device_left_out_is_neither_checked_nor_counted(tmp_path: Path) -> None:
    code, out = check(tmp_path, "--device", "acoustic", "--device", "reverb", "--without", "reverb")
    assert code == 0
    assert "stand-in: passed: 1 of 1 devices respond, 13 left out" in out


def test_dead_device_takes_the_chain_behind_it_with_it(tmp_path: Path) -> None:
    code, out = check(tmp_path, "--silent", "acoustic", said="y\n" * 8 + "n\n" * 2 + "y\n" * 2)
    assert code == 1
    chain = "from acoustic on nothing responds (acoustic, filter, pedal): look at its power and at its cable"
    assert f"stand-in:   {chain}" in out


def test_report_is_kept_as_text_and_json(tmp_path: Path) -> None:
    _, out = check(tmp_path, "--device", "acoustic")
    text, data = (path for path in sorted((tmp_path / "checks").iterdir(), reverse=True))
    assert text.read_text(encoding="utf-8") in out
    report = json.loads(data.read_text(encoding="utf-8"))
    rows = {row["device"]: row["result"] for row in report["devices"]}
    assert (report["rig"], report["passed"], report["stand_in"]) == ("bench", True, True)
    assert (rows["acoustic"], rows["reverb"]) == ("answers", "left out")


def test_two_checks_of_one_second_keep_two_reports(tmp_path: Path) -> None:
    check(tmp_path, "--device", "acoustic")
    check(tmp_path, "--device", "acoustic")
    assert len(below(tmp_path / "checks")) == 4


def test_version_that_has_changed_since_the_last_check_is_told(tmp_path: Path) -> None:
    check(tmp_path, "--device", "reverb")
    code, out = check(tmp_path, "--device", "reverb", "--wrong-version", "reverb")
    assert code == 1
    assert "reverb: version changed since " in out
    assert ": was 0.1.0.4, is 0.1.0.5\n" in out


def test_last_report_that_cannot_be_read_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "checks").mkdir()
    (tmp_path / "checks" / "bench-99.json").write_text('{"devices": 7}', encoding="utf-8")
    code, out = check(tmp_path, "--device", "acoustic")
    assert code == 0
    assert "since the last check" not in out


def test_nothing_is_sent_until_a_person_has_said_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    box = machine(monkeypatch, SONGS, "bench")
    code, out = answered(
        "line-check", SONGS, "--rig", "bench", "--no-ask", "--out", tmp_path / "checks", said="n\n"
    )
    assert (code, box.heard, (tmp_path / "checks").exists()) == (1, 0, False)
    assert out.startswith("The line check changes patches and controls")


def test_no_ask_does_not_open_the_gate(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    box = machine(monkeypatch, SONGS, "bench")
    code, _ = answered("line-check", SONGS, "--rig", "bench", "--no-ask", "--out", tmp_path, said="")
    assert (code, box.heard) == (1, 0)


def test_check_ends_in_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    box = machine(monkeypatch, SONGS, "b-rig")
    given = ("line-check", SONGS, "--rig", "b-rig", "--yes", "--no-ask", "--out", tmp_path)
    _, out = answered(*given, said="")
    mixer = box.now["mixer"]
    names = [part.control.name for part in box.receivers.devices[2].unit.parts]
    assert (box.receivers.devices[2].name, mixer.controls[names.index("mute-all")]) == ("mixer", 0)
    assert "the rig is in home\n" in out


def test_check_ends_where_it_is_told_to(tmp_path: Path) -> None:
    _, out = check(tmp_path, "--device", "acoustic", "--then", "bench-round", "bare board")
    assert "stand-in: the rig is in bench-round bare board" in out


def test_device_that_is_not_there_is_sent_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    box = machine(monkeypatch, SONGS, "b-rig")
    before = box.now["combo"]
    given = ("line-check", SONGS, "--rig", "b-rig", "--yes", "--no-ask", "--out", tmp_path)
    answered(*given, "--without", "combo", said="")
    assert box.now["combo"] == before


def test_every_other_device_stands_at_home_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    box = machine(monkeypatch, SONGS, "a-rig")
    given = ("line-check", SONGS, "--rig", "a-rig", "--yes", "--out", tmp_path)
    code, _ = answered(*given, said="y\n" * 20)
    patches = {name: now.patch.program for name, now in box.now.items() if isinstance(now.patch, Address)}
    assert code == 0
    assert patches == {"echo": 3, "reverb": 0, "sampler": 0, "switcher": 0, "modulation": 1, "delay": 7}


def test_faults_are_for_a_stand_in_alone(tmp_path: Path) -> None:
    ran = run("line-check", lay(tmp_path), "--silent", "echo", "--yes")
    assert ran.code == 2
    assert "add --stand-in" in ran.err


@pytest.mark.parametrize("option", ["--device", "--without"])
def test_unknown_device_is_wrong_usage(tmp_path: Path, option: str) -> None:
    ran = run("line-check", lay(tmp_path), option, "ecko", "--stand-in")
    assert ran.code == 2
    assert "no device is called ecko: did you mean `echo`?" in ran.err


def test_rig_of_software_without_faults_says_nothing_of_them() -> None:
    assert Faults().said() == ()
