"""All ports of a rig: sends handed to them, told when through, and ports that go and come back."""

from __future__ import annotations

import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from queue import Empty, SimpleQueue

from switchmatrix.live.records import MS, Due, Heard, Refused
from switchmatrix.live.rehearsing.line import CLOCKS, Line
from switchmatrix.live.rehearsing.opening import Open, Opening
from switchmatrix.live.stepping.actions import Send
from switchmatrix.live.stepping.inputs import Count, Done, PortBack, PortLost, SendFailed
from switchmatrix.live.transport import Transport

AGAIN_NS = 1_000 * MS
"""Between two tries to open what is lost."""

ENDS_S = 2.0
"""How long closing waits for ports that are just being opened; a server that hangs is left alone."""

Report = Done | PortLost | PortBack | SendFailed


@dataclass(slots=True, eq=False)
class _Link:
    """A transport, the lines open on it, and the beats that its server had dropped when last looked."""

    transport: Transport
    lines: list[Line]
    missed: int = field(init=False)

    def __post_init__(self) -> None:
        self.missed = self.dropped()

    def dropped(self) -> int:
        """Beats that the server has dropped since it was opened."""
        return max((line.output.missed for line in self.lines), default=0)


class RigLines:
    """The ports of one rig. Opening what is lost goes on in a thread, since a server may hang; with
    `at_once` it does not.

    `shut` says of each port that is not open why; `deaf` of each return that is not there.
    """

    def __init__(self, rig: str, ports: Iterable[str], open_: Open, first: Opening, at_once: bool) -> None:
        self.rig = rig
        self._open, self._at_once = open_, at_once
        self._links = [_Link(first.transport, list(first.lines))]
        self.shut: dict[str, str] = dict(first.shut)
        self.deaf: dict[str, str] = dict(first.deaf)
        self._reports: list[Report] = [PortLost(rig, port, why) for port, why in first.shut.items()]
        self._sends: dict[int, frozenset[str]] = {}
        self._opened: SimpleQueue[Opening] = SimpleQueue()
        self._thread: threading.Thread | None = None
        self._dead: list[_Link] = []
        self._again_ns = 0
        self.ports = tuple(ports)

    def line(self, port: str) -> Line | None:
        """The open line of a port."""
        return next((line for line in self._lines() if line.port == port), None)

    def _lines(self) -> list[Line]:
        return [line for link in self._links for line in link.lines]

    def watched(self) -> bool:
        """Whether a server that dies is noticed at all."""
        return all(line.output.beats for line in self._lines())

    def send(self, send: Send) -> None:
        """Have a send's messages sent, each at its moment; what came of it is told by `poll`."""
        batches: dict[str, list[Due]] = {}
        for message in send.messages:
            due = Due(message.starts_us * 1000, message.step.data)
            batches.setdefault(message.step.port, []).append(due)
        for port, messages in batches.items():
            line = self.line(port)
            reason = f"the port is not open: {self.shut.get(port, 'nobody knows why')}"
            refused = (
                Refused(port, reason) if line is None else line.hand(send.send, messages, ahead=send.ahead)
            )
            if refused is not None:
                self._failed(port, refused.reason, (send.send, tuple(batches)))
                return
        self._sends[send.send] = frozenset(batches)

    def _failed(self, port: str, reason: str, refused: tuple[int, tuple[str, ...]] | None = None) -> None:
        """Stop, and tell that a send failed, with how much of every send under way went out."""
        counts = self._stop()
        if refused is not None:
            send, ports = refused
            handed = {count.port for count in counts if count.send == send}
            counts += tuple(Count(send, port, 0, 0) for port in ports if port not in handed)
        self._reports.append(SendFailed(self.rig, port, reason, counts))

    def clocks(self, port: str, messages: Iterable[Due]) -> None:
        """Have MIDI clock sent beside all else."""
        line = self.line(port)
        if line is not None:
            line.hand(CLOCKS, tuple(messages))

    def drop(self) -> None:
        """Stop between two messages, and forget what was not sent."""
        for line in self._lines():
            line.stop()
            line.drop()
        self._sends.clear()

    def _stop(self) -> tuple[Count, ...]:
        """Stop, and say how much of each send under way went out."""
        for line in self._lines():
            line.stop()
        counts = tuple(count for line in self._lines() for count in line.counts())
        for line in self._lines():
            line.drop()
        self._sends.clear()
        return counts

    def poll(self, until_ns: int) -> list[Report]:
        """Let the ports' time go on until then; what is through, lost or back."""
        for link in self._links:
            while True:
                link.transport.wait(until_ns)
                for line in link.lines:
                    line.pump()
                if link.transport.now_ns() >= until_ns:
                    break
        self._look_for_loss()
        self._look_for_done()
        self._look_for_opened(until_ns)
        reports, self._reports = self._reports, []
        return reports

    def heard(self) -> dict[str, tuple[Heard, ...]]:
        """What came on each return since this was last asked."""
        return {line.port: came for line in self._lines() if (came := line.heard())}

    def _look_for_done(self) -> None:
        for send, ports in list(self._sends.items()):
            lines = [line for line in self._lines() if line.port in ports]
            if not any(line.busy_with(send) for line in lines):
                for line in lines:
                    line.forget(send)
                del self._sends[send]
                self._reports.append(Done(self.rig, send))

    def _look_for_loss(self) -> None:
        for link in self._links:
            if link.dropped() > link.missed and all(line.lost is None for line in link.lines):
                more, link.missed = link.dropped() - link.missed, link.dropped()
                self._failed(
                    link.lines[0].port, f"the MIDI server dropped {more} of its own beats, so maybe messages"
                )
        lost = {line.port: line.lost for line in self._lines() if line.lost is not None}
        if not lost:
            return
        counts = self._stop()
        for port, loss in lost.items():
            self.shut[port] = loss.reason
            self._reports.append(PortLost(self.rig, port, loss.reason, counts))
        for link in self._links:
            gone = [line for line in link.lines if line.port in lost]
            link.lines = [line for line in link.lines if line.port not in lost]
            self._dead += [_Link(link.transport, gone)] if gone and not link.lines else []
            if link.lines:
                for line in gone:
                    line.output.close()
        self._links = [link for link in self._links if link.lines]

    def _look_for_opened(self, now_ns: int) -> None:
        """Take over what was opened anew, and have what is still lost tried once more."""
        try:
            opening = self._opened.get_nowait()
        except Empty:
            opening = None
        if opening is not None:
            self._thread = None
            self._take(opening)
        if self.shut and self._thread is None and now_ns >= self._again_ns:
            self._again_ns = now_ns + AGAIN_NS
            self._try_again()

    def _take(self, opening: Opening) -> None:
        self.shut.update(opening.shut)
        if opening.lines:
            self._links.append(_Link(opening.transport, list(opening.lines)))
        for line in opening.lines:
            self.shut.pop(line.port, None)
            self.deaf.pop(line.port, None)
            self._reports.append(PortBack(self.rig, line.port))
        self.deaf.update(opening.deaf)

    def _try_again(self) -> None:
        dead, self._dead = self._dead, []
        wanted = tuple(self.shut)

        def work() -> None:
            # A port that another run sends on stays locked until the old one is let go of.
            for link in dead:
                link.transport.close()
            opening = self._open(wanted)
            if not opening.lines:
                opening.transport.close()
            self._opened.put(opening)

        if self._at_once:
            work()
            return
        self._thread = threading.Thread(target=work, name=f"ports of {self.rig}", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """Close every port."""
        if self._thread is not None:
            self._thread.join(ENDS_S)
        if not self._opened.empty():
            self._take(self._opened.get())
        for link in (*self._links, *self._dead):
            link.transport.close()
        self._links, self._dead = [], []

    def health(self) -> Mapping[str, str]:
        """Each port in words."""
        said: dict[str, str] = {}
        for port in self.ports:
            line = self.line(port)
            if line is None:
                said[port] = f"lost: {self.shut.get(port, 'not open')}"
            elif port in self.deaf:
                said[port] = f"open, and its return is not there: {self.deaf[port]}"
            else:
                said[port] = (
                    "open" if line.output.beats else "open, not watched: a dead server goes unnoticed"
                )
        return said
