"""What planting faults takes: the example show's files cut down to a leg, lines changed, findings by place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from switchmatrix.compile.plan import LegPlan
from switchmatrix.files import ShowFiles
from switchmatrix.pipeline import Judged, judge_read, plan
from switchmatrix.source import SourceFile

SONGS = Path(__file__).parents[2] / "songs"
TEXTS = {
    path.relative_to(SONGS).as_posix(): path.read_text(encoding="utf-8") for path in sorted(SONGS.rglob("*.yaml"))
}
"""The example show, by path."""

DEFINITIONS = {path: text for path, text in TEXTS.items() if path.startswith("definitions/")}
PLAYED = tuple(path.removesuffix(".yaml") for path in TEXTS if "/" not in path and path not in ("show.yaml", "bench-round.yaml"))
"""The songs of the touring legs; the workshop's round is played on the bench alone."""

CHANGED = {"a-rig": ("salt-stairs",), "b-rig": ("storm-glass", "ice-in-the-roads"), "bench": ()}
"""The songs that a rig's own changes name."""

Files = dict[str, str]


@dataclass(frozen=True, slots=True)
class Planted:
    """One fault: the show with it, and each finding that it must raise, as `name path:line`, and no other."""

    family: str
    where: str
    files: Files
    expected: tuple[str, ...]

    @property
    def id(self) -> str:
        """What the test is called."""
        return f"{self.family}: {self.where}"


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
    used = set(re.findall(r"definition: ([\w-]+)", whole)) | set(re.findall(r"^  [\w-]+: ([\w-]+)$", whole, re.M))
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


def plans(files: Files) -> tuple[LegPlan, ...]:
    """What a sound show sends."""
    return plan(_judged(files))


def _judged(files: Files) -> Judged:
    texts = {path: SourceFile(path, text) for path, text in sorted(files.items())}
    return judge_read(ShowFiles(texts, frozenset(), frozenset()), [])


def found(files: Files) -> tuple[str, ...]:
    """Each finding as `name path:line`, sorted."""
    return tuple(sorted(f"{d.name} {d.span.path}:{d.span.line}" for d in _judged(files).found))
