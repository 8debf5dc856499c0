"""The machine's own MIDI ports, each in a process of its own."""

from __future__ import annotations

import select
import time
from typing import TypeVar

from switchmatrix.live import probe
from switchmatrix.live.receiver import Receiver, open_receiver
from switchmatrix.live.records import WATCH, NoPorts, Ports, Refused, Watch
from switchmatrix.live.sender import Sender, open_sender

_Port = TypeVar("_Port", Sender, Receiver)


class Machine:
    """The ports of one MIDI server: `api` auto (the first that answers), alsa, jack or core."""

    def __init__(self, api: str = "auto", watch: Watch = WATCH) -> None:
        self.api = api
        self._watch = watch
        self._open: list[Sender | Receiver] = []

    def now_ns(self) -> int:
        """The monotonic clock, which all processes of the machine share."""
        return time.monotonic_ns()

    def ports(self) -> Ports | NoPorts:
        """The machine's inputs and outputs, asked afresh."""
        found = probe.ports(self.api)
        if isinstance(found, Ports):
            self.api = found.api
        return found

    def open_output(self, name: str, *, virtual: bool = False, share: bool = False) -> Sender | Refused:
        """Open an output, or make a virtual one; what another run sends on is refused unless shared."""
        return self._kept(open_sender(name, self.api, virtual=virtual, share=share, watch=self._watch))

    def open_input(self, name: str, *, virtual: bool = False) -> Receiver | Refused:
        """Open an input, or make a virtual one."""
        return self._kept(open_receiver(name, self.api, virtual=virtual, watch=self._watch))

    def _kept(self, port: _Port | Refused) -> _Port | Refused:
        if not isinstance(port, Refused):
            self._open.append(port)
        return port

    def wait(self, until_ns: int) -> None:
        """Sleep until then, or until a port's process says something or is silent for too long."""
        living = [port for port in self._open if port.lost is None and not port.closed]
        until = min([until_ns, *(port.silent_at() for port in living)])
        unwritten = [port for port in living if port.has_unwritten()]
        select.select(living, unwritten, [], max(0, until - time.monotonic_ns()) / 1e9)
        for port in living:
            port.pump()

    def close(self) -> None:
        """Close every port that this opened."""
        for port in reversed(self._open):
            port.close()
        self._open.clear()
