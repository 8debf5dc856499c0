"""`line-check` on a real JACK server, a box answering as no sound one does: told, no hang, no traceback."""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.live.machine import Machine
from tests.live.boxes import Answer, answering
from tests.live.rigs import SONGS
from tests.live.test_jack_commands import ended, start
from tests.live.test_jack_replies import ANSWER, BENCH, CUT

ENDLESS = "F07D" + "00" * 8000
BEGUN = "F07E1006027D01"


def check(jack: Machine, out: Path, *answers: Answer) -> tuple[int, list[str]]:
    """A line check of the one device behind a box with these answers: its exit code and what it printed."""
    given = ("--rig", "bench", "--device", "acoustic", "--yes", "--no-ask", "--api", "jack", "--period", "2")
    with answering(jack, BENCH, "shelf", list(answers)):
        code, said = ended(start("line-check", SONGS, *given, "--out", out), 60)
    assert "Traceback" not in said
    assert len(list(out.glob("*.json"))) == 1, said
    return code, said.splitlines()


def starting(lines: list[str], start: str) -> list[str]:
    """The lines that begin so."""
    return [line for line in lines if line.startswith(start)]


def test_sound_box_passes(jack: Machine, tmp_path: Path) -> None:
    code, lines = check(jack, tmp_path, (0, ANSWER, 1))
    assert (code, lines[-2]) == (0, "passed: 1 of 1 devices respond, 13 left out"), lines


def test_device_that_answers_twice_differs(jack: Machine, tmp_path: Path) -> None:
    code, lines = check(jack, tmp_path, (0, ANSWER, 2))
    assert code == 1
    assert starting(lines, "acoustic: ") == ["acoustic: differs, expected 1 reply, came 2"]


def test_reply_after_the_time_out_is_silence_with_its_time(jack: Machine, tmp_path: Path) -> None:
    code, lines = check(jack, tmp_path, (0.8, ANSWER, 1))
    assert code == 1
    (said,) = starting(lines, "acoustic: ")
    assert said.startswith("acoustic: silent, no reply within 500 ms; one came after 8"), lines


def test_reply_cut_short_is_silence_with_what_came(jack: Machine, tmp_path: Path) -> None:
    code, lines = check(jack, tmp_path, (0, CUT, 1))
    assert code == 1
    came = "5 replies came cut short (F0 7E 10 06 02 7D F7 ...)"
    assert starting(lines, "acoustic: ") == [f"acoustic: silent, no reply within 500 ms; {came}"]
    assert f"  on shelf: {came}" in lines


def test_flood_of_ten_thousand_replies_is_told(jack: Machine, tmp_path: Path) -> None:
    code, lines = check(jack, tmp_path, (0, ANSWER, 10_000))
    assert code == 1
    assert starting(lines, "acoustic: ") == ["acoustic: differs, expected 1 reply, came 64"]
    (flood,) = starting(lines, "  on shelf: a flood of replies came, ")
    assert flood.endswith(" more than can be anybody's")


def test_garbage_alone_is_silence_with_what_came(jack: Machine, tmp_path: Path) -> None:
    code, lines = check(jack, tmp_path, (0, "3C4A01", 20), (0.01, "C5", 20), (0.01, "F4F5FD", 20))
    assert code == 1
    (said,) = starting(lines, "acoustic: ")
    assert said == "acoustic: silent, no reply within 500 ms; 300 times bytes of no meaning came"


def test_garbage_hides_no_reply(jack: Machine, tmp_path: Path) -> None:
    code, lines = check(jack, tmp_path, (0, "3C4A01", 20), (0.01, "C5", 20), (0.01, ANSWER, 1))
    assert (code, len(starting(lines, "acoustic: answers, version 0.0.1.0"))) == (0, 1), lines


@pytest.mark.parametrize("begun", [BEGUN, ENDLESS], ids=["a few bytes", "kilobytes"])
def test_system_exclusive_without_end_hides_no_reply(jack: Machine, tmp_path: Path, begun: str) -> None:
    code, lines = check(jack, tmp_path, (0, begun, 1), (0.05, ANSWER, 1))
    assert (code, len(starting(lines, "acoustic: answers, version 0.0.1.0"))) == (0, 1), lines


@pytest.mark.parametrize(("begun", "count"), [(BEGUN, 1), (ENDLESS, 40)], ids=["a few bytes", "kilobytes"])
def test_system_exclusive_without_end_alone_is_silence(
    jack: Machine, tmp_path: Path, begun: str, count: int
) -> None:
    code, lines = check(jack, tmp_path, (0, begun, count))
    assert code == 1
    assert starting(lines, "acoustic: ") == ["acoustic: silent, no reply within 500 ms"]
