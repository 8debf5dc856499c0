"""Faults in what is heard and when: pickups, bypassed boxes, budgets, tempo, tunings."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.seeded.kit import PLAYED, TEXTS, Planted, changed, home_of, leg, put
from tests.seeded.song_kit import ALL_SONGS, added, chain, grown, heads, line, lines_of, parents_of


def pickups() -> Iterator[Planted]:
    """The fuzz, which hangs on the magnetic pickup, put on for the upright: in each of its scenes."""
    for song in ("fog-signal", "slack-water", "keepers-log"):
        for spot, name in heads(song):
            block = TEXTS[spot.path].split("\n")[spot.line - 1 : spot.line + 3]
            own = re.search(
                r"instrument: \w+|like: second hand|like: (?:turn|first oars)|, turn\]|lull: drift",
                "\n".join(block),
            )
            if own is None and name not in ("last entry", "high water"):
                yield added("pickup missing", "pickup-missing", song, spot, "fuzz: on")


def silent() -> Iterator[Planted]:
    """A control of the mixer's echo send's box set where that box is off, in scenes that no other is like."""
    for song in PLAYED:
        for spot, name in heads(song):
            if (
                "{" in spot.text + "{" * spot.text.endswith(":")
                and name not in parents_of(song)
                and "echo" not in chain(song, name)
            ):
                yield added("set while bypassed", "set-while-bypassed", song, spot, "echo.repeats: 40 %")


def late() -> Iterator[Planted]:
    """A budget of a millisecond, in every scene but the first one played."""
    for song in ALL_SONGS:
        for spot, name in heads(song)[1:4]:
            text, _ = grown(spot, "budget: 1 ms")
            if (
                "budget" not in "\n".join(TEXTS[spot.path].split("\n")[spot.line - 1 : spot.line + 5])
                and ": drift" not in spot.text
            ):
                yield Planted(
                    "over budget",
                    f"{spot.place} {name}",
                    changed(home_of(song), spot, text),
                    (f"over-budget {spot.place}",),
                )


def leftover() -> Iterator[Planted]:
    """A scene that has lost its place, and that no other is like: a hint at its name."""
    for song in ALL_SONGS:
        for spot, found in lines_of(song, r"^  (?:\w[\w ]*): +\{(at: (?:\[[^\]]*\]|[^,]*), )"):
            name = spot.text.strip().split(":")[0]
            if name not in parents_of(song) and not re.search(r"(?:time|rate): 1/", chain(song, name)):
                yield line("never visited", "never-visited", spot, put(spot, found, ""))


def drifting() -> Iterator[Planted]:
    """A tempo that changes a bar after a scene with a note value has begun: said at the scene."""
    for song in ALL_SONGS:
        marks = [
            (int(bar), bpm) for bar, bpm in re.findall(r"at: bar (\d+), bpm: (\d+)", TEXTS[f"{song}.yaml"])
        ]
        for spot, found in lines_of(song, r"^tempo: (\d+|\[.*\])$"):
            for scene, name in heads(song):
                at = re.search(
                    r"at: \[?bar (\d+)",
                    "\n".join(TEXTS[scene.path].split("\n")[scene.line - 1 : scene.line + 1]),
                )
                if at is not None and re.search(r"(?:time|rate|beats): 1/", chain(song, name)):
                    every = sorted([*(marks or [(1, found[1])]), (int(at[1]) + 1, "111")])
                    tempo = ", ".join(f"{{at: bar {bar}, bpm: {bpm}}}" for bar, bpm in every)
                    files = changed(home_of(song), spot, f"tempo: [{tempo}]")
                    yield Planted(
                        "tempo changes inside", scene.place, files, (f"tempo-changes-inside {scene.place}",)
                    )


def repeated() -> Iterator[Planted]:
    """A one-line scene copied to the end of its song under another name and place, without `like`."""
    for song in ALL_SONGS:
        clock = {"keepers-log": '"9:00"', "ice-in-the-roads": '"01:09:00:00"', "storm-glass": '"10:09:00:00"'}
        for spot, found in lines_of(song, r"^  (\w[\w ]*: +\{at: (?:\[[^\]]*\]|[^,]*)), ")[:6]:
            if not re.search("now|1/|like:", spot.text):
                place = f"{spot.path}:{TEXTS[spot.path].count(chr(10)) + 1}"
                line = put(spot, found, f"again: {{at: {clock.get(song, 'bar 200')}")
                files = home_of(song)
                yield Planted(
                    "repeats a scene",
                    spot.place,
                    files | {spot.path: f"{TEXTS[spot.path]}{line}\n"},
                    (f"repeats-scene {place}",),
                )


def tunings() -> Iterator[Planted]:
    """Two songs for one instrument in a row, the second in another tuning, which takes a song."""
    held: dict[str, list[str]] = {}
    for song in PLAYED:
        for _, found in lines_of(song, r"^instrument: (\w+)"):
            held.setdefault(found[1], []).append(song)
    for instrument, songs in held.items():
        for one, other in zip(songs, (*songs[1:], songs[0]), strict=True):
            files = leg("a-rig", one, other)
            files["rigs/a-rig.yaml"] = files["rigs/a-rig.yaml"].replace(
                f"  {instrument}:\n", f"  {instrument}:\n    retune: 1\n"
            )
            files[f"{other}.yaml"] = files[f"{other}.yaml"].replace(
                "\ninstrument:", "\ntuning: another\ninstrument:", 1
            )
            yield Planted("retune too close", f"{one}, {other}", files, ("retune-too-close show.yaml:8",))


FAMILIES = (pickups, silent, late, leftover, drifting, repeated, tunings)
