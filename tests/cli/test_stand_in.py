"""`stand-in`: what it is told; on real ports it is tested in tests/live."""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.live.records import NoPorts
from tests.cli.kit import lay, run
from tests.cli.wired import listed


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("--silent", "ecko"), "no device is called ecko: did you mean `echo`?"),
        (("--slow", "echo", "50"), "echo has no identity in its definition, so it answers nothing"),
        (("--wrong-version", "echo"), "echo has no identity in its definition, so it answers nothing"),
    ],
)
def test_fault_that_cannot_be_is_wrong_usage(tmp_path: Path, args: tuple[str, ...], said: str) -> None:
    ran = run("stand-in", lay(tmp_path), *args)
    assert ran.code == 2
    assert said in ran.err


def test_machine_without_a_midi_server_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    there = NoPorts("JACK does not answer")
    listed(monkeypatch, there)
    ran = run("stand-in", lay(tmp_path))
    assert (ran.code, ran.err) == (1, "stand-in: JACK does not answer\n")
