"""The commands against a real JACK server: faults told in plain words, nothing hangs or is half sent."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from switchmatrix.live.machine import Machine
from switchmatrix.live.receiver import Receiver
from tests.cli.kit import lay
from tests.live.kit import EASY, ROOT, Server, heard, machine, until, virtual
from tests.live.rigs import SONGS

SLOW = {
    "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 8 s, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
"""
}
"""An echo whose recall takes eight seconds: there is time to break a change off."""


EASILY = """
from switchmatrix.cli import main, wiring
from switchmatrix.live.records import MS, Watch
wiring.WATCH = Watch(beat_ns=2_000 * MS, silence_ns=3_000 * MS, open_ns=20_000 * MS)
main()
"""
"""A command with a watch that takes no busy machine for a loss."""

NO_SERVER = [("send", "lantern", "verse", "--yes"), ("line-check", "--yes"), ("ports",)]


def start(*args: str | Path) -> subprocess.Popen[str]:
    """A command of ours, running."""
    return subprocess.Popen(
        [sys.executable, "-c", EASILY, *map(str, args)],
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )


def ended(running: subprocess.Popen[str], seconds: float = 60) -> tuple[int, str]:
    """A command's exit code and what it printed."""
    out, _ = running.communicate(timeout=seconds)
    return running.returncode, out


def stopped(running: subprocess.Popen[str]) -> None:
    """Have a command end on its own: killed outright, it would hold up the server for a while."""
    if running.poll() is None:
        running.send_signal(signal.SIGINT)
    running.communicate(timeout=20)


@contextmanager
def sending(one: Machine, show: Path, port: Receiver) -> Iterator[subprocess.Popen[str]]:
    """A `send` that has sent its first message, and waits for the echo to settle."""
    running = start("send", show, "lantern", "verse", "--yes", "--period", "2", "--api", "jack")
    try:
        assert heard(one, port, 1), ended(running)
        yield running
    finally:
        stopped(running)


def test_server_killed_in_mid_change_is_told_and_nothing_more_is_sent(doomed: Server, tmp_path: Path) -> None:
    show = lay(tmp_path, SLOW)
    with machine(EASY) as one:
        port = virtual(one, "rack")
        with sending(one, show, port) as running:
            doomed.signal(signal.SIGKILL)
            code, out = ended(running, 20)
    assert code == 1
    assert "is lost: the MIDI server no longer answers; certain up to message" in out
    assert "echo: unknown, as before" in out
    assert "Nothing more is sent until a person says so." in out
    assert "Traceback" not in out


def test_port_that_vanishes_in_mid_change_is_told(jack: Machine, tmp_path: Path) -> None:
    port = virtual(jack, "rack")
    with sending(jack, lay(tmp_path, SLOW), port) as running:
        port.close()
        code, out = ended(running, 20)
    assert code == 1
    assert "is lost: the port is no longer there" in out
    assert "Traceback" not in out


def test_interrupt_stops_between_messages_and_says_what_is_known(jack: Machine, tmp_path: Path) -> None:
    port = virtual(jack, "rack")
    with sending(jack, lay(tmp_path, SLOW), port) as running:
        running.send_signal(signal.SIGINT)
        code, out = ended(running, 20)
    assert code == 1
    assert "lantern verse: stopped between two messages, " in out
    assert "what the rig is now known to be:" in out
    assert "echo: unknown, as before" in out


def test_second_run_is_refused(jack: Machine, tmp_path: Path) -> None:
    show = lay(tmp_path, SLOW)
    port = virtual(jack, "rack")
    with sending(jack, show, port):
        code, out = ended(start("send", show, "lantern", "verse", "--yes", "--api", "jack"))
    assert code == 1
    assert "another run of this tool is sending on it (process " in out
    assert "nothing was sent" in out


