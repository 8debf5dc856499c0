"""What planting faults takes: the example show cut down to a leg, lines changed, findings by place."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import pytest

from switchmatrix.compile.plan import LegPlan
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.files import ShowFiles
from switchmatrix.pipeline import Judged, judge_read, plan, read_nodes
from switchmatrix.source import SourceFile
from switchmatrix.syntax.nodes import Node

SONGS = Path(__file__).parents[2] / "songs"
TEXTS = {
    path.relative_to(SONGS).as_posix(): path.read_text(encoding="utf-8")
    for path in sorted(SONGS.rglob("*.yaml"))
}
"""The example show, by path."""

DEFINITIONS = {path: text for path, text in TEXTS.items() if path.startswith("definitions/")}
PLAYED = tuple(
    path.removesuffix(".yaml")
    for path in TEXTS
    if "/" not in path and path not in ("show.yaml", "bench-round.yaml")
)
"""The songs of the touring legs; the workshop's round is played on the bench alone."""

CHANGED = {"a-rig": ("salt-stairs",), "b-rig": ("storm-glass", "ice-in-the-roads"), "bench": ()}
"""The songs that a rig's own changes name."""

Files = dict[str, str]


@dataclass(frozen=True, slots=True)
class Planted:
    """One fault: the show with it, and each finding that it must raise, as `name path:line`, and no other.

    `apart` where nothing else in its rig's file may be wrong at the same time.
    """

    family: str
    where: str
    files: Files
    expected: tuple[str, ...]
    apart: bool = True

    @property
    def id(self) -> str:
        """What the test is called."""
        return f"{self.family}: {self.where}"


@dataclass(frozen=True, slots=True)
class Batch:
    """Faults judged in one go: they are in different files, or in lines that know nothing of each other."""

    faults: tuple[str, ...]
    files: Files
    expected: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Spot:
    """A line of a file, from 1."""

    path: str
    line: int
    text: str

    @property
    def place(self) -> str:
        """`path:line`."""
        return f"{self.path}:{self.line}"


def leg(rig: str, *songs: str) -> Files:
    """One rig of the example show playing some of its songs, with the definitions that it names.

    A rig's changes come last in its file; they are cut off where a song that they change is not played.
    """
    show = f"show: Tidewrack\nrigs: [{rig}]\nlegs:\n  tour:\n    rigs: [{rig}]\n    setlist:\n"
    files = {"show.yaml": show + "".join(f"    - {song}\n" for song in songs)}
    whole = TEXTS[f"rigs/{rig}.yaml"]
    if not set(CHANGED[rig]) <= set(songs):
        whole = whole[: whole.index("\nchanges:") + 1]
    files[f"rigs/{rig}.yaml"] = whole
    used = set(re.findall(r"definition: ([\w-]+)", whole)) | set(
        re.findall(r"^  [\w-]+: ([\w-]+)$", whole, re.M)
    )
    files |= {path: text for path, text in DEFINITIONS.items() if path[12:-5] in used}
    return files | {f"{song}.yaml": TEXTS[f"{song}.yaml"] for song in songs}


def home_of(song: str) -> Files:
    """The song on the rig that it is written for."""
    return leg("bench" if song == "bench-round" else "a-rig", song)


def spots(path: str, pattern: str, files: Files = TEXTS) -> Iterator[tuple[Spot, re.Match[str]]]:
    """The lines of a file, comments and remarks apart, that the pattern is found in, with the first match."""
    for number, text in enumerate(files[path].split("\n"), 1):
        found = re.search(pattern, text)
        if found is not None and not text.lstrip().startswith(("#", "remark:")):
            yield Spot(path, number, text), found


def changed(files: Files, spot: Spot, text: str | None) -> Files:
    """The files with another text on that line; None takes the line out but leaves it empty."""
    lines = files[spot.path].split("\n")
    if lines[spot.line - 1] != spot.text:
        raise ValueError(f"{spot.place} holds something else")
    lines[spot.line - 1] = text or ""
    return files | {spot.path: "\n".join(lines)}


def put(spot: Spot, found: re.Match[str], text: str) -> str:
    """The spot's line with what was found (its group 1, where the pattern has one) replaced."""
    group = 1 if found.re.groups else 0
    return spot.text[: found.start(group)] + text + spot.text[found.end(group) :]


def misspelt(word: str) -> str:
    """The word with two letters in the wrong order."""
    for n in range(1, len(word) - 1):
        if word[n] != word[n + 1] and word[n].isalpha() and word[n + 1].isalpha():
            return word[:n] + word[n + 1] + word[n] + word[n + 2 :]
    return word + "x"


