"""The process that listens on one input port: it polls, for callbacks lose whole bursts."""

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
from switchmatrix.live.records import Heard
from switchmatrix.live.words import Came, Close, Gone, NotOpened, Open, Opened

POLL_S = 0.0005
"""How long it sleeps when nothing came: the stamp of a message is late by no more."""

MOST_AT_ONCE = 256


class Receiver:
    """One open input port and its beats."""

    def __init__(self, pipe: Pipe, order: Open, port: Any, beating: Beating | None) -> None:
        self.pipe, self.order, self.port, self.beating = pipe, order, port, beating
        self.next_beat = time.monotonic_ns()
        self.over = False

    def run(self) -> None:
        """Hand on what comes until told to close, or until the server or the program is gone."""
        while not self.over and not self.pipe.closed:
            self.over = Close() in self.pipe.take()
            heard = self.poll()
            if heard:
                self.pipe.put(Came(heard))
            now = time.monotonic_ns()
            if now >= self.next_beat:
                self.beat(now)
            if len(heard) < MOST_AT_ONCE:
                self.pipe.wait(POLL_S)

    def poll(self) -> tuple[Heard, ...]:
        """What lies in the queue, stamped now."""
        heard: list[Heard] = []
        while len(heard) < MOST_AT_ONCE and (got := self.port.get_message()) is not None:
            heard.append(Heard(time.monotonic_ns(), bytes(got[0])))
        return tuple(heard)

    def beat(self, now: int) -> None:
        """Look whether server and port are there, send the next beat, and give the program a sign of life."""
        alive()
        self.next_beat = now + self.order.watch.every_ns
        if self.beating is not None:
            self.beating.poll()
            if self.beating.beats.missing(now):
                return self.gone("the MIDI server no longer answers", server=True)
            if not self.order.virtual and self.order.name not in names(self.port):
                return self.gone("the port is no longer there", server=False)
            self.beating.go(now, 0)
        return self.pipe.put(Came((), 0 if self.beating is None else self.beating.beats.missed))

    def gone(self, reason: str, *, server: bool) -> None:
        """Say so and end; where the server is gone too, at once: closing its ports can hang or crash."""
        self.pipe.put(Gone(reason))
        if server:
            os._exit(0)
        self.over = True


def work(pipe: Pipe, order: object) -> None:
    """Open the port and listen on it."""
    assert isinstance(order, Open)
    try:
        api, port = connect("in", order.api, client("in") if not order.virtual else stand_in())
    except NoServerError as error:
        return pipe.put(NotOpened(str(error)))
    port.ignore_types(sysex=False, timing=False, active_sense=False)
    if order.virtual:
        port.open_virtual_port(order.name)
    elif not join(port, order.name):
        leave(port)
        return pipe.put(NotOpened("the machine has no such input"))
    beats = beating(api, order.watch)
    pipe.put(Opened(api, beats is not None))
    Receiver(pipe, order, port, beats).run()
    alive(CLOSE_S)
    leave_all(port, beats)
    return None


if __name__ == "__main__":
    serve(work)
