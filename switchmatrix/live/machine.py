"""The machine's own MIDI ports, each in a process of its own."""

from __future__ import annotations

import select
import time
from typing import TypeVar

from switchmatrix.live import probe
from switchmatrix.live.pulse import Pulse, open_pulse
from switchmatrix.live.receiver import Receiver, open_receiver
from switchmatrix.live.records import WATCH, NoPorts, Ports, Refused, Watch
from switchmatrix.live.sender import Sender, open_sender
from switchmatrix.live.words import NO_BEATS

_Port = TypeVar("_Port", Sender, Receiver)


class Machine:
    """The ports of one MIDI server: `api` auto (the first that answers), alsa, jack or core."""

    def __init__(self, api: str = "auto", watch: Watch = WATCH) -> None:
        self.api = api
        self._watch = watch
        self._open: list[Sender | Receiver] = []
        self._pulse: Pulse | None = None

    def now_ns(self) -> int:
        """The monotonic clock, which all processes of the machine share."""
        return time.monotonic_ns()

    def ports(self) -> Ports | NoPorts:
        """The machine's inputs and outputs, asked afresh."""
        found = probe.ports(self.api, self._watch.open_ns)
        if isinstance(found, Ports):
            self.api = found.api
        return found

    def open_output(self, name: str, *, virtual: bool = False, share: bool = False) -> Sender | Refused:
        """Open an output, or make a virtual one; what another run sends on is refused unless shared."""
        pulse = self._beating(name)
        if isinstance(pulse, Refused):
            return pulse
        return self._kept(
            open_sender(name, self.api, virtual=virtual, share=share, watch=self._watch, pulse=pulse)
        )

    def open_input(self, name: str, *, virtual: bool = False) -> Receiver | Refused:
        """Open an input, or make a virtual one."""
        pulse = self._beating(name)
        if isinstance(pulse, Refused):
            return pulse
        return self._kept(open_receiver(name, self.api, virtual=virtual, watch=self._watch, pulse=pulse))

    def _beating(self, name: str) -> Pulse | Refused | None:
        """The beats that watch the server, None where there can be none; why `name` cannot be opened."""
        if self._pulse is None or self._pulse.lost is not None:
            self._end_pulse()
            pulse = open_pulse(self.api, self._watch)
            if isinstance(pulse, Refused):
                return None if pulse.reason == NO_BEATS else Refused(name, pulse.reason)
            self._pulse, self.api = pulse, pulse.api
        return self._pulse

    def _kept(self, port: _Port | Refused) -> _Port | Refused:
        if not isinstance(port, Refused):
            self._open.append(port)
        return port

    def wait(self, until_ns: int) -> None:
        """Sleep until then, or until a port's process says something or a process is silent for too long."""
        ports = [port for port in self._open if port.lost is None and not port.closed]
        links = [*ports, *([] if self._pulse is None or self._pulse.lost else [self._pulse])]
        until = min([until_ns, *(link.silent_at() for link in links)])
        unwritten = [link for link in links if link.has_unwritten()]
        says, hears, _ = select.select(links, unwritten, [], max(0, until - time.monotonic_ns()) / 1e9)
        now = time.monotonic_ns()
        for link in {*says, *hears, *(link for link in links if now >= link.silent_at())}:
            link.pump()
        if self._pulse is not None and self._pulse.lost is not None:
            for port in ports:
                port.pump()

    def close(self) -> None:
        """Close every port that this opened."""
        for port in reversed(self._open):
            port.close()
        self._open.clear()
        self._end_pulse()

    def _end_pulse(self) -> None:
        if self._pulse is not None:
            self._pulse.close()
        self._pulse = None
