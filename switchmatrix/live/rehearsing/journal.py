"""The log of a rehearsal on disk, and the remarks beside it: a line each, written as it happens."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from io import FileIO
from pathlib import Path

from switchmatrix.live.stepping.log import Entry, Resumed, line, read, resumed

ENDS_S = 5.0
"""How long closing waits for the disk."""


class Journal:
    """Two files that only grow. A line is handed to the system at once, and from there to the disk by a
    thread, so that no disk holds up a message. OSError where they cannot be opened.
    """

    def __init__(self, folder: Path, name: str, when: Callable[[], str]) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self.log, self.remarks = folder / f"{name}.jsonl", folder / f"{name}-remarks.jsonl"
        self._when = when
        self._file = _opened(self.log)
        self._torn = False
        self._wanted, self._ended = threading.Event(), False
        self.trouble: str | None = None
        self._thread = threading.Thread(target=self._to_disk, name="log to disk", daemon=True)
        self._thread.start()

    def write(self, entry: Entry) -> None:
        """A line of the log."""
        try:
            # What a full disk took only a part of must not spoil the next line too.
            self._torn = not _written(self._file, "\n" * self._torn + line(entry, self._when()))
        except OSError as error:
            self.trouble = f"the log cannot be written: {error.strerror or error}"
        if self._torn:
            self.trouble = "the log cannot be written: the disk took only a part of a line"
        self._wanted.set()

    def keep(self, entry: Entry) -> None:
        """A remark."""
        try:
            with _opened(self.remarks) as file:
                kept = _written(file, line(entry, self._when()))
            self.trouble = self.trouble if kept else "the remark cannot be kept whole: the disk is full"
        except OSError as error:
            self.trouble = f"the remark cannot be kept: {error.strerror or error}"

    def _to_disk(self) -> None:
        ended = False
        while not ended:
            self._wanted.wait()
            self._wanted.clear()
            # Looked at before the disk is: what was written before the end is on it.
            ended = self._ended
            try:
                os.fsync(self._file.fileno())
            except OSError as error:
                self.trouble = f"the log may not be on the disk: {error.strerror or error}"

    def close(self) -> None:
        """Everything is on the disk, unless it hangs."""
        self._ended = True
        self._wanted.set()
        self._thread.join(ENDS_S)
        if self._thread.is_alive():
            self.trouble = "the log may not be on the disk, which does not answer"
        else:
            self._file.close()


def last_run(folder: Path, name: str) -> Resumed | None:
    """Where the last run in a log was; None where there is no log, or none that says so."""
    path = folder / f"{name}.jsonl"
    return resumed(read(path.read_bytes())) if path.is_file() else None


def _opened(path: Path) -> FileIO:
    """Open for lines to be added, after the end of a line that a power cut may have torn."""
    file = FileIO(path, "a+")
    if file.tell() > 0:
        file.seek(-1, os.SEEK_END)
        if file.read(1) != b"\n":
            file.write(b"\n")
    return file


def _written(file: FileIO, text: str) -> bool:
    """Whether all of a text was taken."""
    data = text.encode()
    return file.write(data) == len(data)
