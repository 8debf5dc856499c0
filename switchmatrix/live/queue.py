"""What a port still has to send: batches side by side, those put ahead first."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass, field
from heapq import heapify, heappop, heappush

from switchmatrix.live.records import LATE_NS, Sent

FIRST_REAL_TIME = 0xF8
"""From here on messages may stand anywhere, and wait for nothing (MIDI 1.0 Detailed Specification, p. 5)."""


@dataclass(slots=True, eq=False)
class Batch:
    """Messages in their order as (number, due, bytes); `slip` is how late the batch runs.

    `real_time` is a batch of MIDI clock, which neither holds up others nor is held up; one that stands
    `alone` is not held up either, since it depends on nothing that was sent before it.
    """

    id: int
    messages: deque[tuple[int, int, bytes]]
    slip: int = 0
    real_time: bool = False
    alone: bool = False

    def due(self) -> int:
        """The moment before which the next message must not leave."""
        return self.messages[0][1] + self.slip


@dataclass(slots=True)
class Queue:
    """Batches not yet sent; within a batch the order given holds, between batches the moment does.

    A message that leaves late pushes back the rest of its batch, and what was handed after that by
    somebody who did not know of it: what was planned to come after would overtake it, or cut short what it
    has set going.
    """

    sent: int = 0
    ahead: dict[int, Batch] = field(default_factory=dict)
    batches: dict[int, Batch] = field(default_factory=dict)
    _next: list[tuple[int, int]] = field(default_factory=list)
    """A heap with the moment of each batch that is not ahead, and its id: a song may be many batches."""
    _pushes: deque[tuple[int, int]] = field(default_factory=deque)
    """Which messages have pushed back others, as how many had been sent by then, and by how much."""

    def hand(
        self,
        batch: int,
        messages: Iterable[tuple[int, int, bytes]],
        ahead: bool = False,
        knows: int | None = 0,
    ) -> None:
        """Take a batch, or more of one; a batch that is ahead goes before all that are not.

        How late the first `knows` messages left was known when it was planned; this must never fall. None:
        it depends on nothing that was handed before.
        """
        messages = deque(messages)
        if not messages:
            return
        line = self.ahead if ahead else self.batches
        if batch in line:
            line[batch].messages.extend(messages)
            return
        real_time = messages[0][2][0] >= FIRST_REAL_TIME
        slip = 0 if real_time or knows is None else self._inherited(knows)
        line[batch] = Batch(batch, messages, slip, real_time, real_time or knows is None)
        if not ahead:
            heappush(self._next, (line[batch].due(), batch))

    def _inherited(self, knows: int) -> int:
        """How late a batch begins that is handed now."""
        while self._pushes and self._pushes[0][0] <= knows:
            self._pushes.popleft()
        return sum(by for _, by in self._pushes)

    def _late(self, batch: Batch, by: int) -> None:
        """A batch runs later by so much, and so do those that were handed after it."""
        self._pushes.append((self.sent, by))
        batch.slip += by
        for other in (*self.ahead.values(), *self.batches.values()):
            if other.id > batch.id and not other.alone:
                other.slip += by
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
        self.sent += 1
        more = moment - due - batch.slip
        pushed = more if more > LATE_NS and not batch.real_time else 0
        if pushed:
            self._late(batch, pushed)
        elif more > LATE_NS:
            batch.slip += more
        if not batch.messages:
            del line[batch.id]
        if line is self.batches and batch.messages:
            heappush(self._next, (batch.due(), batch.id))
        return Sent(number, due, moment, data, pushed)

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
