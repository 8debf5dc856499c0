"""The process that listens on one input port: it polls, for callbacks lose whole bursts."""

from __future__ import annotations

import time
from typing import Any

from switchmatrix.live.pipe import Pipe
from switchmatrix.live.port_process import CLOSE_S, Life, alive, serve
from switchmatrix.live.port_server import CannotOpenError, leave, names, opened
from switchmatrix.live.records import Heard
from switchmatrix.live.words import Came, Close, Gone, NotOpened, Open, Opened

POLL_S = 0.0005
"""How long it sleeps when nothing came: the stamp of a message is late by no more."""

MOST_AT_ONCE = 256


def heard(port: Any) -> tuple[Heard, ...]:
    """What lies in the port's queue, stamped now."""
    found: list[Heard] = []
    while len(found) < MOST_AT_ONCE and (got := port.get_message()) is not None:
        found.append(Heard(time.monotonic_ns(), bytes(got[0])))
    return tuple(found)


def run(pipe: Pipe, order: Open, port: Any) -> None:
    """Hand on what comes until told to close, or until the port or the program is gone."""
    life = Life(order.watch.every_ns)
    while Close() not in pipe.take() and not pipe.closed:
        came = heard(port)
        due = life.due()
        if came or due:
            pipe.put(Came(came))
        if due and not order.virtual and order.name not in names(port):
            return pipe.put(Gone("the port is no longer there"))
        if len(came) < MOST_AT_ONCE:
            pipe.wait(POLL_S)
    return None


def work(pipe: Pipe, order: object) -> None:
    """Open the port and listen on it."""
    assert isinstance(order, Open)
    try:
        api, port = opened("in", order)
    except CannotOpenError as error:
        return pipe.put(NotOpened(str(error)))
    port.ignore_types(sysex=False, timing=False, active_sense=False)
    pipe.put(Opened(api))
    run(pipe, order, port)
    alive(CLOSE_S)
    return leave(port)


if __name__ == "__main__":
    serve(work)
