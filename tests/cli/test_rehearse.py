"""`rehearse`: where it begins, what it offers without ports, its log, and the files it watches."""

from __future__ import annotations

import asyncio
import json
import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from switchmatrix.cli import switchmatrix
from switchmatrix.cli.watching import Watching
from switchmatrix.live.records import NoPorts
from switchmatrix.live.rehearsing.session import Rehearsal
from switchmatrix.live.stepping import inputs as i
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.inputs import Input
from switchmatrix.live.stepping.state import Stepping
from switchmatrix.screens.rehearse.app import RehearsalApp
from tests.cli.kit import TWO_LEGS, lay
from tests.cli.wired import listed, machine
from tests.live.kit import ROOT
from tests.live.rigs import SONGS


class Seen:
    """The screens that were opened, and what a person does at them."""

    def __init__(self) -> None:
        self.apps: list[RehearsalApp] = []
        self.steps: list[Input] = []

    @property
    def rehearsal(self) -> Rehearsal:
        """The last one."""
        return self.apps[-1].rehearsal

    @property
    def state(self) -> Stepping:
        """Where it stood."""
        return self.rehearsal.state


@pytest.fixture
def seen(monkeypatch: pytest.MonkeyPatch) -> Seen:
    """Have the screen be looked at once, the steps be done, and it be left."""
    one = Seen()

    def run(self: RehearsalApp) -> None:
        one.apps.append(self)
        for step in one.steps:
            self.rehearsal.do(step)
            self.rehearsal.poll()

    monkeypatch.setattr(RehearsalApp, "run", run)
    return one


def rehearse(folder: Path, *args: str | Path, said: str | None = None) -> tuple[int, str]:
    """The command with its log in the folder: its exit code and all that it printed."""
    words = ["rehearse", *map(str, args), "--log", str(folder / "log")]
    result = CliRunner().invoke(switchmatrix, words, input=said, prog_name="switchmatrix")
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.output


def begun(seen: Seen, folder: Path, *args: str) -> str:
    """Where a rehearsal of the example show on a stand-in begins."""
    code, out = rehearse(folder, SONGS, "--stand-in", *args)
    assert code == 0, out
    key = seen.state.at
    return f"{key.song} {key.label}"


def test_it_begins_with_the_first_scene_of_the_first_leg(seen: Seen, tmp_path: Path) -> None:
    assert begun(seen, tmp_path) == "nine-lanterns lamplight"
    assert (seen.state.show.leg, list(seen.state.show.rigs)) == ("summer-season", ["a-rig"])


@pytest.mark.parametrize(
    ("args", "where"),
    [
        (["--from", "harbour-bell"], "harbour-bell mooring"),
        (["--from", "harbour-bell", "--at", "toll@2"], "harbour-bell toll@2"),
        (["--from", "harbour-bell", "--at", "bar 33"], "harbour-bell toll@2"),
        (["--from", "harbour-bell", "--at", "bar 32 beat 4"], "harbour-bell whisper"),
        (["--from", "storm-glass", "--at", "10:00:50:00"], "storm-glass squall"),
        (["--leg", "winter-tour"], "harbour-bell mooring"),
    ],
)
def test_it_begins_where_it_is_told(seen: Seen, tmp_path: Path, args: list[str], where: str) -> None:
    assert begun(seen, tmp_path, *args) == where


@pytest.mark.parametrize(
    ("args", "why"),
    [
        (["--at", "toll"], "--at is a scene of a song: give --from too"),
        (["--from", "harbour-ball"], "no song is called harbour-ball: did you mean `harbour-bell`?"),
        (["--from", "harbour-bell", "--at", "tol"], "harbour-bell has no scene or place tol: did you mean"),
        (["--from", "fog-signal", "--at", "bar 3"], "the scenes of fog-signal have no places: name a scene"),
        (["--resume", "--from", "ebb"], "--resume begins where the last run was: leave --from out"),
        (["--resume"], "summer-season-stand-in.jsonl has no run to take up: leave --resume out"),
        (["--rig", "a-rig", "--rig", "bench"], "the leg summer-season has not all of the rigs a-rig, bench"),
    ],
)
def test_what_cannot_be_begun_is_said(seen: Seen, tmp_path: Path, args: list[str], why: str) -> None:
    code, out = rehearse(tmp_path, SONGS, "--stand-in", *args)
    assert (code, seen.apps) == (2, [])
    assert why in out


