"""The program's side of an input port: what came in, and when."""

from __future__ import annotations

from switchmatrix.live.link import opened
from switchmatrix.live.port import Port
from switchmatrix.live.process import Process
from switchmatrix.live.pulse import Pulse
from switchmatrix.live.records import WATCH, Heard, Refused, Watch
from switchmatrix.live.words import Came, Open, Opened


class Receiver(Port):
    """An input port; its process polls and stamps."""

    def __init__(
        self, name: str, process: Process, opened: Opened, watch: Watch, pulse: Pulse | None
    ) -> None:
        super().__init__(name, process, opened, watch, pulse)
        self._news: list[Heard] = []

    def news(self) -> tuple[Heard, ...]:
        """What came since this was last asked, in the order it came."""
        news, self._news = tuple(self._news), []
        return news

    def _word(self, word: object) -> None:
        if isinstance(word, Came):
            self._news += word.heard


def open_receiver(
    name: str, api: str, *, virtual: bool = False, watch: Watch = WATCH, pulse: Pulse | None = None
) -> Receiver | Refused:
    """Open the input port that the server `api` calls `name`, or make a virtual one of that name."""
    order = Open(api, name, virtual, watch)
    started = opened(Process("port_receiver", order), order)
    return started if isinstance(started, Refused) else Receiver(name, *started, watch, pulse)
