"""The machine's MIDI server, as port processes use it; nothing else may: a dead server hangs who calls it."""

from __future__ import annotations

import contextlib
import os
import time
from typing import Any

from switchmatrix.live.beats import FIRST, Beats
from switchmatrix.live.records import Watch

QUEUE = 1 << 16
"""Messages that wait to be polled: rtmidi drops what comes on top."""

PRIVATE = "switchmatrix port"
"""How the clients' names begin whose ports are nobody else's."""

_SERVERS = {"core": "CoreMIDI", "alsa": "ALSA", "jack": "JACK"}
_CODES = {"core": "API_MACOSX_CORE", "alsa": "API_LINUX_ALSA", "jack": "API_UNIX_JACK"}


class NoServerError(Exception):
    """No MIDI server can be used; the text says why in plain words."""


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
        raise NoServerError("python-rtmidi, which reaches MIDI ports, is not installed") from None
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
    raise NoServerError("; ".join(tried) or f"this machine has no {_SERVERS.get(api, 'MIDI server')}")


def names(port: Any) -> tuple[str, ...]:
    """The ports that a client can be connected to, but for those of port processes."""
    return tuple(name for name in port.get_ports() if not name.startswith(PRIVATE))


def join(port: Any, name: str) -> bool:
    """Connect a client to the port of exactly that name; whether it is there and still so called."""
    there = port.get_ports()
    if name not in there:
        return False
    port.open_port(there.index(name), name="port")
    return name in port.get_ports()


def leave(port: Any) -> None:
    """Close a client's port, then the client: the other way round, the server keeps what is dead."""
    port.close_port()
    port.delete()


class Beating:
    """The beats of a port process: out of a port, through the server, into a port of its own."""

    def __init__(self, api: str, watch: Watch) -> None:
        self.beats = Beats(watch)
        self._back = connect("in", api, client("beat in"))[1]
        self._out = connect("out", api, client("beat out"))[1]
        self._back.ignore_types(sysex=False, timing=False, active_sense=False)
        self._back.open_virtual_port("beat")
        own = next(name for name in self._out.get_ports() if name.startswith(client("beat in")))
        self._out.open_port(self._out.get_ports().index(own), name="beat")
        self.clients = (self._out, self._back)

    def go(self, moment: int, sent: int) -> None:
        """Send a beat."""
        self._out.send_message(self.beats.go(moment, sent))

    def poll(self) -> None:
        """Take the beats that are back."""
        while (got := self._back.get_message()) is not None:
            data = bytes(got[0])
            if data.startswith(FIRST) and len(data) == 5:
                self.beats.back(data)

    def answered(self) -> bool:
        """Whether the server lives: a last beat comes back."""
        self.go(time.monotonic_ns(), 0)
        while not self.beats.all_back() and not self.beats.missing(time.monotonic_ns()):
            time.sleep(0.001)
            self.poll()
        return self.beats.all_back()


def leave_all(port: Any, beating: Beating | None) -> None:
    """Close a port and its beats in order; on a server that is gone, which would hang, nothing is closed."""
    if beating is None:
        leave(port)
    elif beating.answered():
        for one in (port, *beating.clients):
            leave(one)


def beating(api: str, watch: Watch) -> Beating | None:
    """Beats, or None where the machine has no virtual ports."""
    import rtmidi

    with contextlib.suppress(rtmidi.RtMidiError, NotImplementedError):
        return Beating(api, watch)
    return None
