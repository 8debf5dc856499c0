"""`line-check` after a fault: told, asked, and gone on with what is not yet checked; the report is kept."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import cast

import pytest

from switchmatrix.live.records import Ports
from tests.cli.flaky import GONE, Living, hurry, machines, rig_of
from tests.cli.wired import Listed, answered
from tests.live.rigs import SONGS

BENCH = rig_of(SONGS, "bench")
QUESTION = "been told? Go on, silence first? [y/N]: "
REQUEST = "F0 7E 7F 06 01 F7"
IN_SILENCE, ASKING, BY_EYE, PUT_BACK = 2, 56, 70, 100
"""After so many messages it is in its first change, asks who is there, looks at the fifth, goes home."""


def check(out: Path, *args: str, said: str, show: Path = SONGS) -> tuple[int, str]:
    """A line check of the bench on whatever machine there is."""
    return answered("line-check", show, "--rig", "bench", "--yes", "--out", out, *args, said=said)


def kept(out: Path) -> dict[str, object]:
    """The one report that is kept."""
    (path,) = out.glob("*.json")
    return cast(dict[str, object], json.loads(path.read_text(encoding="utf-8")))


def verdicts(report: dict[str, object]) -> dict[str, str]:
    """Each device's result."""
    rows = cast(list[dict[str, str]], report["devices"])
    return {row["device"]: row["result"] for row in rows}


def looked_at(out: str) -> list[str]:
    """The devices that a person was asked about, in order."""
    lines = [line for line in out.splitlines() if "Does it? (y, n, or s to skip)" in line]
    return [line.partition(" (")[0] for line in lines]


@pytest.mark.parametrize("dies", [IN_SILENCE, ASKING, BY_EYE, PUT_BACK])
def test_check_goes_on_once_a_person_says_so_and_passes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, dies: int
) -> None:
    back = Living(BENCH)
    machines(monkeypatch, Living(BENCH, dies=dies), back)
    code, out = check(tmp_path, said="y\n" * 20)
    assert code == 0, out
    assert out.count(QUESTION) == 1
    assert next(data for data in back.heard if data.startswith("BB")) == "BB 66 7F"
    report = kept(tmp_path)
    assert (report["passed"], len(cast(list[str], report["faults"]))) == (True, 1)


def test_what_was_found_is_not_checked_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    back = Living(BENCH)
    machines(monkeypatch, Living(BENCH, dies=BY_EYE), back)
    _, out = check(tmp_path, said="y\n" * 20)
    able = {device.name for device in BENCH.devices if device.definition.identity is not None}
    assert back.heard.count(REQUEST) == 0
    assert looked_at(out) == [device.name for device in BENCH.devices if device.name not in able]
    assert "sending silence first\n" in out.partition(QUESTION)[2]


def test_fault_while_asking_has_all_asked_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    back = Living(BENCH)
    machines(monkeypatch, Living(BENCH, dies=ASKING), back)
    check(tmp_path, said="y\n" * 20)
    assert back.heard.count(REQUEST) == 10


def test_nobody_to_ask_ends_it_with_what_is_left_not_checked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sought = machines(monkeypatch, Living(BENCH, dies=ASKING))
    code, out = check(tmp_path, "--no-ask", said="y\n" * 20)
    assert (code, sought(), QUESTION in out) == (1, 1, False)
    assert "It ends here: nobody is there to be asked.\n" in out
    assert set(verdicts(kept(tmp_path)).values()) == {"not checked"}
    assert "is lost: the MIDI server no longer answers" in str(kept(tmp_path)["ended"])


@pytest.mark.parametrize("said", ["y\n" * 4 + "n\n", "y\n" * 4])
def test_no_and_end_of_input_keep_what_was_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, said: str
) -> None:
    machines(monkeypatch, Living(BENCH, dies=BY_EYE))
    code, out = check(tmp_path, said=said)
    found = verdicts(kept(tmp_path))
    assert (code, QUESTION in out) == (1, True)
    assert [name for name, result in found.items() if result == "by eye yes"] == looked_at(out)
    assert (found["acoustic"], found["reverb"], found["mixer"]) == ("answers", "answers", "not checked")


def test_what_is_still_missing_is_told_and_it_asks_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    machines(monkeypatch, Living(BENCH, dies=IN_SILENCE), GONE, Living(BENCH))
    code, out = check(tmp_path, said="y\n" * 20)
    assert (code, out.count(f"{QUESTION}y\nJACK does not answer\nnothing was sent\n")) == (0, 1)


def test_port_that_was_there_must_be_there_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    names = {port.name: (port.out, port.input or "") for port in BENCH.ports}
    only = Listed(Ports("loop", (names["bench"][1],), (names["bench"][0],)))
    machines(monkeypatch, Living(BENCH, dies=IN_SILENCE), only)
    code, out = check(tmp_path, "--device", "reverb", said="y\n")
    assert code == 1
    assert f"shelf: no port is `{names['shelf'][0]}`" in out


def test_show_that_opted_out_goes_on_unasked_also_when_nobody_is_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = tmp_path / "show"
    shutil.copytree(SONGS, show)
    text = (show / "show.yaml").read_text(encoding="utf-8")
    (show / "show.yaml").write_text(f"ask-after-fault: no\n{text}", encoding="utf-8")
    hurry(monkeypatch, 30)
    machines(monkeypatch, Living(BENCH, dies=IN_SILENCE), GONE, Living(BENCH))
    given = ("--no-ask", "--device", "acoustic", "--device", "reverb")
    code, out = check(tmp_path / "checks", *given, said="", show=show)
    assert (code, QUESTION in out) == (0, False), out
    assert "A change can jump in level: outputs muted" in out.partition("with nobody asked.")[2]


def test_stand_in_in_place_of_the_rig_is_not_gone_on_with(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ins = tuple(f"stand-in:{port.input}" for port in BENCH.ports if port.input is not None)
    outs = tuple(f"stand-in:{port.out}" for port in BENCH.ports)
    machines(monkeypatch, Living(BENCH, dies=IN_SILENCE), Listed(Ports("loop", ins, outs)))
    code, out = check(tmp_path, said="y\n")
    assert code == 1
    assert "what is there now is a stand-in, and was not before: end this and start again\n" in out
