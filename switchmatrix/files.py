"""The only room that reads and writes folders: within bounds in, aside and then renamed out."""

from __future__ import annotations

import contextlib
import errno
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
_NO_TEXT = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufffe\uffff]"
)
"""Control characters, line breaks that editors do not count, and marks that turn a text's direction."""


@dataclass(frozen=True, slots=True)
class ShowFiles:
    """The texts of a show by path, and the paths that are there but could not be read.

    `unlisted` are folders whose files could not even be listed.
    """

    texts: dict[str, SourceFile]
    broken: frozenset[str]
    unlisted: frozenset[str]


def read_show(folder: Path) -> tuple[ShowFiles, list[Diagnostic]]:
    """Read `show.yaml`, the songs beside it, `rigs/` and `definitions/`."""
    found: list[Diagnostic] = []
    texts: dict[str, SourceFile] = {}
    broken: set[str] = set()
    unlisted: set[str] = set()
    paths = _paths(folder, found, broken, unlisted)
    if len(paths) > MOST_FILES:
        return _too_many(len(paths))
    for path in paths:
        read = _read_text(folder / path, path)
        if isinstance(read, SourceFile):
            texts[path] = read
        else:
            broken.add(path)
            found.append(read)
    return ShowFiles(texts, frozenset(broken), frozenset(unlisted)), found


class RevisionError(ValueError):
    """A revision of a folder that git cannot give; the message says why."""


def read_revision(folder: Path, revision: str) -> tuple[ShowFiles, list[Diagnostic]]:
    """A show as it was at a revision of the git repository that its folder lies in; nothing is checked out.

    Within the same bounds as a folder. Raises RevisionError where git has no such revision of it.
    """
    commit = _commit(folder, revision)
    found: list[Diagnostic] = []
    broken: set[str] = set()
    blobs: dict[str, tuple[str, str, int]] = {}
    for below in _FOLDERS:
        for entry, blob in _tree(folder, f"{commit}:./{below}").items():
            if _is_ours(entry, below, found, broken):
                blobs[f"{below}/{entry}" if below else entry] = blob
    if SHOW_FILE not in blobs and SHOW_FILE not in broken:
        message = f"there is no show.yaml here at {revision}"
        found.append(names.FILE_UNREADABLE.at(whole_file(SHOW_FILE), message, "name a later revision"))
    if len(blobs) > MOST_FILES:
        return _too_many(len(blobs))
    texts: dict[str, SourceFile] = {}
    readable = {path: blob for path, blob in blobs.items() if _refused(path, blob, found, broken) is None}
    for path, data in _contents(folder, readable).items():
        read = _decoded(data, path)
        if isinstance(read, SourceFile):
            texts[path] = read
        else:
            broken.add(path)
            found.append(read)
    return ShowFiles(texts, frozenset(broken), frozenset()), found


def _too_many(count: int) -> tuple[ShowFiles, list[Diagnostic]]:
    message = f"the show has {count} files; {MOST_FILES} are the most that are read"
    too_many = names.TOO_LARGE.at(whole_file(SHOW_FILE), message, "split it into several shows")
    return ShowFiles({}, frozenset(), frozenset()), [too_many]


def _refused(
    path: str, blob: tuple[str, str, int], found: list[Diagnostic], broken: set[str]
) -> Diagnostic | None:
    """What keeps a revision's file from being read, if anything; it is said and the path marked."""
    mode, _, size = blob
    if mode not in ("100644", "100755"):
        refused = _unreadable(path, "it is not an ordinary file")
    elif size > MOST_BYTES:
        refused = _too_large(path)
    else:
        return None
    broken.add(path)
    found.append(refused)
    return refused


def _too_large(path: str) -> Diagnostic:
    message = f"the file is larger than {MOST_BYTES // 1024} KiB"
    return names.TOO_LARGE.at(whole_file(path), message, "split it, or check that it is a show's file")


def _commit(folder: Path, revision: str) -> str:
    """The commit that a revision names, where the folder is in it."""
    if not folder.is_dir():
        raise RevisionError(f"there is no folder {folder}")
    if _git(folder, "rev-parse", "--is-inside-work-tree") is None:
        raise RevisionError(f"{folder} lies in no git repository")
    ended = ("--verify", "--quiet", "--end-of-options")
    commit = _git(folder, "rev-parse", *ended, f"{revision}^{{commit}}")
    if commit is None:
        raise RevisionError(f"git knows no revision {revision} here")
    at = commit.decode("ascii").strip()
    if _git(folder, "rev-parse", *ended, f"{at}:./") is None:
        raise RevisionError(f"{folder} is not there at {revision}")
    return at


def _tree(folder: Path, tree: str) -> dict[str, tuple[str, str, int]]:
    """A folder's entries at a revision, sorted: mode, object and size; none where there is no folder."""
    listed = _git(folder, "ls-tree", "--full-tree", "-z", "-l", tree)
    entries: dict[str, tuple[str, str, int]] = {}
    for row in (listed or b"").split(b"\0"):
        about, _, name = row.partition(b"\t")
        if name:
            mode, _, blob, size = about.decode("ascii").split()
            number = int(size) if size.isdecimal() else 0
            entries[name.decode("utf-8", errors="replace")] = (mode, blob, number)
    return dict(sorted(entries.items()))


