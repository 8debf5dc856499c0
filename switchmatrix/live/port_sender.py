"""The process that sends on one output port, each message at its moment and whole."""

from __future__ import annotations

import time
from typing import Any

from switchmatrix.live.pipe import Pipe
from switchmatrix.live.port_process import CLOSE_S, Life, alive, go_first, serve, sleep_sharply
from switchmatrix.live.port_server import CannotOpenError, leave, names, opened
from switchmatrix.live.queue import Batch, Queue
from switchmatrix.live.records import MS, Stopped
from switchmatrix.live.words import Close, Gone, Hand, NotOpened, Open, Opened, Stop, Went

SPIN_NS = MS // 25
"""The last stretch before a message is due is not slept, as sleeps end late.

It is short, since a process that spins much is no longer woken at once on a busy machine.
"""

QUIET_NS = 5 * MS
"""Reports wait for so long a pause: each wakes the program, which then competes for the processor."""

MOST_UNSAID = 64
"""More messages than this are never left unreported."""

NEVER = 1 << 62


class Sender:
    """One open output port and its queue."""

    def __init__(self, pipe: Pipe, order: Open, port: Any) -> None:
        self.pipe, self.order, self.port = pipe, order, port
        self.queue = Queue()
        self.unsaid: list[tuple[int, int, int, int]] = []
        self.life = Life(order.watch.every_ns)
        self.over = False

    def run(self) -> None:
        """Obey and send until told to close, or until the port or the program is gone."""
        while not self.over and not self.pipe.closed:
            for order in self.pipe.take(1):
                self.obey(order)
            if self.life.due():
                self.look()
            batch = self.queue.next()
            due_ns = NEVER if batch is None else batch.due()
            ahead_ns = due_ns - time.monotonic_ns()
            if batch is not None and ahead_ns <= SPIN_NS:
                self.send(batch)
                continue
            if ahead_ns > QUIET_NS:
                self.say()
            wake_ns = min(self.life.next_ns, due_ns - SPIN_NS)
            self.pipe.wait((wake_ns - time.monotonic_ns()) / 1e9)

    def obey(self, order: object) -> None:
        """Do what the program says."""
        match order:
            case Hand(batch, messages, ahead, knows):
                self.queue.hand(batch, messages, ahead, knows)
            case Stop():
                dropped = self.queue.stop()
                self.say()
                self.pipe.put(Stopped(self.queue.sent, dropped))
            case Close():
                self.over = True

    def send(self, batch: Batch) -> None:
        """Spin until the batch's next message is due, and send it."""
        due = batch.due()
        while (moment := time.monotonic_ns()) < due:
            pass
        self.port.send_message(batch.messages[0][2])
        sent = self.queue.went(batch, moment)
        self.unsaid.append((sent.number, sent.sent_ns, time.monotonic_ns(), sent.pushed_ns))
        if len(self.unsaid) >= MOST_UNSAID:
            self.say()

    def say(self) -> None:
        """Tell what was sent."""
        if self.unsaid:
            self.pipe.put(Went(tuple(self.unsaid)))
            self.unsaid.clear()

    def look(self) -> None:
        """Give a sign of life, and look whether the port is still there."""
        self.pipe.put(Went(tuple(self.unsaid)))
        self.unsaid.clear()
        if not self.order.virtual and self.order.name not in names(self.port):
            self.pipe.put(Gone("the port is no longer there"))
            self.over = True


def work(pipe: Pipe, order: object) -> None:
    """Open the port and send on it."""
    assert isinstance(order, Open)
    go_first()
    try:
        api, port = opened("out", order)
    except CannotOpenError as error:
        return pipe.put(NotOpened(str(error)))
    pipe.put(Opened(api))
    sleep_sharply()
    Sender(pipe, order, port).run()
    alive(CLOSE_S)
    return leave(port)


if __name__ == "__main__":
    serve(work)
