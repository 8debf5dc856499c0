"""The program's side of an input or output port."""

from __future__ import annotations

from switchmatrix.live.link import Link
from switchmatrix.live.process import Process
from switchmatrix.live.pulse import Pulse
from switchmatrix.live.records import Watch
from switchmatrix.live.words import Opened


class Port(Link):
    """An open port on a server that `pulse` watches, where that is possible."""

    def __init__(
        self, name: str, process: Process, opened: Opened, watch: Watch, pulse: Pulse | None
    ) -> None:
        super().__init__(name, process, opened, watch)
        self._pulse = pulse

    @property
    def beats(self) -> bool:
        """Whether a lost server is noticed at all."""
        return self._pulse is not None

    @property
    def missed(self) -> int:
        """How many beats a living server dropped, and with them maybe messages."""
        return 0 if self._pulse is None else self._pulse.missed

    def pump(self) -> None:
        """Take what the process said; notice if it or the server is gone."""
        if self._pulse is not None:
            self._pulse.pump()
        super().pump()
        if self._pulse is not None and self._pulse.lost is not None and self.lost is None and not self.closed:
            self._lose(self._pulse.lost.reason)

    def close(self) -> None:
        """Close the port; on a server that is gone, which could hang, its process is killed."""
        if self.lost is None and self._pulse is not None and not self._pulse.answers():
            self.closed = True
            self._process.kill()
        super().close()