def _contents(folder: Path, blobs: Mapping[str, tuple[str, str, int]]) -> dict[str, bytes]:
    """The bytes of each file, read in one go."""
    if not blobs:
        return {}
    asked = "".join(f"{blob}\n" for _, blob, _ in blobs.values())
    given = _git(folder, "cat-file", "--batch", asked=asked.encode("ascii"))
    if given is None:
        raise RevisionError("git could not read the files of that revision")
    out: dict[str, bytes] = {}
    at = 0
    for path, (_, _, size) in blobs.items():
        begins = given.index(b"\n", at) + 1
        out[path] = given[begins : begins + size]
        at = begins + size + 1
    return out


def _git(folder: Path, *args: str, asked: bytes = b"") -> bytes | None:
    """What git answers; None where it refuses."""
    import subprocess

    # A hook's own repository would be asked instead of the folder's.
    kept = {k: v for k, v in os.environ.items() if not k.startswith("GIT_")}
    command = ["git", "-C", str(folder), *args]
    try:
        ran = subprocess.run(command, input=asked, capture_output=True, env=kept, check=False)
    except FileNotFoundError:
        raise RevisionError("git is not installed here") from None
    return ran.stdout if ran.returncode == 0 else None


def stamp(folder: Path) -> tuple[tuple[str, int, int], ...]:
    """The show's files with their times and sizes: it changes with every save."""
    out = []
    for below in _FOLDERS:
        for place in sorted((folder / below).glob("*.y*ml")):
            with contextlib.suppress(OSError):
                seen = place.stat()
                out.append((str(place), seen.st_mtime_ns, seen.st_size))
    return tuple(out)


def _paths(folder: Path, found: list[Diagnostic], broken: set[str], unlisted: set[str]) -> list[str]:
    """The show's YAML files, sorted, relative to it; nothing where the folder itself cannot be listed."""
    paths: list[str] = []
    for below in _FOLDERS:
        place = folder / below if below else folder
        try:
            entries = sorted(entry.name for entry in place.iterdir())
        except FileNotFoundError:
            if not below:
                found.append(_unreadable(SHOW_FILE, f"there is no folder `{folder.name or folder}`"))
                return []
            continue
        except OSError as error:
            text = f"the folder cannot be read: {error.strerror}"
            if isinstance(error, NotADirectoryError):
                text = f"`{below or folder.name}` is a file where a folder should be"
            found.append(_unreadable(below or SHOW_FILE, text))
            if not below:
                return []
            unlisted.add(below)
            continue
        paths += [
            f"{below}/{entry}" if below else entry
            for entry in entries
            if _is_ours(entry, below, found, broken)
        ]
    if SHOW_FILE not in paths and SHOW_FILE not in broken:
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
        return _too_large(path)
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


def write_files(folder: Path, files: Mapping[str, bytes], record: str | None = None) -> None:
    """Write `files` (paths below `folder`): all aside first, then each renamed into place.

    Each file is whole, old or new, whatever happens. With `record`, a file of that name in each folder
    written to lists what was written there: what an earlier record lists and this run does not write is
    removed. Raises OSError where a file cannot be written; until the first rename nothing has changed.
    """
    made = dict(files)
    gone: list[Path] = []
    if record is not None:
        for below, inside in _by_folder(files).items():
            gone += _no_longer_made(folder / below, record, inside)
            made[f"{below}/{record}" if below else record] = "".join(f"{n}\n" for n in inside).encode("utf-8")
    aside: list[tuple[Path, Path]] = []
    try:
        for path, data in made.items():
            target = folder / path
            target.parent.mkdir(parents=True, exist_ok=True)
            if target.is_dir():
                raise IsADirectoryError(errno.EISDIR, f"{path} is a folder where a file should be")
            temporary = target.with_name(f".{os.getpid()}.{len(aside)}.part")
            aside.append((temporary, target))
            temporary.write_bytes(data)
        for temporary, target in aside:
            temporary.replace(target)
    finally:
        for temporary, _ in aside:
            temporary.unlink(missing_ok=True)
    for path_gone in gone:
        path_gone.unlink(missing_ok=True)


def _by_folder(files: Iterable[str]) -> dict[str, list[str]]:
    folders: dict[str, list[str]] = {}
    for path in sorted(files):
        below, _, name = path.rpartition("/")
        folders.setdefault(below, []).append(name)
    return folders


def _no_longer_made(folder: Path, record: str, inside: list[str]) -> list[Path]:
    """Files that the folder's record lists, and that are not made now."""
    try:
        listed = (folder / record).read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        return []
    stale = [folder / name for name in listed if name not in inside and name == Path(name).name]
    return [path for path in stale if path.is_file()]
