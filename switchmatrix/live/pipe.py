"""Values between the program and a port process: whole frames over a socket, no write ever waits."""

from __future__ import annotations

import contextlib
import pickle
import select
import socket

_HEAD = 4
_CHUNK = 1 << 16


class Pipe:
    """One end; `closed` once the other end is gone. What cannot be written yet is kept and written later."""

    def __init__(self, end: socket.socket) -> None:
        end.setblocking(False)
        self._end = end
        self._in = bytearray()
        self._out = bytearray()
        self._more = False
        self.closed = False

    def fileno(self) -> int:
        """The descriptor, for select."""
        return self._end.fileno()

    def has_unwritten(self) -> bool:
        """Whether something put could not be written yet."""
        return bool(self._out)

    def put(self, value: object) -> None:
        """Say something to the other end."""
        data = pickle.dumps(value, protocol=5)
        self._out += len(data).to_bytes(_HEAD, "big") + data
        self.flush()

    def flush(self) -> None:
        """Write what can be written now."""
        while self._out and not self.closed:
            try:
                written = self._end.send(self._out)
            except BlockingIOError:
                return
            except OSError:
                self.closed = True
                return
            del self._out[:written]

    def take(self, most: int = 1 << 30) -> list[object]:
        """What has come, at most so many values; never waits."""
        self.flush()
        while not self.closed:
            try:
                chunk = self._end.recv(_CHUNK)
            except BlockingIOError:
                break
            except OSError:
                chunk = b""
            self.closed = not chunk
            self._in += chunk
        return self._frames(most)

    def _frames(self, most: int) -> list[object]:
        found: list[object] = []
        start = 0
        while len(found) < most and len(self._in) - start >= _HEAD:
            end = start + _HEAD + int.from_bytes(self._in[start : start + _HEAD], "big")
            if end > len(self._in):
                break
            found.append(pickle.loads(bytes(self._in[start + _HEAD : end])))
            start = end
        del self._in[:start]
        self._more = len(found) == most and bool(self._in)
        return found

    def wait(self, seconds: float) -> bool:
        """Wait until something comes, at most so long; whether something came."""
        if self.closed or self._more:
            return True
        writes = [self._end] if self._out else []
        return bool(select.select([self._end], writes, [], max(0.0, seconds))[0])

    def close(self) -> None:
        """Let go of this end."""
        self.closed = True
        with contextlib.suppress(OSError):
            self._end.close()
