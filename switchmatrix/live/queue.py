"""What a port still has to send: batches side by side, those put ahead first."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass, field
from heapq import heappop, heappush

from switchmatrix.live.records import LATE_NS, Sent


@dataclass(slots=True, eq=False)
class Batch:
    """Messages in their order as (number, due, bytes); `slip` is how late the batch runs."""

    id: int
    messages: deque[tuple[int, int, bytes]]
    slip: int = 0

    def due(self) -> int:
        """The moment before which the next message must not leave."""
        return self.messages[0][1] + self.slip


@dataclass(slots=True)
class Queue:
    """Batches not yet sent; within a batch the order given holds, between batches the moment does."""

    sent: int = 0
    ahead: dict[int, Batch] = field(default_factory=dict)
    batches: dict[int, Batch] = field(default_factory=dict)
    _next: list[tuple[int, int]] = field(default_factory=list)
    """A heap with the moment of each batch that is not ahead, and its id: a song may be many batches."""

    def hand(self, batch: int, messages: Iterable[tuple[int, int, bytes]], ahead: bool = False) -> None:
        """Take a batch, or more of one; a batch that is ahead goes before all that are not."""
        messages = deque(messages)
        if not messages:
            return
        line = self.ahead if ahead else self.batches
        if batch in line:
            line[batch].messages.extend(messages)
            return
        line[batch] = Batch(batch, messages)
        if not ahead:
            heappush(self._next, (line[batch].due(), batch))

    def next(self) -> Batch | None:
        """The batch whose next message is the port's next."""
        if self.ahead:
            return next(iter(self.ahead.values()))
        return self.batches[self._next[0][1]] if self._next else None

    def went(self, batch: Batch, moment: int) -> Sent:
        """The next message, of the batch that is next, left at `moment`."""
        line = self.ahead if self.ahead else self.batches
        number, due, data = batch.messages.popleft()
        if moment - due > batch.slip + LATE_NS:
            batch.slip = moment - due
        if not batch.messages:
            del line[batch.id]
        if line is self.batches:
            heappop(self._next)
            if batch.messages:
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