def test_second_run_that_shares_is_let_in(jack: Machine, tmp_path: Path) -> None:
    show = lay(tmp_path, SLOW)
    quick = lay(tmp_path / "quick")
    port = virtual(jack, "rack")
    with sending(jack, show, port):
        code, out = ended(start("send", quick, "lantern", "verse", "--yes", "--share", "--api", "jack"))
    assert code == 0, out


def test_name_that_could_be_two_ports_is_refused(jack: Machine, tmp_path: Path) -> None:
    virtual(jack, "rack")
    with machine() as other:
        virtual(other, "rack")
        code, out = ended(start("send", lay(tmp_path), "lantern", "verse", "--yes", "--api", "jack"))
    assert code == 1
    assert "rack: `rack` could be `switchmatrix stand-in" in out
    assert "nothing was sent" in out


@pytest.mark.parametrize("command", NO_SERVER)
def test_no_server_is_told(command: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("JACK_DEFAULT_SERVER", "nobody-started-this")
    name, *rest = command
    code, out = ended(start(name, lay(tmp_path), *rest, "--api", "jack"))
    assert code == 1
    assert "JACK does not answer" in out
    assert "Traceback" not in out


@contextmanager
def stand_in(*args: str) -> Iterator[subprocess.Popen[str]]:
    """The example show's bench, made of software, on real ports."""
    running = start("stand-in", SONGS, "--rig", "bench", "--api", "jack", *args)
    assert running.stdout is not None
    try:
        line = running.stdout.readline()
        assert line.startswith("stand-in: Bench, made of software, on bench, shelf, alone"), line
        yield running
    finally:
        stopped(running)


def check(tmp_path: Path, *args: str) -> tuple[int, str]:
    """A line check of the bench with nobody to ask."""
    out = str(tmp_path / "checks")
    given = ("--rig", "bench", "--yes", "--no-ask", "--api", "jack", "--period", "2", "--out", out)
    return ended(start("line-check", SONGS, *given, *args))


@pytest.mark.usefixtures("jack")
def test_line_check_of_a_stand_in_on_real_ports(tmp_path: Path) -> None:
    with stand_in():
        code, out = check(tmp_path)
    assert code == 1
    assert "stand-in: acoustic  shelf  answers      version 0.0.1.0; round trip " in out
    assert "stand-in: reverb    bench  answers      version 0.1.0.4; round trip " in out
    assert "stand-in: filter    shelf  not checked  it cannot answer, and nobody was asked" in out
    assert "stand-in: NOT passed: 2 of 14 devices respond" in out


@pytest.mark.usefixtures("jack")
def test_line_check_passes_where_every_device_asked_for_answers(tmp_path: Path) -> None:
    with stand_in():
        code, out = check(tmp_path, "--device", "acoustic", "--device", "reverb")
    assert (code, out.count(": answers, ")) == (0, 2), out


@pytest.mark.usefixtures("jack")
def test_line_check_finds_the_faults_of_a_stand_in(tmp_path: Path) -> None:
    with stand_in("--silent", "acoustic", "--wrong-version", "reverb"):
        code, out = check(tmp_path)
    assert code == 1
    assert "acoustic: silent, no reply within 500 ms" in out
    assert "reverb: differs, expected version 0.1.0.4; came version 0.1.0.5" in out


@pytest.mark.usefixtures("jack")
def test_line_check_hears_a_slow_device_too_late(tmp_path: Path) -> None:
    with stand_in("--slow", "acoustic", "700"):
        _, out = check(tmp_path, "--device", "acoustic")
    assert "acoustic: silent, no reply within 500 ms; one came after 70" in out


@pytest.mark.usefixtures("jack")
def test_stand_in_stops_when_told_and_says_so() -> None:
    with stand_in() as running:
        assert until(lambda: running.poll() is None, 1)
        running.send_signal(signal.SIGTERM)
        code, out = ended(running, 20)
    assert (code, out.splitlines()[-1]) == (0, "stand-in: ended; it heard 0 messages")
