"""The program's side of an input port: what came in, and when."""

from __future__ import annotations

from switchmatrix.live.port import Port, opened
from switchmatrix.live.process import Process
from switchmatrix.live.records import WATCH, Heard, Lost, Refused, Watch
from switchmatrix.live.words import Came, Open, Opened


class Receiver(Port):
    """An input port; its process polls and stamps."""

    def __init__(self, name: str, process: Process, opened: Opened, watch: Watch) -> None:
        super().__init__(name, process, opened, watch)
        self._news: list[Heard] = []

    def news(self) -> tuple[Heard, ...]:
        """What came since this was last asked, in the order it came."""
        news, self._news = tuple(self._news), []
        return news

    def _word(self, word: object) -> None:
        if isinstance(word, Came):
            self._news += word.heard
            self.missed = max(self.missed, word.missed)

    def _loss(self, reason: str) -> Lost:
        return Lost(self.name, reason, 0, 0)


def open_receiver(name: str, api: str, *, virtual: bool = False, watch: Watch = WATCH) -> Receiver | Refused:
    """Open the input port that the server `api` calls `name`, or make a virtual one of that name."""
    order = Open(api, name, virtual, watch)
    started = opened(Process("port_receiver", order), order)
    return started if isinstance(started, Refused) else Receiver(name, *started, watch)
