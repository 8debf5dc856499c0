"""The process that sends beats through the MIDI server to itself; one for all ports, as clients cost time."""

from __future__ import annotations

import os
import time
from typing import Any

from switchmatrix.live.beats import FIRST, Beats
from switchmatrix.live.pipe import Pipe
from switchmatrix.live.port_process import CLOSE_S, alive, go_first, serve
from switchmatrix.live.port_server import CannotOpenError, client, connect, leave
from switchmatrix.live.words import NO_BEATS, Beaten, Close, Gone, NotOpened, Open, Opened

POLL_S = 0.002


def circle(api: str) -> tuple[str, Any, Any]:
    """An output, the virtual input that it is connected to, and their server."""
    import rtmidi

    api, back = connect("in", api, client("beat in"))
    _, out = connect("out", api, client("beat out"))
    back.ignore_types(sysex=False)
    try:
        back.open_virtual_port("beat")
    except (rtmidi.RtMidiError, NotImplementedError):
        raise CannotOpenError(NO_BEATS) from None
    there = out.get_ports()
    own = next(name for name in there if name.startswith(client("beat in")))
    out.open_port(there.index(own), name="beat")
    return api, out, back


def run(pipe: Pipe, beats: Beats, out: Any, back: Any) -> None:
    """Beat until told to close or until the program is gone; a server that is gone ends it at once."""
    while Close() not in pipe.take() and not pipe.closed:
        while (got := back.get_message()) is not None:
            data = bytes(got[0])
            if data.startswith(FIRST) and len(data) == 5:
                beats.back(data)
                pipe.put(Beaten(beats.back_ns, beats.proved_ns, beats.missed))
        now = time.monotonic_ns()
        if beats.missing(now):
            pipe.put(Gone("the MIDI server no longer answers"))
            os._exit(0)  # closing a port of a dead server can hang or crash
        if now >= beats.next_ns:
            alive()
            out.send_message(beats.go(now))
        until_next = (beats.next_ns - now) / 1e9
        pipe.wait(until_next if beats.all_back() else min(POLL_S, until_next))


def work(pipe: Pipe, order: object) -> None:
    """Beat on the server that the program names."""
    assert isinstance(order, Open)
    go_first()
    try:
        api, out, back = circle(order.api)
    except CannotOpenError as error:
        return pipe.put(NotOpened(str(error)))
    pipe.put(Opened(api))
    run(pipe, Beats(order.watch), out, back)
    alive(CLOSE_S)
    leave(out)
    return leave(back)


if __name__ == "__main__":
    serve(work)
