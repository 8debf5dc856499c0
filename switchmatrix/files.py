"""The only room that reads and writes folders: within bounds in, aside and then renamed out."""

from __future__ import annotations

import contextlib
import os
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.source import SourceFile, Span, is_id, whole_file

MOST_BYTES = 1 << 20
"""The largest file that is read: a song of a hundred scenes takes a fiftieth of it."""

MOST_FILES = 4000
"""The most files that a show may have."""

SHOW_FILE = "show.yaml"
_FOLDERS = ("", "rigs", "definitions")
_NO_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ufffe\uffff]")


@dataclass(frozen=True, slots=True)
class ShowFiles:
    """The texts of a show by path, and the paths that are there but could not be read."""

    texts: dict[str, SourceFile]
    broken: frozenset[str]


def read_show(folder: Path) -> tuple[ShowFiles, list[Diagnostic]]:
    """Read `show.yaml`, the songs beside it, `rigs/` and `definitions/`."""
    found: list[Diagnostic] = []
    texts: dict[str, SourceFile] = {}
    broken: set[str] = set()
    paths = _paths(folder, found, broken)
    for path in paths[:MOST_FILES]:
        read = _read_text(folder / path, path)
        if isinstance(read, SourceFile):
            texts[path] = read
        else:
            broken.add(path)
            found.append(read)
    if len(paths) > MOST_FILES:
        message = f"the show has {len(paths)} files; {MOST_FILES} are the most that are read"
        found.append(names.TOO_LARGE.at(whole_file(SHOW_FILE), message, "split it into several shows"))
    return ShowFiles(texts, frozenset(broken)), found


def stamp(folder: Path) -> tuple[tuple[str, int, int], ...]:
    """The show's files with their times and sizes: it changes with every save."""
    out = []
    for below in _FOLDERS:
        for place in sorted((folder / below).glob("*.y*ml")):
            with contextlib.suppress(OSError):
                seen = place.stat()
                out.append((str(place), seen.st_mtime_ns, seen.st_size))
    return tuple(out)


def _paths(folder: Path, found: list[Diagnostic], broken: set[str]) -> list[str]:
    """The show's YAML files, sorted, relative to it."""
    paths: list[str] = []
    for below in _FOLDERS:
        place = folder / below if below else folder
        try:
            entries = sorted(entry.name for entry in place.iterdir())
        except FileNotFoundError:
            if not below:
                found.append(_unreadable(SHOW_FILE, f"there is no folder `{folder.name or folder}`"))
            continue
        except NotADirectoryError:
            text = f"`{below or folder.name}` is a file where a folder should be"
            found.append(_unreadable(below or SHOW_FILE, text))
            continue
        except OSError as error:
            found.append(_unreadable(below or SHOW_FILE, f"the folder cannot be read: {error.strerror}"))
            continue
        paths += [
            f"{below}/{entry}" if below else entry
            for entry in entries
            if _is_ours(entry, below, found, broken)
        ]
    if not found and SHOW_FILE not in paths:
        help = "name the folder that holds show.yaml"
        found.append(names.FILE_UNREADABLE.at(whole_file(SHOW_FILE), "there is no show.yaml here", help))
    return paths


def _is_ours(entry: str, below: str, found: list[Diagnostic], broken: set[str]) -> bool:
    """Whether a folder's entry is one of the show's files; says so where its name nearly is."""
    path = f"{below}/{entry}" if below else entry
    if entry.endswith(".yml"):
        message = f"`{entry}` is not read: its name ends in .yml"
        broken.add(path.removesuffix(".yml") + ".yaml")
        found.append(names.FILE_PASSED_OVER.at(whole_file(path), message, "rename it to end in .yaml"))
    if not entry.endswith(".yaml") or entry.startswith("."):
        return False
    if not is_id(entry.removesuffix(".yaml")):
        message = f"`{entry}` cannot be used as an id"
        help = (
            "a file's name without .yaml is its id: begin with a letter or digit, then at most 79 letters, "
            "digits, spaces, `-`, `_`, `'`, `(`, `)`, `+` or `&`"
        )
        found.append(names.FILE_UNREADABLE.at(whole_file(path), message, help))
        broken.add(path)
        return False
    return True


def _unreadable(path: str, message: str) -> Diagnostic:
    return names.FILE_UNREADABLE.at(whole_file(path), message, "check the path, and that you may read it")


def _read_text(place: Path, path: str) -> SourceFile | Diagnostic:
    """The file's text, or the one finding that says why there is none."""
    try:
        if place.is_dir():
            return _unreadable(path, "it is a folder where a file should be")
        if not place.is_file() and place.exists():
            return _unreadable(path, "it is not an ordinary file")
        with place.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except OSError as error:
        return _unreadable(path, f"it cannot be read: {error.strerror or error}")
    if len(data) > MOST_BYTES:
        message = f"the file is larger than {MOST_BYTES // 1024} KiB"
        return names.TOO_LARGE.at(whole_file(path), message, "split it, or check that it is a show's file")
    return _decoded(data, path)


def _decoded(data: bytes, path: str) -> SourceFile | Diagnostic:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8-sig", errors="replace")
        message = f"byte {data[error.start]:#04x} is not UTF-8 text"
        return names.NOT_TEXT.at(_after(before, path), message, "save the file as UTF-8")
    strange = _NO_TEXT.search(text)
    if strange is not None:
        message = f"character U+{ord(strange.group()):04X} does not belong in a text"
        return names.NOT_TEXT.at(_after(text[: strange.start()], path), message, "delete it")
    return SourceFile(path, text)


def _after(before: str, path: str) -> Span:
    """The one character that follows `before`."""
    lines = SourceFile(path, before).lines()
    line, column = len(lines), len(lines[-1]) + 1
    return Span(path, line, column, line, column + 1)


def write_files(folder: Path, files: Mapping[str, bytes], stale: re.Pattern[str] | None = None) -> None:
    """Write `files` (paths below `folder`): all aside first, then each renamed into place.

    Files whose names match `stale`, in the folders written to, are an earlier run's: those not
    written now are removed. Raises OSError, with nothing renamed, where one cannot be written.
    """
    aside: list[tuple[Path, Path]] = []
    try:
        for path, data in files.items():
            target = folder / path
            target.parent.mkdir(parents=True, exist_ok=True)
            temporary = target.with_name(f".{target.name}.{os.getpid()}.part")
            aside.append((temporary, target))
            temporary.write_bytes(data)
    except OSError:
        _remove(temporary for temporary, _ in aside)
        raise
    for temporary, target in aside:
        temporary.replace(target)
    if stale is not None:
        written = {target for _, target in aside}
        for parent in sorted({target.parent for target in written}):
            _remove(p for p in parent.iterdir() if stale.fullmatch(p.name) and p not in written)


def _remove(paths: Iterable[Path]) -> None:
    for path in list(paths):
        path.unlink(missing_ok=True)
