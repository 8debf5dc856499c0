"""The process that sends on one output port, each message at its moment and whole."""

from __future__ import annotations

import os
import time
from typing import Any

from switchmatrix.live.pipe import Pipe
from switchmatrix.live.port_process import CLOSE_S, alive, serve
from switchmatrix.live.port_server import (
    Beating,
    NoServerError,
    beating,
    client,
    connect,
    join,
    leave,
    leave_all,
    names,
    stand_in,
)
from switchmatrix.live.queue import Batch, Queue
from switchmatrix.live.records import MS, Stopped
from switchmatrix.live.words import Close, Gone, Hand, NotOpened, Open, Opened, Stop, Went

SPIN_NS = 2 * MS
"""The last stretch before a message is due is not slept: a sleep ends late by more than a message may."""

FLUSH_NS = MS
"""Reports wait while the next message is due sooner than this, but never more than `MOST_UNSAID`."""

MOST_UNSAID = 64


class Sender:
    """One open output port, its queue and its beats."""

    def __init__(self, pipe: Pipe, order: Open, port: Any, beating: Beating | None) -> None:
        self.pipe, self.order, self.port, self.beating = pipe, order, port, beating
        self.queue = Queue()
        self.unsaid: list[tuple[int, int]] = []
        self.next_beat = time.monotonic_ns()
        self.over = False

    def run(self) -> None:
        """Obey, beat and send until told to close, or until the server or the program is gone."""
        while not self.over and not self.pipe.closed:
            for order in self.pipe.take(1):
                self.obey(order)
            now = time.monotonic_ns()
            if now >= self.next_beat:
                self.beat(now)
            batch = self.queue.next()
            if batch is None or batch.due() - now > SPIN_NS:
                self.say()
                sleep_ns = self.next_beat if batch is None else min(self.next_beat, batch.due() - SPIN_NS)
                self.pipe.wait((sleep_ns - time.monotonic_ns()) / 1e9)
            else:
                self.send(batch)

    def obey(self, order: object) -> None:
        """Do what the program says."""
        match order:
            case Hand(batch, messages, ahead):
                self.queue.hand(batch, messages, ahead)
            case Stop():
                dropped = self.queue.stop()
                self.say()
                self.pipe.put(Stopped(self.queue.sent, dropped))
            case Close():
                self.over = True

    def send(self, batch: Batch) -> None:
        """Spin until the batch's next message is due and send it, unless the program has a word before."""
        due = batch.due()
        if due - time.monotonic_ns() > FLUSH_NS // 2:
            self.say()
        while (moment := time.monotonic_ns()) < due:
            if due - moment > FLUSH_NS // 4 and self.pipe.wait(0):
                return
        self.port.send_message(batch.messages[0][2])
        sent = self.queue.went(batch, moment)
        self.unsaid.append((sent.number, sent.sent_ns))
        if len(self.unsaid) >= MOST_UNSAID:
            self.say()

    def say(self) -> None:
        """Tell what was sent."""
        if self.unsaid:
            self.report()

    def report(self) -> None:
        """Tell what was sent, and what the beats prove; where there are none, all counts as gone through."""
        beats = None if self.beating is None else self.beating.beats
        certain, missed = (self.queue.sent, 0) if beats is None else (beats.certain, beats.missed)
        self.pipe.put(Went(tuple(self.unsaid), certain, missed))
        self.unsaid.clear()

    def beat(self, now: int) -> None:
        """Look whether server and port are there, send the next beat, and give the program a sign of life."""
        alive()
        if self.beating is not None:
            self.beating.poll()
            if self.beating.beats.missing(now):
                return self.gone("the MIDI server no longer answers", server=True)
            if not self.order.virtual and self.order.name not in names(self.port):
                return self.gone("the port is no longer there", server=False)
            self.beating.go(now, self.queue.sent)
        self.report()
        self.next_beat = now + self.order.watch.every_ns
        return None

    def gone(self, reason: str, *, server: bool) -> None:
        """Say so and end; where the server is gone too, at once: closing its ports can hang or crash."""
        self.report()
        self.pipe.put(Gone(reason))
        if server:
            os._exit(0)
        self.over = True


def work(pipe: Pipe, order: object) -> None:
    """Open the port and send on it."""
    assert isinstance(order, Open)
    try:
        api, port = connect("out", order.api, client("out") if not order.virtual else stand_in())
    except NoServerError as error:
        return pipe.put(NotOpened(str(error)))
    if order.virtual:
        port.open_virtual_port(order.name)
    elif not join(port, order.name):
        leave(port)
        return pipe.put(NotOpened("the machine has no such output"))
    beats = beating(api, order.watch)
    pipe.put(Opened(api, beats is not None))
    Sender(pipe, order, port, beats).run()
    alive(CLOSE_S)
    leave_all(port, beats)
    return None


if __name__ == "__main__":
    serve(work)
