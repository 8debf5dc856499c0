"""What faults in songs share: where scenes begin, what they are like, a line more in them."""

from __future__ import annotations

import re

from tests.seeded.kit import PLAYED, TEXTS, Planted, Spot, changed, home_of, spots

ALL_SONGS = (*PLAYED, "bench-round")


def lines_of(song: str, pattern: str) -> list[tuple[Spot, re.Match[str]]]:
    return list(spots(f"{song}.yaml", pattern))


def line(family: str, name: str, spot: Spot, text: str) -> Planted:
    """The line's text changed: one finding there."""
    song = spot.path.removesuffix(".yaml")
    return Planted(
        family,
        f"{spot.place} {text.strip()[:50]}",
        changed(home_of(song), spot, text),
        (f"{name} {spot.place}",),
    )


def heads(song: str) -> list[tuple[Spot, str]]:
    """The line that each scene begins on, with its name."""
    text = TEXTS[f"{song}.yaml"]
    start = text[: text.index("\nscenes:")].count("\n") + 2
    return [(spot, found[1]) for spot, found in lines_of(song, r"^  (\w[\w ]*):") if spot.line > start]


def parents_of(song: str) -> set[str]:
    """The scenes that another scene of the song is like."""
    text = TEXTS[f"{song}.yaml"]
    named = re.findall(r"like: ([\w ]+)|like: \[([^\]]*)\]|^  lull: (\w+)", text, re.M)
    return {name.strip() for group in named for part in group for name in part.split(",") if name.strip()}


def grown(spot: Spot, line: str) -> tuple[str, int]:
    """A scene's first line with one line more in its block, and how far below it that stands."""
    if "{" in spot.text:
        return spot.text.replace("{", f"{{{line}, ", 1), 0
    return f"{spot.text}\n    {line}", 1


def added(family: str, name: str, song: str, spot: Spot, line: str) -> Planted:
    """One line more in a scene: one finding at it."""
    text, below = grown(spot, line)
    place = f"{spot.path}:{spot.line + below}"
    return Planted(family, f"{place} {line}", changed(home_of(song), spot, text), (f"{name} {place}",))


def chain(song: str, name: str) -> str:
    """The text of a scene and of all that it is like."""
    begins = heads(song)
    lines = TEXTS[f"{song}.yaml"].split("\n")
    ends = [spot.line - 1 for spot, _ in begins[1:]] + [len(lines)]
    blocks = {n: "\n".join(lines[spot.line - 1 : end]) for (spot, n), end in zip(begins, ends, strict=True)}
    text, waiting = "", [name]
    while waiting:
        block = re.sub(r"^ *#.*$|echo-send", "", blocks[waiting.pop()], flags=re.M)
        text += block
        named = re.findall(r"like: ([\w ]+\w)|like: \[([^\]]*)\]|^  \w[\w ]*: (\w[\w ]*\w)$", block, re.M)
        waiting += [
            n.strip() for group in named for part in group for n in part.split(",") if n.strip() in blocks
        ]
    return text