def test_machine_without_the_ports_is_offered_a_stand_in(
    seen: Seen, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    listed(monkeypatch, NoPorts("there is no MIDI server"))
    show = lay(tmp_path)
    code, out = rehearse(tmp_path, show, said="y\n")
    assert code == 0
    assert out.startswith("there is no MIDI server\n")
    assert "Rehearse with a rig made of software? [y/N]: y\n" in out
    assert seen.apps[0].mark is not None


def test_who_declines_the_stand_in_has_sent_nothing(
    seen: Seen, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    listed(monkeypatch, NoPorts("there is no MIDI server"))
    code, out = rehearse(tmp_path, lay(tmp_path), said="n\n")
    assert (code, seen.apps, out.splitlines()[-1]) == (1, [], "nothing was sent")


def test_real_ports_are_not_marked_and_wait_at_the_gate(
    seen: Seen, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = lay(tmp_path)
    box = machine(monkeypatch, show, "a-rig")
    assert rehearse(tmp_path, show)[0] == 0
    assert (seen.apps[0].mark, seen.state.rig("a-rig").gate, box.heard) == (None, Gate.FIRST, 0)


def test_two_rigs_are_prepared_and_the_first_is_driven(seen: Seen, tmp_path: Path) -> None:
    begun(seen, tmp_path, "--rig", "b-rig", "--rig", "a-rig")
    assert (list(seen.state.show.rigs), seen.state.driven) == (["b-rig", "a-rig"], ("b-rig",))


def test_resume_takes_up_the_last_stop_and_asks_first(seen: Seen, tmp_path: Path) -> None:
    seen.steps = [i.Next(), i.Next(), i.TakeOut("a-rig", "echo"), i.Pin("too loud")]
    begun(seen, tmp_path, "--yes")
    seen.steps = []
    assert begun(seen, tmp_path, "--resume") == "nine-lanterns chorus"
    assert seen.state.rig("a-rig").gate is Gate.RESUMED
    assert seen.state.rig("a-rig").out == {"echo"}
    assert [one.text for one in seen.state.pinned] == ["too loud"]


def test_log_holds_what_was_sent(seen: Seen, tmp_path: Path) -> None:
    begun(seen, tmp_path, "--yes")
    entries = [
        json.loads(line)
        for line in (tmp_path / "log" / "summer-season-stand-in.jsonl")
        .read_text(encoding="utf-8")
        .splitlines()
    ]
    assert [entry["event"] for entry in entries][:3] == ["start", "gate", "send"]
    assert sum(len(entry["messages"]) for entry in entries if entry["event"] == "send") == 48


def test_log_that_cannot_be_written_ends_it_before_anything_is_sent(seen: Seen, tmp_path: Path) -> None:
    (tmp_path / "log").write_text("a file", encoding="utf-8")
    code, out = rehearse(tmp_path, SONGS, "--stand-in", "--yes")
    assert (code, seen.apps) == (2, [])
    assert "is a file" in out


@pytest.mark.parametrize(("key", "asks"), [("", True), ("ask-after-fault: no\n", False)])
def test_show_that_has_opted_out_is_not_asked_after_a_fault(
    seen: Seen, tmp_path: Path, key: str, asks: bool
) -> None:
    show = lay(tmp_path)
    with (show / "show.yaml").open("a", encoding="utf-8") as file:
        file.write(key)
    assert rehearse(tmp_path, show, "--stand-in")[0] == 0
    assert seen.state.options.asks_after_fault is asks


def test_show_with_an_error_is_not_begun(seen: Seen, tmp_path: Path) -> None:
    show = lay(tmp_path, {"lantern.yaml": "song: Lantern\nscenes: {verse: {gate: closed}}\n"})
    code, out = rehearse(tmp_path, show, "--stand-in")
    assert (code, seen.apps) == (1, [])
    assert "nothing was compiled" in out


def test_screen_that_breaks_off_is_a_fault_of_ours(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(RehearsalApp, "run", lambda self: self.exit(return_code=1))
    with pytest.raises(RuntimeError, match="the screen broke off"):
        rehearse(tmp_path, SONGS, "--stand-in")


def changed(show: Path, leg: str, change: dict[str, str]) -> Input | str | None:
    """What watching makes of a change."""
    watching = Watching(show, leg, ("a-rig",), 0)
    for path, text in change.items():
        (show / path).write_text(text, encoding="utf-8")

    async def wait() -> Input | str | None:
        for _ in range(20):
            found = await watching.changes()
            if found is not None:
                return found
        return None

    return asyncio.run(wait())


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("switchmatrix.cli.watching.LOOK_S", 0.01)
    monkeypatch.setattr("switchmatrix.cli.rehearse.on_terminal", lambda: True)


def test_without_a_terminal_nothing_is_begun(
    seen: Seen, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("switchmatrix.cli.rehearse.on_terminal", lambda: False)
    code, out = rehearse(tmp_path, SONGS, "--stand-in")
    assert (code, seen.apps) == (2, [])
    assert "a rehearsal is played on a terminal" in out


def test_terminal_that_goes_away_without_a_word_ends_it(tmp_path: Path) -> None:
    master, slave = pty.openpty()
    words = ["rehearse", str(SONGS), "--stand-in", "--yes", "--log", str(tmp_path)]
    running = subprocess.Popen(
        [sys.executable, "-m", "switchmatrix", *words], stdin=slave, stdout=slave, stderr=slave, cwd=ROOT
    )
    os.close(slave)
    assert os.read(master, 1)
    os.close(master)
    assert running.wait(60) is not None
    log = (tmp_path / "summer-season-stand-in.jsonl").read_text(encoding="utf-8")
    assert log.splitlines()[-1].endswith('"event":"left"}')


def test_changed_files_are_read_again(tmp_path: Path) -> None:
    show = lay(tmp_path, TWO_LEGS)
    found = changed(show, "summer", {"harbour.yaml": TWO_LEGS["harbour.yaml"].replace("Harbour", "Haven")})
    assert isinstance(found, i.Reloaded)
    assert [stop.title for stop in found.show.stops][-1] == "Haven"


def test_changed_files_with_an_error_are_refused_with_the_finding(tmp_path: Path) -> None:
    show = lay(tmp_path, TWO_LEGS)
    found = changed(show, "summer", {"harbour.yaml": "song: Harbour\nscenes: {swell: {gate: closed}}\n"})
    assert isinstance(found, i.ReloadRefused)
    assert "unknown-word" in [one.name for one in found.found]


def test_leg_that_is_gone_is_said_and_the_running_show_goes_on(tmp_path: Path) -> None:
    show = lay(tmp_path, TWO_LEGS)
    found = changed(show, "summer", {"show.yaml": TWO_LEGS["show.yaml"].replace("summer:", "autumn:")})
    assert found == "the show has no leg summer any more: the running show goes on"


def test_nothing_changed_is_nothing_to_do(tmp_path: Path) -> None:
    assert changed(lay(tmp_path, TWO_LEGS), "summer", {}) is None
