"""One run to an output port."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from switchmatrix.live.lock import Lock, lock
from switchmatrix.live.records import Refused
from tests.live.kit import ROOT

HOLD = "from switchmatrix.live.lock import lock; lock('box', 'alsa'); print(flush=True); input()"


@pytest.fixture(autouse=True)
def _runtime(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))


def taken(port: str, api: str = "alsa", share: bool = False) -> bool:
    """Whether the port can be locked; lets go of it at once."""
    held = lock(port, api, share)
    if isinstance(held, Lock):
        held.release()
    return isinstance(held, Lock)


def holder() -> subprocess.Popen[str]:
    """Another process that holds the port `box`."""
    process = subprocess.Popen(
        [sys.executable, "-c", HOLD], cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    process.stdout.readline()
    return process


def test_port_that_another_process_holds_is_refused() -> None:
    with holder() as other:
        refused = lock("box", "alsa")
        other.kill()
    assert refused == Refused("box", f"another run of this tool is sending on it (process {other.pid})")


def test_port_that_another_process_holds_is_shared_when_told() -> None:
    with holder() as other:
        shared = lock("box", "alsa", share=True)
        other.kill()
    assert shared == Lock(None)


def test_port_is_free_once_its_holder_is_killed() -> None:
    with holder() as other:
        other.kill()
        other.wait()
        assert taken("box")


def test_port_is_free_once_let_go() -> None:
    assert (taken("box"), taken("box")) == (True, True)


def test_other_port_is_free() -> None:
    held = lock("box", "alsa")
    assert isinstance(held, Lock)
    assert (taken("box!"), taken("box", "jack"), taken("box")) == (True, True, False)
    held.release()


def test_letting_go_twice_is_once() -> None:
    held = lock("box", "alsa")
    assert isinstance(held, Lock)
    held.release()
    held.release()
    assert held == Lock(None)


def test_lock_is_held_while_a_process_that_got_the_descriptor_lives() -> None:
    held = lock("box", "alsa")
    assert isinstance(held, Lock)
    assert held.descriptor is not None
    with subprocess.Popen(["sleep", "60"], pass_fds=[held.descriptor]) as heir:
        held.release()
        free = taken("box")
        heir.kill()
    assert (free, taken("box")) == (False, True)


def test_folder_of_locks_is_the_users_alone(tmp_path: Path) -> None:
    taken("box")
    assert stat.S_IMODE((tmp_path / "switchmatrix").stat().st_mode) == 0o700


def test_without_a_runtime_folder_locks_lie_in_the_temporary_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("XDG_RUNTIME_DIR")
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    taken("box")
    assert [one.name for one in tmp_path.iterdir()] == [f"switchmatrix-{os.getuid()}"]


def test_folder_that_cannot_be_made_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path / "nowhere"))
    assert lock("box", "alsa") == Refused("box", "it cannot be locked: No such file or directory")
