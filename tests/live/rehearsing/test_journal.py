"""The log and the remarks on disk: whole lines, whatever the disk or the power does."""

from __future__ import annotations

import errno
import json
import os
import threading
from io import FileIO
from pathlib import Path

import pytest

from switchmatrix.live.rehearsing import journal as rehearsing_journal
from switchmatrix.live.rehearsing.journal import Journal, last_run
from switchmatrix.live.stepping.log import Entry, Resumed, read
from switchmatrix.live.stepping.stops import Key

START: Entry = {
    "event": "start",
    "rigs": ["a-rig"],
    "out": {"a-rig": ["echo"]},
    "resumed": False,
    "item": 1,
    "song": "lantern",
    "scene": "verse",
    "nth": 1,
}
QUAY: Entry = {"event": "at", "item": 3, "song": "bell", "scene": "quay", "nth": 1}


def journal(folder: Path) -> Journal:
    """A log in that folder."""
    return Journal(folder, "tour", lambda: "noon")


def test_entry_is_a_line_that_is_there_at_once(tmp_path: Path) -> None:
    log = journal(tmp_path / "new" / "folder")
    log.write(QUAY)
    text = log.log.read_text(encoding="utf-8")
    log.close()
    assert text == '{"when":"noon","event":"at","item":3,"song":"bell","scene":"quay","nth":1}\n'


def test_log_only_grows(tmp_path: Path) -> None:
    for entry in (START, QUAY):
        log = journal(tmp_path)
        log.write(entry)
        log.close()
    assert [entry["event"] for entry in read((tmp_path / "tour.jsonl").read_bytes())] == ["start", "at"]


def test_after_a_torn_last_line_the_next_one_is_whole(tmp_path: Path) -> None:
    (tmp_path / "tour.jsonl").write_bytes(b'{"when":"noon","event":"start"}\n{"when":"noon","ev')
    log = journal(tmp_path)
    log.write(QUAY)
    log.close()
    assert [entry["event"] for entry in read(log.log.read_bytes())] == ["start", "at"]


def test_remarks_are_kept_beside_the_log_each_a_line(tmp_path: Path) -> None:
    (tmp_path / "tour-remarks.jsonl").write_bytes(b'{"torn')
    log = journal(tmp_path)
    log.keep({"at": "verse", "remark": "louder"})
    log.keep({"at": "verse", "remark": "softer"})
    log.close()
    lines = log.remarks.read_text(encoding="utf-8").splitlines()
    assert [json.loads(line)["remark"] for line in lines[1:]] == ["louder", "softer"]


class Full(FileIO):
    """A file on a disk that is full once it holds so many bytes; the last write is cut there."""

    room = 0

    def write(self, data: bytes, /) -> int:  # type: ignore[override]
        took = data[: Full.room]
        if not took:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        Full.room -= len(took)
        return super().write(took) or 0


@pytest.fixture
def full(monkeypatch: pytest.MonkeyPatch) -> type[Full]:
    """A disk that is full at once."""
    monkeypatch.setattr(rehearsing_journal, "FileIO", Full)
    Full.room = 0
    return Full


@pytest.mark.usefixtures("full")
def test_full_disk_is_told_and_not_fatal(tmp_path: Path) -> None:
    log = journal(tmp_path)
    log.write(QUAY)
    log.close()
    assert log.trouble == "the log cannot be written: No space left on device"


def test_line_that_a_full_disk_has_cut_is_told_and_does_not_spoil_the_next(
    full: type[Full], tmp_path: Path
) -> None:
    log = journal(tmp_path)
    full.room = 20
    log.write(START)
    told = log.trouble
    log.write(START)
    full.room = 1_000
    log.write(QUAY)
    log.close()
    assert told == "the log cannot be written: the disk took only a part of a line"
    assert [entry["event"] for entry in read(log.log.read_bytes())] == ["at"]


def test_remark_that_a_full_disk_does_not_take_is_told(full: type[Full], tmp_path: Path) -> None:
    log = journal(tmp_path)
    log.keep({"remark": "louder"})
    none = log.trouble
    full.room = 5
    log.keep({"remark": "louder"})
    log.close()
    assert none == "the remark cannot be kept: No space left on device"
    assert log.trouble == "the remark cannot be kept whole: the disk is full"


def test_disk_that_fails_later_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(_: int) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    monkeypatch.setattr(os, "fsync", fails)
    log = journal(tmp_path)
    log.write(QUAY)
    log.close()
    assert log.trouble == "the log may not be on the disk: Input/output error"


def test_slow_disk_holds_up_no_write_and_closing_brings_the_last_line_to_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, free = threading.Event(), threading.Event()
    on_disk: list[int] = []

    def slow(descriptor: int) -> None:
        size = os.fstat(descriptor).st_size
        begun.set()
        free.wait(20)
        on_disk.append(size)

    monkeypatch.setattr(os, "fsync", slow)
    log = journal(tmp_path)
    log.write(START)
    assert begun.wait(20)
    log.write(QUAY)
    threading.Timer(0.05, free.set).start()
    log.close()
    assert on_disk[-1] == log.log.stat().st_size


def test_disk_that_hangs_does_not_hold_up_closing_for_ever(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    free = threading.Event()

    def hangs(_: int) -> None:
        free.wait(20)

    monkeypatch.setattr(os, "fsync", hangs)
    monkeypatch.setattr(rehearsing_journal, "ENDS_S", 0.05)
    log = journal(tmp_path)
    log.write(QUAY)
    log.close()
    free.set()
    log._thread.join(20)
    log._file.close()
    assert log.trouble == "the log may not be on the disk, which does not answer"


def test_folder_that_cannot_be_written_is_said_at_once(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(OSError, match="Not a directory"):
        journal(tmp_path / "file" / "log")


def test_last_run_is_where_the_log_ends(tmp_path: Path) -> None:
    log = journal(tmp_path)
    log.write(START)
    log.write(QUAY)
    log.close()
    assert last_run(tmp_path, "tour") == Resumed(Key(3, "bell", "quay", 1), ("a-rig",), {"a-rig": ("echo",)})


def test_last_run_of_a_log_whose_last_line_is_torn_is_where_it_was_before(tmp_path: Path) -> None:
    log = journal(tmp_path)
    log.write(START)
    log.close()
    with log.log.open("ab") as file:
        file.write(b'{"when":"noon","event":"at","item":3,"song":"be')
    found = last_run(tmp_path, "tour")
    assert found is not None
    assert found.key == Key(1, "lantern", "verse", 1)


def test_no_log_is_no_last_run(tmp_path: Path) -> None:
    assert last_run(tmp_path, "tour") is None
