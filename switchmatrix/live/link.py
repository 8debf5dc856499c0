"""The program's side of one port process: what it said, and whether it still lives."""

from __future__ import annotations

import time

from switchmatrix.live.port_process import CLOSE_S
from switchmatrix.live.process import Process
from switchmatrix.live.records import Lost, Refused, Watch
from switchmatrix.live.words import Close, Gone, NotOpened, Open, Opened


class Link:
    """A port process; `lost` once it is gone, and then nothing more comes or goes."""

    def __init__(self, name: str, process: Process, opened: Opened, watch: Watch) -> None:
        self.name = name
        self.api = opened.api
        self.process_id = process.id
        self.lost: Lost | None = None
        self.closed = False
        self._process, self._watch = process, watch
        self._heard_ns = time.monotonic_ns()

    def fileno(self) -> int:
        """The pipe's descriptor, for select."""
        return self._process.pipe.fileno()

    def has_unwritten(self) -> bool:
        """Whether the process has yet to read what it was told."""
        return self._process.pipe.has_unwritten()

    def silent_at(self) -> int:
        """The moment at which the process, saying nothing, counts as lost."""
        return self._heard_ns + self._watch.silence_ns

    def pump(self) -> None:
        """Take what the process said; notice if it is gone."""
        if self.lost is not None or self.closed:
            return
        words = self._process.pipe.take()
        now = time.monotonic_ns()
        if words:
            self._heard_ns = now
        self._heed(words)
        if self.lost is None and self._process.pipe.closed:
            self._lose("its process ended")
        elif self.lost is None and now >= self.silent_at():
            self._lose("its process no longer answers")

    def _heed(self, words: list[object]) -> None:
        for word in words:
            if isinstance(word, Gone):
                self.lost = self._loss(word.reason)
            else:
                self._word(word)

    def _word(self, word: object) -> None:
        """Take one thing that the process said."""
        raise NotImplementedError

    def _lose(self, reason: str) -> None:
        """Kill the process, take what it had still said, and set down the loss."""
        self._heed(self._process.kill())
        self.lost = self.lost or self._loss(reason)

    def _loss(self, reason: str) -> Lost:
        """What a loss leaves known, the process heard out."""
        return Lost(self.name, reason, 0, 0)

    def close(self) -> None:
        """Have the process close what it has open and end; what was not sent never is."""
        self.closed = True
        self._process.pipe.put(Close())
        self._process.end(CLOSE_S)


def opened(process: Process, order: Open) -> tuple[Process, Opened] | Refused:
    """The process, once it has opened its port."""
    word = process.first_word(time.monotonic_ns() + order.watch.open_ns)
    if isinstance(word, Opened):
        return process, word
    process.kill()
    match word:
        case NotOpened(reason) | Gone(reason):
            return Refused(order.name, reason)
    return Refused(order.name, "the MIDI server is there but does not answer")
