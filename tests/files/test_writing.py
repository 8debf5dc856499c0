"""Writing is all or nothing: files go aside first, then each is renamed into place."""

from __future__ import annotations

import errno
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from switchmatrix.files import write_files


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def test_files_are_written_below_the_folder_whose_parents_are_made(tmp_path: Path) -> None:
    write_files(tmp_path / "out", {"tour/a-rig/01.mid": b"one", "tour/messages.csv": b"two"})

    assert tree(tmp_path) == {"out/tour/a-rig/01.mid": b"one", "out/tour/messages.csv": b"two"}


def test_old_files_are_replaced_whole(tmp_path: Path) -> None:
    (tmp_path / "01.mid").write_bytes(b"a much longer file of an earlier day")

    write_files(tmp_path, {"01.mid": b"new"})

    assert tree(tmp_path) == {"01.mid": b"new"}


def test_an_open_old_file_is_still_read_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "01.mid").write_bytes(b"old")

    with (tmp_path / "01.mid").open("rb") as reader:
        write_files(tmp_path, {"01.mid": b"new"})
        kept = reader.read()

    assert (kept, (tmp_path / "01.mid").read_bytes()) == (b"old", b"new")


def _failing_after(n: int, whole: Callable[..., Any], error: BaseException) -> Callable[..., Any]:
    """`whole` for the first n calls, then `error`."""
    calls = iter(range(n))

    def write(self: Path, *args: Any) -> Any:
        if next(calls, None) is None:
            raise error
        return whole(self, *args)

    return write


def test_a_disk_that_fills_half_way_leaves_the_old_files_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = {"01.mid": b"old one", "02.mid": b"old two"}
    write_files(tmp_path, old)
    full = OSError(errno.ENOSPC, "No space left on device")
    monkeypatch.setattr(Path, "write_bytes", _failing_after(1, Path.write_bytes, full))

    with pytest.raises(OSError, match="No space left on device"):
        write_files(tmp_path, {"01.mid": b"new one", "02.mid": b"new two", "03.mid": b"new three"})

    assert tree(tmp_path) == old


def test_a_write_broken_off_by_hand_leaves_the_old_files_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = {"01.mid": b"old one", "02.mid": b"old two"}
    write_files(tmp_path, old)
    monkeypatch.setattr(Path, "write_bytes", _failing_after(1, Path.write_bytes, KeyboardInterrupt()))

    with pytest.raises(KeyboardInterrupt):
        write_files(tmp_path, {"01.mid": b"new one", "02.mid": b"new two"})

    assert tree(tmp_path) == old


def test_a_rename_that_fails_leaves_no_file_aside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_files(tmp_path, {"01.mid": b"old one", "02.mid": b"old two", "03.mid": b"old three"})
    refused = OSError(errno.EIO, "Input/output error")
    monkeypatch.setattr(Path, "replace", _failing_after(1, Path.replace, refused))

    with pytest.raises(OSError, match="Input/output error"):
        write_files(tmp_path, {"01.mid": b"new one", "02.mid": b"new two", "03.mid": b"new three"})

    assert [path for path in tree(tmp_path) if path.endswith(".part")] == []


def test_a_folder_in_a_files_place_leaves_the_old_files_and_nothing_else(tmp_path: Path) -> None:
    write_files(tmp_path, {"01.mid": b"old one", "02.mid/kept.txt": b"kept"})

    with pytest.raises(OSError, match=re.escape("02.mid")):
        write_files(tmp_path, {"01.mid": b"new one", "02.mid": b"new two", "03.mid": b"new three"})

    assert tree(tmp_path) == {"01.mid": b"old one", "02.mid/kept.txt": b"kept"}


def test_a_file_in_the_folders_place_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"somebody's notes")

    with pytest.raises(OSError, match="out"):
        write_files(tmp_path / "out", {"tour/01.mid": b"new"})

    assert tree(tmp_path) == {"out": b"somebody's notes"}


def test_a_link_in_a_files_place_is_replaced_and_what_it_named_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "elsewhere.txt").write_bytes(b"kept")
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "01.mid").symlink_to(tmp_path / "elsewhere.txt")

    write_files(tmp_path / "out", {"01.mid": b"new"})

    assert (tree(tmp_path), (tmp_path / "out" / "01.mid").is_symlink()) == (
        {"elsewhere.txt": b"kept", "out/01.mid": b"new"},
        False,
    )


def test_what_a_record_lists_and_is_no_longer_made_is_removed(tmp_path: Path) -> None:
    write_files(tmp_path, {"a/01-old.mid": b"old", "b/01-old.mid": b"kept"}, ".written")
    write_files(tmp_path, {"a/notes.txt": b"somebody's"})

    write_files(tmp_path, {"a/01-new.mid": b"new"}, ".written")

    assert tree(tmp_path) == {
        "a/.written": b"01-new.mid\n",
        "a/01-new.mid": b"new",
        "a/notes.txt": b"somebody's",
        "b/.written": b"01-old.mid\n",
        "b/01-old.mid": b"kept",
    }


def test_a_record_names_no_file_outside_its_folder(tmp_path: Path) -> None:
    (tmp_path / "precious.txt").write_bytes(b"kept")
    write_files(tmp_path, {"out/.written": b"../precious.txt\nsub\n", "out/sub/x.txt": b"kept"})

    write_files(tmp_path, {"out/01-new.mid": b"new"}, ".written")

    assert tree(tmp_path) == {
        "out/.written": b"01-new.mid\n",
        "out/01-new.mid": b"new",
        "out/sub/x.txt": b"kept",
        "precious.txt": b"kept",
    }


def test_old_files_stay_where_the_new_ones_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_files(tmp_path, {"01-old.mid": b"old"}, ".written")
    full = OSError(errno.ENOSPC, "No space left on device")
    monkeypatch.setattr(Path, "write_bytes", _failing_after(0, Path.write_bytes, full))

    with pytest.raises(OSError, match="No space left on device"):
        write_files(tmp_path, {"01-new.mid": b"new"}, ".written")

    assert tree(tmp_path) == {".written": b"01-old.mid\n", "01-old.mid": b"old"}
