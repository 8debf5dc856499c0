"""The program's side of an output port: what it was handed, what left when, what is certain."""

from __future__ import annotations

import itertools
import time
from collections import deque
from collections.abc import Sequence

from switchmatrix.live.link import opened
from switchmatrix.live.lock import Lock, lock
from switchmatrix.live.port import Port
from switchmatrix.live.process import Process
from switchmatrix.live.pulse import Pulse
from switchmatrix.live.records import LONGEST_ON_JACK, WATCH, Due, Lost, Refused, Sent, Stopped, Watch
from switchmatrix.live.whole import fault
from switchmatrix.live.words import Hand, Open, Opened, Stop, Went

PART = 100
"""Messages in one word: more would keep the port process from sending while it reads."""


class Sender(Port):
    """An output port; its process sends each message at its moment, whole."""

    def __init__(
        self,
        name: str,
        process: Process,
        opened: Opened,
        watch: Watch,
        pulse: Pulse | None,
        held: Lock,
    ) -> None:
        super().__init__(name, process, opened, watch, pulse)
        self._certain = 0
        self._unproved: deque[int] = deque()
        self._held = held
        self._numbers, self._batches = itertools.count(1), itertools.count(1)
        self._waiting: dict[int, Due] = {}
        self._sent = 0
        self._news: list[Sent] = []
        self._stopped: Stopped | None = None

    def hand(
        self, messages: Sequence[Due], *, ahead: bool = False, knows: int | None = None
    ) -> Refused | None:
        """Have a batch sent, all of it or, where one message is too long, none; moments must not fall."""
        if self.lost is not None:
            return Refused(self.name, self.lost.reason)
        refusal = refused(self.name, self.api, messages)
        if refusal is not None:
            return refusal
        batch = next(self._batches)
        numbered = [(next(self._numbers), one.moment_ns, one.data) for one in messages]
        for (number, _, _), one in zip(numbered, messages, strict=True):
            self._waiting[number] = one
        for start in range(0, len(numbered), PART):
            self._process.pipe.put(Hand(batch, tuple(numbered[start : start + PART]), ahead, knows))
        return None

    def stop(self) -> Stopped | Lost:
        """Send nothing more of what was handed: a message on its way goes whole, none begins."""
        if self.lost is None:
            self._stopped = None
            self._process.pipe.put(Stop())
        while self.lost is None and self._stopped is None:
            self._process.pipe.wait(0.02)
            self.pump()
        return self.lost or self._stopped or Stopped(0, ())

    def news(self) -> tuple[Sent, ...]:
        """What was sent since this was last asked, in the order sent."""
        news, self._news = tuple(self._news), []
        return news

    @property
    def certain(self) -> int:
        """How many messages surely went through the server; none where there are no beats to prove it."""
        while self._pulse is not None and self._unproved and self._unproved[0] < self._pulse.proved_ns:
            self._unproved.popleft()
            self._certain += 1
        return self._certain

    def waiting(self) -> int:
        """How many messages are not yet known to be sent."""
        return len(self._waiting)

    def _word(self, word: object) -> None:
        match word:
            case Went(sent):
                for number, moment, done, pushed in sent:
                    one = self._waiting.pop(number)
                    self._news.append(Sent(number, one.moment_ns, moment, one.data, pushed))
                    if self._pulse is not None:
                        self._unproved.append(done)
                self._sent += len(sent)
            case Stopped(_, dropped):
                self._stopped = word
                for number in dropped:
                    del self._waiting[number]

    def _loss(self, reason: str) -> Lost:
        moment = time.monotonic_ns()
        # The process may have sent what it could not say any more, but nothing before its time.
        maybe = sum(1 for one in self._waiting.values() if one.moment_ns <= moment)
        return Lost(self.name, reason, self.certain, self._sent + maybe)

    def close(self) -> None:
        """Close the port, and let go of it; what was not sent never is."""
        super().close()
        self._held.release()


def refused(name: str, api: str, messages: Sequence[Due]) -> Refused | None:
    """Why these messages cannot be sent on a port; ValueError for bytes that no compiler should have made."""
    for one in messages:
        wrong = fault(one.data)
        if wrong is not None:
            raise ValueError(f"{one.data[:16].hex(' ').upper()}: {wrong}")
        if api == "jack" and len(one.data) > LONGEST_ON_JACK:
            reason = f"a message of {len(one.data)} bytes is too long for JACK, which drops it silently"
            return Refused(name, f"{reason}: {LONGEST_ON_JACK} are the most")
    return None


def open_sender(
    name: str,
    api: str,
    *,
    virtual: bool = False,
    share: bool = False,
    watch: Watch = WATCH,
    pulse: Pulse | None = None,
) -> Sender | Refused:
    """Open the output port that the server `api` calls `name`, or make a virtual one of that name."""
    held = Lock(None) if virtual else lock(name, api, share)
    if isinstance(held, Refused):
        return held
    order = Open(api, name, virtual, watch)
    started = opened(Process("port_sender", order, held.descriptor), order)
    if isinstance(started, Refused):
        held.release()
        return started
    return Sender(name, *started, watch, pulse, held)
