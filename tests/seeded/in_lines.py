"""Faults in the lines of songs: names, words, values, what they ask of a box."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.seeded.kit import PLAYED, Planted, Spot, changed, home_of, misspelt, put, spots

ENTRIES = (
    "gate",
    "amp",
    "drive",
    "wash",
    "motion",
    "solo",
    "direct",
    "echo-send",
    "bed",
    "bell",
    "buoy",
    "gulls",
)
DEVICES = ("echo", "delay", "sampler", "reverb", "wah", "tuner", "switcher", "modulation")
BENCHED = (
    "selector",
    "switcher",
    "amp",
    "echo",
    "delay",
    "reverb",
    "effects",
    "sampler",
    "acoustic",
    "filter",
    "pedal",
    "board",
)
WORDS = ENTRIES[:6]


def _line(family: str, name: str, spot: Spot, text: str) -> Planted:
    """The line's text changed: one finding there."""
    song = spot.path.removesuffix(".yaml")
    return Planted(
        family,
        f"{spot.place} {text.strip()[:50]}",
        changed(home_of(song), spot, text),
        (f"{name} {spot.place}",),
    )


def _in(song: str, pattern: str) -> list[tuple[Spot, re.Match[str]]]:
    return list(spots(f"{song}.yaml", pattern))


def entries() -> Iterator[Planted]:
    """An entry misspelt: the first time that each song names it."""
    for song in PLAYED:
        for entry in ENTRIES:
            for spot, found in _in(song, rf"(?:^ +|[{{,] ?)({entry}):")[:1]:
                yield _line("misspelt entry", "unknown-name", spot, put(spot, found, misspelt(entry)))


def devices() -> Iterator[Planted]:
    """A device misspelt: the first time that each song names it."""
    for song, known in (*((song, DEVICES) for song in PLAYED), ("bench-round", BENCHED)):
        for device in known:
            for spot, found in _in(song, rf"(?:^ +|[{{,] ?)({device})[:.]")[:1]:
                yield _line("misspelt device", "unknown-name", spot, put(spot, found, misspelt(device)))


def controls() -> Iterator[Planted]:
    """A control misspelt after its device, or inside a device's block."""
    for song in (*PLAYED, "bench-round"):
        for control in (
            "time",
            "decay",
            "rate",
            "repeats",
            "feedback",
            "voice",
            "level",
            "in-4",
            "freeze",
            "engage",
            "mix",
        ):
            for spot, found in _in(song, rf"(?:[.{{]|, )({control}):")[:1]:
                yield _line(
                    "misspelt control", "unknown-name", spot, put(spot, found, misspelt(control) + "x")
                )


def words() -> Iterator[Planted]:
    """A word that the entry has not got: the first time that each song uses the entry."""
    for song in PLAYED:
        for entry in WORDS:
            for spot, found in _in(song, rf"(?:^ +|[{{,] ?){entry}: ([\w-]+)")[:1]:
                yield _line("wrong word", "unknown-word", spot, put(spot, found, misspelt(found[1]) + "x"))


def patches() -> Iterator[Planted]:
    """A patch that the device has not got, wherever a song's line chooses one."""
    for song in (*PLAYED, "bench-round"):
        for spot, found in _in(song, r"patch: ([\w-]+)"):
            yield _line("missing patch", "missing-patch", spot, put(spot, found, found[1] + "x"))


def ranges() -> Iterator[Planted]:
    """A value past its range, or a time that the box is too short for."""
    for song in (*PLAYED, "bench-round"):
        for spot, found in _in(song, r"(?:mix|repeats|feedback|depth|blend|body): (\d+) %")[:2]:
            yield _line("out of range", "out-of-range", spot, put(spot, found, "250"))
        for spot, found in _in(song, r"(?:direct|echo-send|level): (-\d+) dB")[:2]:
            yield _line("out of range", "out-of-range", spot, put(spot, found, "13"))
        for spot, found in _in(song, r"time: (1/\d(?: \w+)?)")[:1]:
            yield _line("out of range", "out-of-range", spot, put(spot, found, "90 s"))


def units() -> Iterator[Planted]:
    """A value without its unit, or with another's."""
    for song in (*PLAYED, "bench-round"):
        for spot, found in _in(song, r"-\d+( dB)")[:2]:
            yield _line("wrong unit", "bad-value", spot, put(spot, found, ""))
        for spot, found in _in(song, r"\w: \d+( %)")[:2]:
            yield _line("wrong unit", "bad-value", spot, put(spot, found, " dB"))


def limits() -> Iterator[Planted]:
    """A value past a limit of the rig, within the range of its control."""
    for song in PLAYED:
        for spot, found in _in(song, r"direct: (-\d+) dB")[:2]:
            yield _line("over a limit", "over-limit", spot, put(spot, found, "-31"))
        for spot, found in _in(song, r"delay.feedback: (\d+) %"):
            yield _line("over a limit", "over-limit", spot, put(spot, found, "95"))
        for spot, found in _in(song, r"mixer.in-4: (-\d) dB"):
            yield _line("over a limit", "over-limit", spot, put(spot, found, "1"))


def coarse() -> Iterator[Planted]:
    """A time between two steps of the box, far from both."""
    for song in PLAYED:
        for spot, found in _in(song, r"echo: \{engage: on, .*time: ([^,}]+)")[:1]:
            yield _line("rounded", "rounded", spot, put(spot, found, "14 ms"))
        for spot, found in _in(song, r"delay: \{engage: on, .*time: ([^,}]+)")[:2]:
            yield _line("rounded", "rounded", spot, put(spot, found, "30 ms"))


def _based(song: str, line: str) -> Iterator[tuple[Spot, str]]:
    """The song's base with one line more."""
    for spot, found in _in(song, r"^base: \{()"):
        yield spot, put(spot, found, f"{line}, ")


def asked() -> Iterator[Planted]:
    """Lines of a base that ask what their control cannot do."""
    asks = (
        ("not in hands", "not-in-hands", "mixer.pan-3: leave"),
        ("not stored", "not-stored", "mixer.pan-3: as stored"),
        ("in hands, in a base", "hands-in-base", "wah.sweep: 40 %"),
        ("trigger in a base", "trigger-misplaced", "bell: now"),
    )
    for song in PLAYED:
        for family, name, line in asks:
            for spot, text in _based(song, line):
                yield _line(family, name, spot, text)


def homes() -> Iterator[Planted]:
    """A control of the player's board asked to be as at home, which says nothing of it."""
    for spot, _ in _in("bench-round", r"^    (?:selector|amp|reverb|board|pedal)(?:\.[\w-]+)?: "):
        text = f"    board.volume: home\n{spot.text}"
        yield _line("home gives nothing", "home-gives-nothing", spot, text)


def memories() -> Iterator[Planted]:
    """The sampler's store, called in a scene, or at home, or by a word."""
    for spot, found in _in("bench-round", r"^    (?:sampler: \{()|(?:amp|pedal|fuzz): \{)"):
        text = (
            put(spot, found, "store: now, ")
            if found[1] is not None
            else f"    sampler.store: now\n{spot.text}"
        )
        yield _line("writes used", "writes-memory", spot, text)


FAMILIES = (entries, devices, controls, words, patches, ranges, units, limits, coarse, asked, homes, memories)
