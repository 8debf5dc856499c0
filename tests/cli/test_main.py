"""The command line as a whole: its version, its help, wrong commands, and faults of our own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from switchmatrix import __version__
from switchmatrix.cli import COMMANDS, main
from tests.cli.kit import lay, run


def test_the_version_is_printed() -> None:
    ran = run("--version")

    assert (ran.code, ran.out, ran.err) == (0, f"switchmatrix, version {__version__}\n", "")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself(command: str) -> None:
    ran = run(command, "--help")

    assert (ran.code, ran.out.splitlines()[0].split()[:3]) == (0, ["Usage:", "switchmatrix", command])


def test_every_command_stands_in_the_help() -> None:
    listed = run("--help").out.partition("Commands:\n")[2]

    assert [line.split()[0] for line in listed.splitlines() if line[2:3].strip()] == list(COMMANDS)


def test_no_command_is_wrong_usage() -> None:
    assert run().code == 2


def test_an_unknown_command_is_wrong_usage() -> None:
    ran = run("chek", "show")

    assert (ran.code, ran.err.splitlines()[-1]) == (2, "Error: No such command 'chek'.")


def test_a_fault_of_ours_exits_with_70_and_says_that_it_is_ours(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    def broken(_: Path) -> None:
        raise RuntimeError("a broken invariant")

    monkeypatch.setattr("switchmatrix.cli.check.judge", broken)

    with pytest.raises(SystemExit) as left:
        main(["check", str(tmp_path)])

    printed = capsys.readouterr()
    assert (left.value.code, printed.out) == (70, "")
    assert printed.err.splitlines()[-3:] == [
        "RuntimeError: a broken invariant",
        "",
        "This is a fault of switchmatrix, not of your show. Nothing was sent.",
    ]


def _in_a_shell(show: Path, **settings: str) -> tuple[int, str]:
    ran = subprocess.run(
        [sys.executable, "-m", "switchmatrix", "check", str(show), "--format", "lines"],
        env={**os.environ, **settings},
        capture_output=True,
        timeout=60,
        check=False,
    )
    return ran.returncode, (ran.stdout + ran.stderr).decode("latin-1")


def test_letters_that_a_terminal_cannot_show_are_no_fault(tmp_path: Path) -> None:
    show = lay(tmp_path, {"lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: łódź}\n"})

    assert _in_a_shell(show, PYTHONIOENCODING="latin-1") == (
        1,
        "lantern.yaml:3:17: error unknown-word: `gate` has no word `\\u0142ód\\u017a`\n",
    )
