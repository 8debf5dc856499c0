"""What may be wrong with the files and folders of a show: one finding each, and the rest is still read."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from pathlib import Path
from typing import IO, Any

import pytest

from switchmatrix.files import MOST_BYTES
from tests.files.kit import SONG, laid, told

CHECK = "check the path, and that you may read it"
EMPTY = ("lantern.yaml:1:1 value-missing", "the file is empty", "write it, or delete it")


def test_a_show_path_that_does_not_exist_is_one_finding(tmp_path: Path) -> None:
    assert told(tmp_path / "nowhere") == [
        ("show.yaml:1:1 file-unreadable", "there is no folder `nowhere`", CHECK)
    ]


def test_a_show_path_that_is_a_file_is_one_finding(tmp_path: Path) -> None:
    show = laid(tmp_path, {})

    assert told(show / "show.yaml") == [
        ("show.yaml:1:1 file-unreadable", "`show.yaml` is a file where a folder should be", CHECK)
    ]


def test_a_folder_without_show_yaml_is_one_finding(tmp_path: Path) -> None:
    show = laid(tmp_path, {})
    (show / "show.yaml").unlink()

    assert told(show) == [
        (
            "show.yaml:1:1 file-unreadable",
            "there is no show.yaml here",
            "name the folder that holds show.yaml",
        )
    ]


def test_an_empty_folder_is_one_finding(tmp_path: Path) -> None:
    assert told(tmp_path) == [
        (
            "show.yaml:1:1 file-unreadable",
            "there is no show.yaml here",
            "name the folder that holds show.yaml",
        )
    ]


def test_a_rig_without_a_file_is_told_once(tmp_path: Path) -> None:
    show = laid(tmp_path, {})
    (show / "rigs" / "a-rig.yaml").unlink()

    assert told(show) == [
        ("show.yaml:2:8 unknown-name", "no rig is called `a-rig`", "there are no rigs here")
    ]


def test_a_file_where_the_rigs_should_be_is_one_finding(tmp_path: Path) -> None:
    show = laid(tmp_path, {})
    (show / "rigs" / "a-rig.yaml").unlink()
    (show / "rigs").rmdir()
    (show / "rigs").write_text("rig: A rig\n", encoding="utf-8")

    assert told(show) == [("rigs:1:1 file-unreadable", "`rigs` is a file where a folder should be", CHECK)]


def _folder(place: Path) -> None:
    place.mkdir()


def _loop(place: Path) -> None:
    place.symlink_to(place.name)


def _dangling(place: Path) -> None:
    place.symlink_to("nowhere.yaml")


def _pipe(place: Path) -> None:
    os.mkfifo(place)


def _endless(place: Path) -> None:
    place.symlink_to("/dev/zero")


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (_folder, "it is a folder where a file should be"),
        (_loop, f"it cannot be read: {os.strerror(errno.ELOOP)}"),
        (_dangling, f"it cannot be read: {os.strerror(errno.ENOENT)}"),
        (_pipe, "it is not an ordinary file"),
        (_endless, "it is not an ordinary file"),
    ],
)
def test_what_is_no_ordinary_file_is_one_finding(
    tmp_path: Path, make: Callable[[Path], None], message: str
) -> None:
    show = laid(tmp_path, {})
    (show / "lantern.yaml").unlink()
    make(show / "lantern.yaml")

    assert told(show) == [("lantern.yaml:1:1 file-unreadable", message, CHECK)]


def test_a_file_that_may_not_be_read_is_one_finding(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = laid(tmp_path, {})
    whole: Callable[..., IO[Any]] = Path.open

    def opened(self: Path, *args: Any, **kwargs: Any) -> IO[Any]:
        if self.name == "lantern.yaml":
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        return whole(self, *args, **kwargs)

    monkeypatch.setattr(Path, "open", opened)

    assert told(show) == [
        ("lantern.yaml:1:1 file-unreadable", f"it cannot be read: {os.strerror(errno.EACCES)}", CHECK)
    ]


def test_a_folder_that_may_not_be_read_is_one_finding(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = laid(tmp_path, {})
    whole = os.listdir

    def listed(place: Path) -> list[str]:
        if Path(place).name == "rigs":
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        return whole(place)

    monkeypatch.setattr(os, "listdir", listed)

    assert told(show) == [
        ("rigs:1:1 file-unreadable", f"the folder cannot be read: {os.strerror(errno.EACCES)}", CHECK)
    ]


@pytest.mark.parametrize(
    "text", [b"", b"\xef\xbb\xbf", b"\n  \n\n", b"# to be written\n", b"---\n"], ids=lambda text: repr(text)
)
def test_a_file_with_nothing_in_it_is_one_finding(tmp_path: Path, text: bytes) -> None:
    assert told(laid(tmp_path, {"lantern.yaml": text})) == [EMPTY]


@pytest.mark.parametrize("path", ["show.yaml", "rigs/a-rig.yaml", "definitions/plain-gate.yaml"])
def test_any_file_of_the_show_may_be_empty_without_a_second_finding(tmp_path: Path, path: str) -> None:
    show = laid(tmp_path, {path: b""})

    assert told(show) == [(f"{path}:1:1 value-missing", "the file is empty", "write it, or delete it")]


def test_a_file_past_the_bound_is_one_finding(tmp_path: Path) -> None:
    show = laid(tmp_path, {"lantern.yaml": SONG + b"# " + b"x" * 10_000_000})

    assert told(show) == [
        (
            "lantern.yaml:1:1 too-large",
            "the file is larger than 1024 KiB",
            "split it, or check that it is a show's file",
        )
    ]


def test_a_file_of_the_largest_size_is_read(tmp_path: Path) -> None:
    comment = b"# " + b"x" * (MOST_BYTES - len(SONG) - 2)
    show = laid(tmp_path, {"lantern.yaml": SONG + comment})

    assert ((show / "lantern.yaml").stat().st_size, told(show)) == (MOST_BYTES, [])


def test_a_show_of_too_many_files_is_one_finding(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = laid(tmp_path, {})
    monkeypatch.setattr("switchmatrix.files.MOST_FILES", 4)

    assert told(show) == [
        (
            "show.yaml:1:1 too-large",
            "the show has 5 files; 4 are the most that are read",
            "split it into several shows",
        )
    ]


def test_a_hidden_file_and_a_file_of_another_kind_are_none_of_ours(tmp_path: Path) -> None:
    show = laid(tmp_path, {".lantern.yaml": b"[", "notes.txt": b"\xff", "rigs/plan.pdf": b"\x00"})

    assert told(show) == []


def test_a_name_that_ends_in_yml_is_a_hint(tmp_path: Path) -> None:
    show = laid(tmp_path, {"ebb.yml": SONG})

    assert told(show) == [
        (
            "ebb.yml:1:1 file-passed-over",
            "`ebb.yml` is not read: its name ends in .yml",
            "rename it to end in .yaml",
        )
    ]


@pytest.mark.parametrize("name", ["-ebb.yaml", "_ebb.yaml", "ebb.2.yaml", "e@b.yaml", ("e" * 81) + ".yaml"])
def test_a_file_name_that_is_no_id_is_one_finding(tmp_path: Path, name: str) -> None:
    show = laid(tmp_path, {name: SONG})

    assert [(place, message) for place, message, _ in told(show)] == [
        (f"{name}:1:1 file-unreadable", f"`{name}` cannot be used as an id")
    ]


def test_a_song_called_standing_is_one_finding(tmp_path: Path) -> None:
    show = laid(tmp_path, {"standing.yaml": SONG})

    assert told(show) == [
        (
            "standing.yaml:1:1 bad-name",
            "a song's file cannot be called `standing.yaml`: that word means the scenes of no song",
            "give the file another name",
        )
    ]
