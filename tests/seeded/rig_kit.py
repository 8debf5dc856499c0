"""What faults in a rig's file share: the lines of its sections and devices."""

from __future__ import annotations

import re

from tests.seeded.kit import Files, Planted, Spot, changed, leg, spots

SONG = {"a-rig": "nine-lanterns", "b-rig": "nine-lanterns", "bench": "bench-round"}
"""What each rig plays while a fault is in it: a song that strikes nothing."""


def on(rig: str) -> Files:
    return leg(rig, SONG[rig])


def inside(rig: str, pattern: str, section: str = "") -> list[tuple[Spot, re.Match[str]]]:
    """The lines of a rig's file that have the pattern; of one section, where that is given."""
    path = f"rigs/{rig}.yaml"
    every = list(spots(path, pattern, on(rig)))
    if not section:
        return every
    lines = on(rig)[path].split("\n")
    start = lines.index(f"{section}:")
    end = next((n for n in range(start + 1, len(lines)) if re.match(r"\w", lines[n])), len(lines))
    return [(spot, found) for spot, found in every if start < spot.line - 1 < end]


def line(
    family: str, name: str, rig: str, spot: Spot, text: str, at: str = "", apart: bool = True
) -> Planted:
    """The line's text changed: one finding there, or at another place."""
    files = changed(on(rig), spot, text)
    return Planted(family, f"{spot.place} {text.strip()[:50]}", files, (f"{name} {at or spot.place}",), apart)


def devices_of(rig: str) -> dict[str, Spot]:
    """Each device with the line that it begins on."""
    return {found[1]: spot for spot, found in inside(rig, r"^  ([\w-]+):", "devices")}


def key_of(rig: str, device: str, key: str) -> tuple[Spot, re.Match[str]]:
    """The line of a device that gives a key, and the key's value as group 1."""
    start = devices_of(rig)[device]
    below = inside(rig, rf"(?<![\w-]){key}: ([\w-]+)", "devices")
    return next((spot, found) for spot, found in below if spot.line >= start.line)
