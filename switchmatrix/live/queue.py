"""What a port still has to send: batches side by side, those put ahead first."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass, field
from heapq import heapify, heappop, heappush

from switchmatrix.live.records import LATE_NS, MS, Sent

LATE_FOR_NS = 2_000 * MS
"""So long after a late message what is handed is late by as much; a settle that is longer than this could
still be cut short by as much as the message was late."""

FIRST_REAL_TIME = 0xF8
"""From here on messages may stand anywhere, and wait for nothing (MIDI 1.0 Detailed Specification, p. 5)."""


@dataclass(slots=True, eq=False)
class Batch:
    """Messages in their order as (number, due, bytes); `slip` is how late the batch runs.

    `real_time` is a batch of MIDI clock, which neither holds up others nor is held up.
    """

    id: int
    messages: deque[tuple[int, int, bytes]]
    slip: int = 0
    real_time: bool = False

    def due(self) -> int:
        """The moment before which the next message must not leave."""
        return self.messages[0][1] + self.slip


@dataclass(slots=True)
class Queue:
    """Batches not yet sent; within a batch the order given holds, between batches the moment does.

    A batch that runs late makes those handed after it as late: what they are sent was planned to come
    after it, and would overtake it, or cut short what its last message has set going.
    """

    sent: int = 0
    ahead: dict[int, Batch] = field(default_factory=dict)
    batches: dict[int, Batch] = field(default_factory=dict)
    _next: list[tuple[int, int]] = field(default_factory=list)
    """A heap with the moment of each batch that is not ahead, and its id: a song may be many batches."""
    _slip: int = 0
    _slip_ns: int = 0
    """How late the last late message left, and when."""

    def hand(self, batch: int, messages: Iterable[tuple[int, int, bytes]], ahead: bool = False) -> None:
        """Take a batch, or more of one; a batch that is ahead goes before all that are not."""
        messages = deque(messages)
        if not messages:
            return
        line = self.ahead if ahead else self.batches
        if batch in line:
            line[batch].messages.extend(messages)
            return
        real_time = messages[0][2][0] >= FIRST_REAL_TIME
        slip = 0 if real_time else self._inherited(messages[0][1])
        line[batch] = Batch(batch, messages, slip, real_time)
        if not ahead:
            heappush(self._next, (line[batch].due(), batch))

    def _inherited(self, due: int) -> int:
        """How late a batch begins that is handed now."""
        late = [batch.slip for batch in self.batches.values() if not batch.real_time]
        return max([*late, self._slip if due <= self._slip_ns + LATE_FOR_NS else 0])

    def _late(self, batch: Batch, slip: int) -> None:
        """A batch runs late, and so do those that were handed after it."""
        batch.slip = slip
        for other in self.batches.values():
            if other.id > batch.id and not other.real_time:
                other.slip = max(other.slip, slip)
        waiting = (one for one in self.batches.values() if one is not batch)
        self._next = [(one.due(), one.id) for one in waiting]
        heapify(self._next)

    def next(self) -> Batch | None:
        """The batch whose next message is the port's next."""
        if self.ahead:
            return next(iter(self.ahead.values()))
        return self.batches[self._next[0][1]] if self._next else None

    def went(self, batch: Batch, moment: int) -> Sent:
        """The next message, of the batch that is next, left at `moment`."""
        line = self.ahead if self.ahead else self.batches
        number, due, data = batch.messages.popleft()
        if line is self.batches:
            heappop(self._next)
        if moment - due > batch.slip + LATE_NS:
            if batch.real_time:
                batch.slip = moment - due
            else:
                self._late(batch, moment - due)
        if batch.slip and not batch.real_time:
            self._slip, self._slip_ns = batch.slip, moment
        if not batch.messages:
            del line[batch.id]
        if line is self.batches and batch.messages:
            heappush(self._next, (batch.due(), batch.id))
        self.sent += 1
        return Sent(number, due, moment, data)

    def waiting(self) -> list[int]:
        """The numbers of what was not sent, sorted."""
        batches = (*self.ahead.values(), *self.batches.values())
        return sorted(number for batch in batches for number, _, _ in batch.messages)

    def stop(self) -> tuple[int, ...]:
        """Forget what was not sent; its numbers, sorted."""
        dropped = tuple(self.waiting())
        self.ahead.clear()
        self.batches.clear()
        self._next.clear()
        return dropped
