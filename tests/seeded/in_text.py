"""Faults of reading, planted in every song: keys, brackets, marks, empty places."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.seeded.kit import PLAYED, TEXTS, Planted, Spot, changed, home_of, misspelt, put, spots

ALL_SONGS = (*PLAYED, "bench-round")


def first(song: str, pattern: str) -> list[tuple[Spot, re.Match[str]]]:
    """The first line of a song that has the pattern, if any has."""
    return list(spots(f"{song}.yaml", pattern))[:1]


def _line(family: str, name: str, song: str, spot: Spot, text: str) -> Planted:
    return Planted(family, f"{spot.place}", changed(home_of(song), spot, text), (f"{name} {spot.place}",))


def keys() -> Iterator[Planted]:
    """A key of the song's own, misspelt: the rest of the block is read as it was meant."""
    for song in ALL_SONGS:
        for key in ("instrument", "remark", "meter", "base", "scenes", "start", "order", "hands"):
            for spot, found in first(song, f"^({key}):"):
                yield _line("unknown key", "unknown-key", song, spot, put(spot, found, misspelt(key)))


def twice() -> Iterator[Planted]:
    """A line's entry given twice in its block."""
    for song in ALL_SONGS:
        for spot, found in list(spots(f"{song}.yaml", r"\{.*?(\w[\w-]*: [^{},\[\]]+),"))[:3]:
            yield _line("key twice", "key-twice", song, spot, put(spot, found, f"{found[1]}, {found[1]}"))
        for spot, _ in first(song, "^song: "):
            below = f"{spot.path}:{spot.line + 1}"
            files = changed(home_of(song), spot, f"{spot.text}\n{spot.text}")
            yield Planted("key twice", below, files, (f"key-twice {below}",))


def tabs() -> Iterator[Planted]:
    """A tab where an indent should be."""
    for song in ALL_SONGS:
        for spot, _ in list(spots(f"{song}.yaml", r"^  \w.*: +\{.*\}"))[:2]:
            yield _line("tab", "yaml-syntax", song, spot, "\t" + spot.text[2:])


def brackets() -> Iterator[Planted]:
    """The last bracket of a scene's line forgotten: said where the line opened it."""
    for song in ALL_SONGS:
        for spot, _ in list(spots(f"{song}.yaml", r"^  \w.*: +\{.*\}$"))[:3]:
            yield _line("missing bracket", "yaml-syntax", song, spot, spot.text[:-1])


def spaces() -> Iterator[Planted]:
    """No space after a colon inside brackets."""
    for song in ALL_SONGS:
        for spot, found in list(spots(f"{song}.yaml", r"\{\w+(: )[a-zA-Z]"))[:2]:
            yield _line("no space after a colon", "yaml-syntax", song, spot, put(spot, found, ":"))


def marks() -> Iterator[Planted]:
    """An anchor before a value."""
    for song in ALL_SONGS:
        for spot, found in first(song, r"^song: ()"):
            yield _line("anchor", "yaml-feature", song, spot, put(spot, found, "&title "))


def empty() -> Iterator[Planted]:
    """A key with nothing after it."""
    for song in ALL_SONGS:
        for key in ("tempo", "meter", "instrument"):
            for spot, _ in first(song, f"^{key}: [^\\[]"):
                yield _line("empty value", "value-missing", song, spot, f"{key}:")


def shapes() -> Iterator[Planted]:
    """A list where one value belongs."""
    for song in ALL_SONGS:
        for spot, found in first(song, "^song: (.+)$"):
            yield _line("wrong shape", "wrong-shape", song, spot, put(spot, found, "[one, two]"))


def titles() -> Iterator[Planted]:
    """A letter in the title that the text of a MIDI file cannot hold."""
    for song in ALL_SONGS:
        for spot, found in first(song, "^song: (.+)$"):
            text = put(spot, found, f"{found[1]} ŋ")
            yield _line("letter that MIDI files lack", "transliterated", song, spot, text)


def names() -> Iterator[Planted]:
    """A scene with a dot in its name, no other being like it."""
    for song in ALL_SONGS:
        text = TEXTS[f"{song}.yaml"]
        for spot, found in list(spots(f"{song}.yaml", r"^  (\w[\w ]*):(?= |$)"))[:4]:
            if not re.search(
                rf"(like: {found[1]}\b|like: \[.*\b{found[1]}\b|: {found[1]}\b|order: .*\b{found[1]}\b)", text
            ):
                yield _line("bad name", "bad-name", song, spot, put(spot, found, f"{found[1]}.x"))


FAMILIES = (keys, twice, tabs, brackets, spaces, marks, empty, shapes, titles, names)
