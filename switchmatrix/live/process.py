"""Starting and ending port processes."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
from pathlib import Path

from switchmatrix.live.pipe import Pipe

_PACKAGE = Path(__file__).parents[2]


class Process:
    """A port process and the pipe to it; a group of its own keeps the terminal's signals from it."""

    def __init__(self, module: str, first: object, keep: int | None = None) -> None:
        ours, theirs = socket.socketpair()
        paths = [str(_PACKAGE), *filter(None, [os.environ.get("PYTHONPATH")])]
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", f"switchmatrix.live.{module}", str(theirs.fileno())],
            pass_fds=[theirs.fileno(), *([] if keep is None else [keep])],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            process_group=0,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(paths)},
        )
        theirs.close()
        self.id = self._process.pid
        self.pipe = Pipe(ours)
        self.pipe.put(first)

    def first_word(self, deadline_ns: int) -> object | None:
        """The process's first word, or None if it ends or is silent until the deadline."""
        while time.monotonic_ns() < deadline_ns:
            if words := self.pipe.take(1):
                return words[0]
            if self.pipe.closed:
                break
            self.pipe.wait((deadline_ns - time.monotonic_ns()) / 1e9)
        return None

    def kill(self) -> list[object]:
        """End the process whatever it does; what it had still said."""
        self._process.kill()
        self._process.wait()
        left = self.pipe.take()
        self.pipe.close()
        return left

    def end(self, seconds: float) -> None:
        """Let the process end on its own, at most so long."""
        try:
            self._process.wait(seconds)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        self.pipe.close()
