"""Faults in definitions: each is planted in the example show's own, in a show that uses it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from tests.seeded.kit import DEFINITIONS, TEXTS, Planted, Spot, changed, leg, misspelt, put, spots

USED = {"a-rig": "nine-lanterns", "b-rig": "nine-lanterns", "bench": "bench-round"}
SHOWS = {rig: leg(rig, song) for rig, song in USED.items()}
HOME_OF = {path: next(rig for rig in SHOWS if path in SHOWS[rig]) for path in DEFINITIONS}
"""A rig that uses each definition."""


def _in(path: str, pattern: str) -> list[tuple[Spot, re.Match[str]]]:
    return list(spots(path, pattern))


def _line(family: str, name: str, spot: Spot, text: str, at: str = "") -> Planted:
    """The line's text changed: one finding there, or at another place."""
    files = changed(SHOWS[HOME_OF[spot.path]], spot, text)
    return Planted(family, f"{spot.place} {text.strip()[:50]}", files, (f"{name} {at or spot.place}",))


def _users(path: str) -> list[str]:
    """The places of the devices that use a definition, and of the absent ones."""
    rig = f"rigs/{HOME_OF[path]}.yaml"
    id, places, last = path[12:-5], [], 0
    for number, text in enumerate(SHOWS[HOME_OF[path]][rig].split("\n"), 1):
        if re.match(r"  [\w-]+:", text):
            last = number
        if re.search(rf"definition: {id}(?![\w-])|^  [\w-]+: {id}$", text):
            places.append(f"{rig}:{last}")
    return places


def hazards() -> Iterator[Planted]:
    """A definition marked as a hazard: said at each device that has it."""
    for path in DEFINITIONS:
        for spot, _ in _in(path, "^definition: "):
            files = changed(SHOWS[HOME_OF[path]], spot, f"{spot.text}\nhazard: makes haze in the house")
            yield Planted("hazard", path, files, tuple(f"hazard {place}" for place in _users(path)))


def twice() -> Iterator[Planted]:
    """The number of the control before it, copied and not changed."""
    for path in DEFINITIONS:
        controls = _in(path, r"^  [\w-]+: +\{.*\bcc: (\d+)")
        for (_, before), (spot, found) in pairwise(controls):
            same = "channel: " in spot.text
            if not same:
                yield _line("one CC for two controls", "carrier-twice", spot, put(spot, found, before[1]))


def reserved() -> Iterator[Planted]:
    """A number that MIDI keeps for something else, and one that there is not."""
    for path in DEFINITIONS:
        for (spot, found), number in zip(
            _in(path, r"^  [\w-]+: +\{.*\bcc: (\d+)"), ("120", "6", "0", "101"), strict=False
        ):
            yield _line("reserved CC", "cc-reserved", spot, put(spot, found, number))
        for spot, found in _in(path, r"^  [\w-]+: +\{.*\bcc: (\d+)")[:1]:
            yield _line("CC outside", "number-outside", spot, put(spot, found, "128"))


def repeats() -> Iterator[Planted]:
    """What a second call does, not said where patches store something."""
    for path in DEFINITIONS:
        if "stored: yes" in TEXTS[path]:
            head = _in(path, "^programs:")[0][0]
            for spot, found in _in(path, r"repeat: \w+(?: \w+)?"):
                text = put(spot, found, "remark: x").replace(", remark: x", "").replace("remark: x", "")
                below = 1 if head.text.endswith(":") else 0
                yield _line("repeat missing", "repeat-missing", spot, text, f"{path}:{head.line + below}")


def panels() -> Iterator[Planted]:
    """Programs that the panel cannot count as far as, or more than a program change tells apart."""
    panelled = (
        ("panel-effects", "count: 420", "count: 421"),
        ("panel-effects", "slots: 1-60", "slots: 1-59"),
        ("two-bank-reverb", "count: 200", "count: 201"),
        ("two-bank-reverb", "slots: 1-100", "slots: 1-99"),
        ("players-board", "count: 60", "count: 61"),
        ("players-board", "banks: 1-20", "banks: 1-19"),
        ("acoustic-processor", "count: 6", "count: 7"),
        ("eight-loop", "banks: 01-32", "banks: 01-31"),
        ("two-tap-echo", "count: 128", "count: 129"),
        ("fine-echo", "count: 128", "count: 129"),
        ("multi-effect", "count: 128", "count: 129"),
    )
    for id, old, new in panelled:
        spot, _ = _in(f"definitions/{id}.yaml", re.escape(old))[0]
        count = _in(spot.path, r"\bcount: ")[0][0]
        yield _line("panel that cannot count", "panel-wrong", spot, spot.text.replace(old, new), count.place)


def templates() -> Iterator[Planted]:
    """A template without its value, with a byte too large, or a checksum over nothing."""
    path = "definitions/acoustic-processor.yaml"
    for spot, found in _in(path, r"sysex: \{body: \[.*?(, value(?:-msb, value-lsb)?)"):
        head = next(at for at in reversed([s for s, _ in _in(path, r"^  \w+:")]) if at.line <= spot.line)
        yield _line(
            "template wrong",
            "template-wrong",
            spot,
            put(spot, found, ""),
            f"{path}:{spot.line}" if head.line == spot.line else spot.place,
        )
    for spot, found in _in(path, r"sysex: \{body: \[0x7D, id, (0x12)"):
        yield _line("template wrong", "template-wrong", spot, put(spot, found, "0x80"))


def scales() -> Iterator[Planted]:
    """A range from high to low."""
    for path in DEFINITIONS:
        for spot, found in _in(path, r"range: \[(-?[\d.]+[^,]*, [^\]]+)\]")[:3]:
            low, high = found[1].split(", ")
            yield _line("range upside down", "scale-wrong", spot, put(spot, found, f"{high}, {low}"))


def carriers() -> Iterator[Planted]:
    """Two carriers of one control, and none."""
    for path in DEFINITIONS:
        for spot, found in _in(path, r"^  [\w-]+: +\{kind: (?:level|time).*(, cc: \d+)")[:2]:
            yield _line("two carriers", "carrier-wrong", spot, put(spot, found, f"{found[1]}, note: 60"))
            yield _line("no carrier", "carrier-wrong", spot, put(spot, found, ""))


def keys() -> Iterator[Planted]:
    """A key misspelt; a kind left out; a kind that there is not."""
    for path in DEFINITIONS:
        for spot, found in _in(path, r"^(definition|controls|crosspoint|programs|gap|loops|remark):")[1:3]:
            yield _line("unknown key", "unknown-key", spot, put(spot, found, misspelt(found[1])))
        for spot, found in _in(path, r"^  [\w-]+: +\{(kind: \w+, )")[:1]:
            yield _line("no kind", "missing-key", spot, put(spot, found, ""))
            yield _line("unknown kind", "wrong-shape", spot, put(spot, found, "kind: knob, "))


FAMILIES = (hazards, twice, reserved, repeats, panels, templates, scales, carriers, keys)
