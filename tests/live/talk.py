"""Commands that are talked to: one runs in a process of its own, and answers are typed when it asks."""

from __future__ import annotations

import os
import select
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.live.kit import ROOT

EASILY = """
from switchmatrix.cli import main, wiring
from switchmatrix.live.records import MS, Watch
wiring.WATCH = Watch(beat_ns=2_000 * MS, silence_ns=3_000 * MS, open_ns=20_000 * MS)
main()
"""
"""A command with a watch that takes no busy machine for a loss."""


class Talk:
    """A running command: what it has printed, and a keyboard."""

    def __init__(self, *args: str | Path) -> None:
        self.said, self._seen = "", 0
        self.process = subprocess.Popen(
            [sys.executable, "-c", EASILY, *map(str, args)],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )

    def until(self, text: str, seconds: float = 30) -> None:
        """Wait until it has printed this after what was waited for before; AssertionError if it does not."""
        assert self.process.stdout is not None
        end = time.monotonic() + seconds
        while text not in self.said[self._seen :]:
            ready = select.select([self.process.stdout], [], [], max(0.0, end - time.monotonic()))[0]
            more = os.read(self.process.stdout.fileno(), 1 << 16) if ready else b""
            assert more, f"no `{text}` in:\n{self.said}"
            self.said += more.decode()
        self._seen = self.said.index(text, self._seen) + len(text)

    def type(self, text: str) -> None:
        """Answer it."""
        assert self.process.stdin is not None
        self.process.stdin.write(text.encode())
        self.process.stdin.flush()

    def ended(self, seconds: float = 60) -> tuple[int, str]:
        """Its exit code and all that it printed, once nothing more is typed."""
        out, _ = self.process.communicate(timeout=seconds)
        self.said += out.decode()
        return self.process.returncode, self.said


@contextmanager
def talk(*args: str | Path) -> Iterator[Talk]:
    """A command, running; told to stop at the end, since killed outright it would hold up the server."""
    one = Talk(*args)
    try:
        yield one
    finally:
        if one.process.poll() is None:
            one.process.send_signal(signal.SIGINT)
        one.process.communicate(timeout=20)
