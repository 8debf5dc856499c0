"""What a port still has to send: batches side by side, those put ahead first."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass, field

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
    ahead: list[Batch] = field(default_factory=list)
    batches: list[Batch] = field(default_factory=list)

    def hand(self, batch: int, messages: Iterable[tuple[int, int, bytes]], ahead: bool = False) -> None:
        """Take a batch, or more of one; a batch that is ahead goes before all that are not."""
        messages = tuple(messages)
        if not messages:
            return
        line = self.ahead if ahead else self.batches
        known = next((one for one in line if one.id == batch), None)
        if known is None:
            known = Batch(batch, deque())
            line.append(known)
        known.messages.extend(messages)

    def next(self) -> Batch | None:
        """The batch whose next message is the port's next."""
        return self.ahead[0] if self.ahead else min(self.batches, key=Batch.due, default=None)

    def went(self, batch: Batch, moment: int) -> Sent:
        """The batch's next message left at `moment`."""
        number, due, data = batch.messages.popleft()
        if moment - due > batch.slip + LATE_NS:
            batch.slip = moment - due
        if not batch.messages:
            (self.ahead if batch in self.ahead else self.batches).remove(batch)
        self.sent += 1
        return Sent(number, due, moment, data)

    def stop(self) -> tuple[int, ...]:
        """Forget what was not sent; its numbers, sorted."""
        dropped = sorted(n for batch in (*self.ahead, *self.batches) for n, _, _ in batch.messages)
        self.ahead.clear()
        self.batches.clear()
        return tuple(dropped)
