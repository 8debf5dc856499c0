"""Faults in the show's own file, planted in the whole example show: all of a family at once."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.seeded.kit import TEXTS, Files, Planted, Spot, changed, misspelt, put, spots

SHOW = "show.yaml"
WHOLE = {path: text for path, text in TEXTS.items() if "/schemas/" not in path}


def _in(pattern: str) -> list[tuple[Spot, re.Match[str]]]:
    return list(spots(SHOW, pattern))


def _all(family: str, name: str, faults: list[tuple[Spot, str]]) -> Iterator[Planted]:
    """All faults at once: the show is the sum of its legs, and each fault stands in a line of its own."""
    files: Files = dict(WHOLE)
    for spot, text in faults:
        files = changed(files, spot, text)
    expected = tuple(f"{name} {spot.place}" for spot, _ in faults)
    yield Planted(family, f"{len(faults)} places", files, expected)


def songs() -> Iterator[Planted]:
    """A song that is not there, in one leg; the other leg plays it still."""
    winter = _in("^  winter-tour:")[0][0].line
    once = {"fog-signal", "ice-in-the-roads", "bench-round"}
    for later in (False, True):
        faults = [
            (spot, put(spot, found, misspelt(found[1])))
            for spot, found in _in(r"^      - ([\w-]+)$")
            if (spot.line > winter) is later and found[1] not in once
        ]
        yield from _all("song missing", "unknown-name", faults)


def standing() -> Iterator[Planted]:
    """A standing scene that no rig has."""
    faults = [(spot, put(spot, found, misspelt(found[1]))) for spot, found in _in(r"\{standing: ([\w ]+)")]
    yield from _all("standing scene missing", "standing-missing", faults)


def changes() -> Iterator[Planted]:
    """A song, or a scene, that is changed and that there is not."""
    songs = [
        (spot, put(spot, found, misspelt(found[1])))
        for spot, found in _in(r"^      ([\w-]+):$")
        if found[1] != "setlist"
    ]
    yield from _all("changed song missing", "unknown-name", songs)
    scenes = [
        (spot, put(spot, found, misspelt(found[1]))) for spot, found in _in(r"^          (\w[\w ]*): +\{")
    ]
    yield from _all("changed scene missing", "unknown-name", scenes)


def acceptances() -> Iterator[Planted]:
    """An acceptance that nothing fits: of another name, of none, of an error, elsewhere."""
    at = _in("^  - name: channel-shared")[0][0]
    where, _ = _in("^    where: ")[0]
    shared = next(spot for spot, _ in spots("rigs/bench-short.yaml", "^  board:"))
    lost = f"channel-shared {shared.place}"
    told: tuple[tuple[Spot, str, str], ...] = (
        (at, "  - name: channel-sharde", f"unknown-name {at.place}"),
        (at, "  - name: channel-clash", f"bad-value {at.place}"),
        (at, "  - name: never-visited", f"accepted-nothing {at.place}"),
        (where, "    where: rigs/bench.yaml board", f"accepted-nothing {at.place}"),
        (where, "    where: rigs/bench-short.yaml filter", f"accepted-nothing {at.place}"),
    )
    for spot, text, finding in told:
        # The hint that was accepted is said again: two findings, each with its own line.
        yield Planted(
            "acceptance that fits nothing", text.strip(), changed(WHOLE, spot, text), (finding, lost)
        )


FAMILIES = (songs, standing, changes, acceptances)