def batches(faults: Iterable[Planted]) -> Iterator[Batch]:
    """The faults together, as far as each is alone in its song or definition.

    A fault in a rig's file is alone there unless it is said to stand beside others; one that changes what
    is played is alone in its show.
    """
    waiting = list(faults)
    while waiting:
        first, rest = waiting[0], []
        rig, taken, lines = _rig_of(first), [first], _lines(first)
        for fault in waiting[1:]:
            more = _lines(fault)
            if _rig_of(fault) == rig is not None and _beside(lines, more, first.apart or fault.apart):
                taken.append(fault)
                lines |= more
            else:
                rest.append(fault)
        yield _together(rig, taken, lines)
        waiting = rest


Lines = dict[tuple[str, int], str]
"""The lines that are not as the example show has them, by path and number."""


def _rig_of(fault: Planted) -> str | None:
    """The rig that a fault is played on; None where it must be judged as it is."""
    rigs = [path[5:-5] for path in fault.files if path.startswith("rigs/")]
    songs = [path[:-5] for path in fault.files if "/" not in path and path != "show.yaml"]
    if len(rigs) != 1 or fault.files["show.yaml"] != leg(rigs[0], *songs)["show.yaml"]:
        return None
    read = {path: text for path, text in fault.files.items() if path != "show.yaml"}
    longer = any(text.count("\n") != _sound(path, text).count("\n") for path, text in read.items())
    return None if longer else rigs[0]


def _sound(path: str, text: str) -> str:
    """The example show's file, of a rig without its changes where the text is without them too."""
    whole = TEXTS[path]
    cut = whole.find("\nchanges:") + 1 if path.startswith("rigs/") else 0
    return whole[:cut] if cut and "\nchanges:" not in text else whole


def _lines(fault: Planted) -> Lines:
    if _rig_of(fault) is None:
        return {}
    return {
        (path, n): line
        for path, text in fault.files.items()
        if path != "show.yaml"
        for n, (line, was) in enumerate(zip(text.split("\n"), _sound(path, text).split("\n"), strict=True), 1)
        if line != was
    }


def _beside(lines: Lines, more: Lines, apart: bool) -> bool:
    """Whether two faults can be judged at once."""
    paths, others = {path for path, _ in lines}, {path for path, _ in more}
    if any(path.startswith("rigs/") for path in paths | others):
        return not apart and not lines.keys() & more.keys()
    return not paths & others


def _together(rig: str | None, faults: list[Planted], lines: Lines) -> Batch:
    expected = tuple(sorted(finding for fault in faults for finding in fault.expected))
    ids = tuple(fault.id for fault in faults)
    if rig is None or len(faults) == 1:
        return Batch(ids, faults[0].files, expected)
    songs = {
        path[:-5]: None for fault in faults for path in fault.files if "/" not in path and path != "show.yaml"
    }
    files = leg(rig, *songs)
    for path in {path for path, _ in lines}:
        text = files[path].split("\n")
        for n in range(len(text)):
            text[n] = lines.get((path, n + 1), text[n])
        files[path] = "\n".join(text)
    return Batch(ids, files, expected)


def plans(files: Files) -> tuple[LegPlan, ...]:
    """What a sound show sends."""
    return plan(_judged(files))


@lru_cache(maxsize=512)
def _read(path: str, text: str) -> tuple[Node, tuple[Diagnostic, ...]]:
    """A file's nodes, and what reading it finds: most files stay as they are from fault to fault."""
    wrong: list[Diagnostic] = []
    files = ShowFiles({path: SourceFile(path, text)}, frozenset(), frozenset())
    return read_nodes(files, wrong)[path], tuple(wrong)


def _nodes(files: ShowFiles, found: list[Diagnostic]) -> dict[str, Node]:
    read = {path: _read(path, file.text) for path, file in files.texts.items()}
    for _, wrong in read.values():
        found += wrong
    return {path: node for path, (node, _) in sorted(read.items())}


@pytest.fixture(scope="module")
def read_once() -> Iterator[None]:
    """Files with the same text are read once."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("switchmatrix.pipeline.read_nodes", _nodes)
        yield


def _judged(files: Files) -> Judged:
    texts = {path: SourceFile(path, text) for path, text in sorted(files.items())}
    return judge_read(ShowFiles(texts, frozenset(), frozenset()), [])


def found(files: Files) -> tuple[str, ...]:
    """Each finding as `name path:line`, sorted."""
    return tuple(sorted(f"{d.name} {d.span.path}:{d.span.line}" for d in _judged(files).found))
