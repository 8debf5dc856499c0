"""The process that lists the machine's MIDI ports: fresh each time, for a stopped server never lets it go."""

from __future__ import annotations

from switchmatrix.live.pipe import Pipe
from switchmatrix.live.port_process import serve
from switchmatrix.live.port_server import CannotOpenError, client, connect, leave, names
from switchmatrix.live.records import NoPorts, Ports


def look(api: str) -> Ports | NoPorts:
    """The ports of the server `api`, or of the first that answers."""
    try:
        found, ins = connect("in", api, client("probe in"))
        _, outs = connect("out", found, client("probe out"))
    except CannotOpenError as error:
        return NoPorts(str(error))
    there = Ports(found, names(ins), names(outs))
    leave(outs)
    leave(ins)
    return there


def work(pipe: Pipe, api: object) -> None:
    """Answer the one question."""
    pipe.put(look(str(api)))


if __name__ == "__main__":
    serve(work)
