"""The machine's MIDI server, as port processes use it; nothing else may: a dead server hangs who calls it."""

from __future__ import annotations

import os
from typing import Any

from switchmatrix.live.words import Open

QUEUE = 1 << 16
"""Messages that wait to be polled: rtmidi drops what comes on top."""

PRIVATE = "switchmatrix port"
"""How the clients' names begin whose ports are nobody else's."""

_SERVERS = {"core": "CoreMIDI", "alsa": "ALSA", "jack": "JACK"}
_CODES = {"core": "API_MACOSX_CORE", "alsa": "API_LINUX_ALSA", "jack": "API_UNIX_JACK"}


TRIES = 5
"""So often the ports are asked for while some of them go."""


class CannotOpenError(Exception):
    """There is no MIDI server or no such port; the text says why in plain words."""


def client(role: str) -> str:
    """A client name that no other process has."""
    return f"{PRIVATE} {role} {os.getpid()}"


def stand_in() -> str:
    """A client name for a virtual port: nobody takes it for the real rig."""
    return f"switchmatrix stand-in {os.getpid()}"


def connect(kind: str, api: str, name: str) -> tuple[str, Any]:
    """A client of the server `api` (`auto`: the first that answers), and which server that is."""
    try:
        import rtmidi
    except ImportError:
        raise CannotOpenError("python-rtmidi, which reaches MIDI ports, is not installed") from None
    compiled = rtmidi.get_compiled_api()
    tried = []
    for one in _CODES if api == "auto" else (api,):
        code = getattr(rtmidi, _CODES[one])
        if code not in compiled:
            continue
        try:
            if kind == "in":
                return one, rtmidi.MidiIn(code, name=name, queue_size_limit=QUEUE)
            return one, rtmidi.MidiOut(code, name=name)
        except (rtmidi.RtMidiError, RuntimeError):
            tried.append(f"{_SERVERS[one]} does not answer")
    raise CannotOpenError("; ".join(tried) or f"this machine has no {_SERVERS.get(api, 'MIDI server')}")


def names(port: Any) -> tuple[str, ...]:
    """The ports that a client can be connected to, but for those of port processes."""
    return tuple(name for name in listed(port) if not name.startswith(PRIVATE))


def listed(port: Any) -> list[str]:
    """All that a client can be connected to; asked again where a port goes while they are listed."""
    for _ in range(TRIES):
        try:
            return list(port.get_ports())
        except ValueError:  # python-rtmidi's InvalidPortError: a name was asked for that is gone
            continue
    return []


def join(port: Any, name: str) -> bool:
    """Connect a client to the port of exactly that name; whether it is there and still so called."""
    there = listed(port)
    if name not in there:
        return False
    try:
        port.open_port(there.index(name), name="port")
    except ValueError:
        return False
    return name in listed(port)


def leave(port: Any) -> None:
    """Close a client's port, then the client: the other way round, the server keeps what is dead."""
    port.close_port()
    port.delete()


def opened(kind: str, order: Open) -> tuple[str, Any]:
    """A client with the port that the program asks for, and its server."""
    api, port = connect(kind, order.api, stand_in() if order.virtual else client(kind))
    if order.virtual:
        port.open_virtual_port(order.name)
    elif not join(port, order.name):
        leave(port)
        raise CannotOpenError(f"the machine has no such {kind}put")
    return api, port
