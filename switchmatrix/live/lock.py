"""A lock on each output port, so that two runs never play one rig; the system lets go of it at death."""

from __future__ import annotations

import fcntl
import hashlib
import os
import re
import tempfile
from dataclasses import dataclass
from pathlib import Path

from switchmatrix.live.records import Refused


@dataclass(slots=True)
class Lock:
    """A lock that is held as long as any process has the descriptor open; None where it is shared."""

    descriptor: int | None

    def release(self) -> None:
        """Let go of this process's hold."""
        if self.descriptor is not None:
            os.close(self.descriptor)
            self.descriptor = None


def lock(port: str, api: str, share: bool = False) -> Lock | Refused:
    """Take the port; where another run has it, refuse, or with `share` go on without."""
    try:
        descriptor = os.open(_path(port, api), os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    except OSError as error:
        return Lock(None) if share else Refused(port, f"it cannot be locked: {error.strerror}")
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        holder = os.read(descriptor, 20).decode("ascii", "replace").strip() or "of another user"
        os.close(descriptor)
        if share:
            return Lock(None)
        return Refused(port, f"another run of this tool is sending on it (process {holder})")
    os.ftruncate(descriptor, 0)
    os.write(descriptor, f"{os.getpid()}\n".encode("ascii"))
    return Lock(descriptor)


def _path(port: str, api: str) -> Path:
    """The port's lock file: a readable beginning, and a digest that no two ports share."""
    server = os.environ.get("JACK_DEFAULT_SERVER", "") if api == "jack" else ""
    digest = hashlib.sha256("\0".join((api, server, port)).encode()).hexdigest()[:16]
    return _folder() / f"{re.sub('[^a-z0-9]+', '-', port.casefold())[:40]}-{digest}.lock"


def _folder() -> Path:
    runtime = os.environ.get("XDG_RUNTIME_DIR", "")
    folder = (
        Path(runtime) / "switchmatrix"
        if runtime
        else Path(tempfile.gettempdir()) / f"switchmatrix-{os.getuid()}"
    )
    folder.mkdir(mode=0o700, exist_ok=True, parents=False)
    return folder
