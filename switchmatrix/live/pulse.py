"""The program's side of the beats: whether the MIDI server lives, and what it has surely passed on."""

from __future__ import annotations

import select
import time

from switchmatrix.live.link import Link, opened
from switchmatrix.live.process import Process
from switchmatrix.live.records import WATCH, Refused, Watch
from switchmatrix.live.words import Beaten, Open, Opened


class Pulse(Link):
    """Beats through one MIDI server."""

    def __init__(self, process: Process, opened: Opened, watch: Watch) -> None:
        super().__init__("beats", process, opened, watch)
        self.proved_ns = 0
        self.missed = 0
        self._back_ns = 0

    def _word(self, word: object) -> None:
        if isinstance(word, Beaten):
            self._back_ns, self.proved_ns, self.missed = word.back_ns, word.proved_ns, word.missed

    def close(self) -> None:
        """End the beats; on a server that is gone, which could hang, their process is killed."""
        if self.lost is None and not self.answers():
            self.closed = True
            self._process.kill()
        super().close()

    def answers(self) -> bool:
        """Whether the server lives now: waits for a beat that is yet to leave, or for the loss."""
        moment = time.monotonic_ns()
        while self.lost is None and not self.closed and self._back_ns < moment:
            wait_ns = max(0, self.silent_at() - time.monotonic_ns())
            select.select([self], [], [], wait_ns / 1e9)
            self.pump()
        return self._back_ns >= moment


def open_pulse(api: str, watch: Watch = WATCH) -> Pulse | Refused:
    """Start beats on the server `api`."""
    order = Open(api, "beats", True, watch)
    started = opened(Process("port_beater", order), order)
    return started if isinstance(started, Refused) else Pulse(*started, watch)
