"""What every port process does around its work: it ends when the program does, and never outlives a hang."""

from __future__ import annotations

import contextlib
import ctypes
import gc
import os
import signal
import socket
import sys
import time
from collections.abc import Callable

from switchmatrix.live.pipe import Pipe
from switchmatrix.live.words import Gone

PR_SET_TIMERSLACK = 29

ALIVE_S = 2.0
"""A process that does not say for so long that it lives is killed by the kernel, whatever holds it."""

CLOSE_S = 6.0
"""The same while it closes its ports: rtmidi waits a second for each JACK port to have sent its last."""

LEAST_URGENT = 1
"""The real-time priority of what sends: below that of JACK's own threads, which carry what is sent.

One that hangs holds a core until the program kills it, or the kernel's alarm does. What polls is not
urgent: many ports would then hold up a server that is not.
"""


def alive(seconds: float = ALIVE_S) -> None:
    """Put off the kernel's alarm, whose default is the end of the process."""
    signal.setitimer(signal.ITIMER_REAL, seconds)


def sleep_sharply() -> None:
    """Have Linux end this process's sleeps within a microsecond, not fifty, where it can."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(PR_SET_TIMERSLACK, 1)


def go_first() -> None:
    """Have the system run this process ahead of all that is not urgent, where it can and lets us."""
    with contextlib.suppress(AttributeError, OSError):
        os.sched_setscheduler(0, os.SCHED_FIFO, os.sched_param(LEAST_URGENT))


class Life:
    """A process's signs of life, to the program and to the kernel."""

    def __init__(self, every_ns: int) -> None:
        self.next_ns = time.monotonic_ns()
        self._every_ns = every_ns

    def due(self) -> bool:
        """Whether a sign is due; if so, the kernel's alarm is put off."""
        now = time.monotonic_ns()
        if now < self.next_ns:
            return False
        self.next_ns = now + self._every_ns
        alive()
        return True


def serve(work: Callable[[Pipe, object], None], open_seconds: float = 10.0) -> None:
    """Do the work on the first word of the program, then end at once, with no clearing up that could hang."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    alive(open_seconds)
    gc.disable()
    pipe = Pipe(socket.socket(fileno=int(sys.argv[1])))
    while not (first := pipe.take(1)):
        if pipe.closed:
            os._exit(0)
        pipe.wait(1.0)
    try:
        work(pipe, first[0])
    except Exception as error:
        pipe.put(Gone(f"its process failed: {type(error).__name__}: {error}"))
    os._exit(0)
