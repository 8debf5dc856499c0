"""All ports of a rig: sends handed to them, told when through, and ports that go and come back."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from queue import Empty, SimpleQueue

from switchmatrix.live.records import MS, Due, Heard, Lost, Refused
from switchmatrix.live.rehearsing.line import CLOCKS, Line
from switchmatrix.live.rehearsing.opening import Open, Opening
from switchmatrix.live.stepping.actions import Send
from switchmatrix.live.stepping.inputs import Count, Done, Late, PortBack, PortLost, SendFailed
from switchmatrix.live.transport import Input, Output, Transport

AGAIN_NS = 1_000 * MS
"""Between two tries to open what is lost, at first."""

SELDOM_NS, OFTEN = 5_000 * MS, 15
"""After so many tries in vain, between two of them: each is a process, and a client of the server."""

RETURN_TRIES = 5
"""So often a port that had a return is tried with it; then it is taken without. Ports come one by one."""

ENDS_S = 2.0
"""How long closing waits for ports that are just being opened; a server that hangs is left alone."""

Report = Done | Late | PortLost | PortBack | SendFailed


@dataclass(slots=True, eq=False)
class _Link:
    """A transport, and the lines open on it."""

    transport: Transport
    lines: list[Line]


class RigLines:
    """The ports of one rig. Opening what is lost goes on in a thread, since a server may hang; with
    `at_once` it does not.

    `shut` says of each port that is not open why; `deaf` of each return that is not there.
    """

    def __init__(self, rig: str, ports: Iterable[str], open_: Open, first: Opening, at_once: bool) -> None:
        self.rig = rig
        self.ports = tuple(ports)
        self.shut: dict[str, str] = dict(first.shut)
        self.deaf: dict[str, str] = dict(first.deaf)
        self._open, self._at_once = open_, at_once
        self._links: list[_Link] = []
        self._dead: list[Transport | Output | Input] = []
        self._reports: deque[Report] = deque(PortLost(rig, port, why) for port, why in first.shut.items())
        self._sends: dict[int, frozenset[str]] = {}
        self._opened: SimpleQueue[Opening | str | None] = SimpleQueue()
        self._thread: threading.Thread | None = None
        self._again_ns = 0
        self._tries = 0
        self._whole: dict[str, int] = {}
        self._over = False
        self._link(first)

    def _link(self, opening: Opening) -> None:
        for line in opening.lines:
            line.calm()
        if opening.lines:
            self._links.append(_Link(opening.transport, list(opening.lines)))
        else:
            self._dead.append(opening.transport)

    def line(self, port: str) -> Line | None:
        """The open line of a port."""
        return next((line for line in self._lines() if line.port == port), None)

    def _lines(self) -> list[Line]:
        return [line for link in self._links for line in link.lines]

    def send(self, send: Send) -> None:
        """Have a send's messages sent, each at its moment; what came of it is told by `poll`.

        While a fault is yet to be told, nothing is: whoever sends knows nothing of it.
        """
        batches: dict[str, list[Due]] = {}
        for message in send.messages:
            due = Due(message.starts_us * 1000, message.step.data)
            batches.setdefault(message.step.port, []).append(due)
        if not self._untold():
            for port, messages in batches.items():
                refused = self._hand(port, send, messages)
                if refused is not None:
                    self._look_for_loss()
                    if not self._untold():
                        self._failed(port, refused.reason)
                    break
        if self._untold():
            self._not_sent(send.send, batches)
        else:
            self._sends[send.send] = frozenset(batches)

    def _hand(self, port: str, send: Send, messages: Sequence[Due]) -> Refused | None:
        line = self.line(port)
        if line is None:
            why = self.shut.get(port, "it was not among the rig's ports when this run began")
            return Refused(port, f"the port is not open: {why}")
        return line.hand(send.send, messages, ahead=send.ahead)

    def _untold(self) -> list[int]:
        """The places of the faults among what is to be told."""
        return [n for n, report in enumerate(self._reports) if isinstance(report, PortLost | SendFailed)]

    def _not_sent(self, send: int, ports: Iterable[str]) -> None:
        """Say with the next fault that is told that nothing of a send went out, where it was not counted."""
        place = self._untold()[0]
        fault = self._reports[place]
        if isinstance(fault, PortLost | SendFailed):
            counted = {count.port for count in fault.counts if count.send == send}
            more = tuple(Count(send, port, 0, 0) for port in ports if port not in counted)
            self._reports[place] = replace(fault, counts=fault.counts + more)

    def _failed(self, port: str, reason: str) -> None:
        """Stop, and tell that a send failed, with how much of every send under way went out."""
        self._reports.append(SendFailed(self.rig, port, reason, self._stop()))

    def clocks(self, port: str, messages: Sequence[Due]) -> None:
        """Have MIDI clock sent beside all else."""
        line = self.line(port)
        if line is not None and messages:
            line.hand(CLOCKS, messages)

    def drop(self) -> None:
        """Stop between two messages, and forget what was not sent."""
        self._stop()

    def _stop(self) -> tuple[Count, ...]:
        """Stop, forget what was not sent, and say how much of each send under way went out.

        All lines stop before any is counted: what went out after the count would be known wrongly.
        """
        for line in self._lines():
            line.stop()
        counts = tuple(count for line in self._lines() for count in line.counts())
        for line in self._lines():
            line.drop()
        self._sends.clear()
        return counts

    def poll(self, until_ns: int) -> Iterator[Report]:
        """Let the ports' time go on until then; what is through, lost or back.

        A report counts as told once it has been taken from the iterator.
        """
        for link in self._links:
            while True:
                link.transport.wait(until_ns)
                moved = [line.pump() for line in link.lines]
                if not any(moved) or link.transport.now_ns() >= until_ns:
                    break
        self._look_for_late()
        self._look_for_loss()
        self._look_for_done()
        self._look_for_opened(until_ns)
        return self._told(len(self._reports))

    def _told(self, count: int) -> Iterator[Report]:
        for _ in range(count):
            report = self._reports.popleft()
            yield report
            line = self.line(report.port) if isinstance(report, Late) else None
            if line is not None:
                line.told()

    def heard(self) -> dict[str, tuple[Heard, ...]]:
        """What came on each return since this was last asked."""
        return {line.port: came for line in self._lines() if (came := line.heard())}

    def _look_for_late(self) -> None:
        for line in self._lines():
            for one in line.late():
                late = Late(self.rig, line.port, one.send, one.due_ns // 1000, -(-one.by_ns // 1000))
                self._reports.append(late)

    def _look_for_done(self) -> None:
        for send, ports in list(self._sends.items()):
            lines = [line for line in self._lines() if line.port in ports]
            if not any(line.busy_with(send) for line in lines):
                for line in lines:
                    line.forget(send)
                del self._sends[send]
                self._reports.append(Done(self.rig, send))

    def _look_for_loss(self) -> None:
        lost = {line.port: line.lost for line in self._lines() if line.lost is not None}
        dropped = max((line.dropped for line in self._lines()), default=0)
        if lost:
            self._lose(lost)
        elif dropped:
            port = next(line.port for line in self._lines() if line.dropped)
            self._failed(port, f"the MIDI server dropped {dropped} of its own beats, so maybe messages")
        for line in self._lines() if lost or dropped else ():
            line.calm()

    def _lose(self, lost: Mapping[str, Lost]) -> None:
        """Let go of those ports."""
        counts = self._stop()
        self._look_for_late()
        for port, loss in lost.items():
            self.shut[port] = loss.reason
            self._tries = 0
            self._reports.append(PortLost(self.rig, port, loss.reason, counts))
        for link in self._links:
            for line in link.lines:
                if line.port in lost:
                    self._whole[line.port] = 0 if line.back is None else RETURN_TRIES
                    self._dead += line.given_up()
            link.lines = [line for line in link.lines if line.port not in lost]
            self._dead += [] if link.lines else [link.transport]
        self._links = [link for link in self._links if link.lines]

    def _look_for_opened(self, now_ns: int) -> None:
        """Take over what was opened anew, and have what is still lost tried once more."""
        working = self._thread is not None and self._thread.is_alive()
        try:
            self._take(self._opened.get_nowait())
            working = False
        except Empty:
            pass
        if working:
            return
        self._thread = None
        if (self.shut or self._dead) and now_ns >= self._again_ns:
            self._again_ns = now_ns + (AGAIN_NS if self._tries < OFTEN else SELDOM_NS)
            self._tries += 1
            self._try_again()

    def _take(self, opening: Opening | str | None) -> None:
        if not isinstance(opening, Opening):
            self.shut.update(dict.fromkeys(self.shut, opening) if opening else {})
            return
        self.shut.update(opening.shut)
        self._link(opening)
        for line in opening.lines:
            self.shut.pop(line.port, None)
            self.deaf.pop(line.port, None)
            self._reports.append(PortBack(self.rig, line.port))
        self.deaf.update(opening.deaf)

    def _try_again(self) -> None:
        dead, self._dead = self._dead, []
        wanted = tuple(self.shut)
        whole = {port for port in wanted if self._whole.get(port, 0) > 0}
        self._whole = {port: tries - 1 for port, tries in self._whole.items()}

        def work() -> None:
            self._opened.put(self._open_anew(dead, wanted, whole))
            if self._over:
                self._let_go()

        if self._at_once:
            work()
            return
        self._thread = threading.Thread(target=work, name=f"ports of {self.rig}", daemon=True)
        self._thread.start()

    def _open_anew(
        self, dead: Sequence[Transport | Output | Input], wanted: Sequence[str], whole: set[str]
    ) -> Opening | str | None:
        """What could be opened, or why nothing could be tried; all this may take seconds."""
        try:
            # A port that another run sends on stays locked until the old one is let go of.
            for one in dead:
                one.close()
            return self._open(wanted, whole) if wanted else None
        except OSError as error:
            return f"it cannot be opened: {error.strerror or error}"

    def _let_go(self) -> None:
        """Close what was opened and nobody has taken."""
        while True:
            try:
                opening = self._opened.get_nowait()
            except Empty:
                return
            if isinstance(opening, Opening):
                opening.transport.close()

    def close(self) -> None:
        """Close every port; what is still being opened then is closed by the thread that opens it."""
        self._over = True
        if self._thread is not None:
            self._thread.join(ENDS_S)
        self._let_go()
        for one in (*(link.transport for link in self._links), *self._dead):
            one.close()
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
