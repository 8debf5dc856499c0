"""Faults in how a song is built: places, tempo, parents, instruments, what is heard."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.seeded.kit import PLAYED, TEXTS, Planted, Spot, changed, home_of, leg, misspelt, put, spots

ALL_SONGS = (*PLAYED, "bench-round")


OWN_TEMPO = "delay: {time: 1/4 dotted, feedback: as stored}"
"""The line of a scene that has a tempo of its own."""


def _in(song: str, pattern: str) -> list[tuple[Spot, re.Match[str]]]:
    return list(spots(f"{song}.yaml", pattern))


def _line(family: str, name: str, spot: Spot, text: str) -> Planted:
    """The line's text changed: one finding there."""
    song = spot.path.removesuffix(".yaml")
    return Planted(
        family,
        f"{spot.place} {text.strip()[:50]}",
        changed(home_of(song), spot, text),
        (f"{name} {spot.place}",),
    )


def _after(family: str, name: str, song: str, key: str, line: str) -> Iterator[Planted]:
    """A line put into the song's file after one of its keys: one finding at that line."""
    for spot, _ in _in(song, f"^{key}: ")[:1]:
        place = f"{spot.path}:{spot.line + 1}"
        files = changed(home_of(song), spot, f"{spot.text}\n{line}")
        yield Planted(family, f"{place} {line}", files, (f"{name} {place}",))


def _heads(song: str) -> list[tuple[Spot, str]]:
    """The line that each scene begins on, with its name."""
    text = TEXTS[f"{song}.yaml"]
    start = text[: text.index("\nscenes:")].count("\n") + 2
    return [(spot, found[1]) for spot, found in _in(song, r"^  (\w[\w ]*):") if spot.line > start]


def _parents(song: str) -> set[str]:
    """The scenes that another scene of the song is like."""
    text = TEXTS[f"{song}.yaml"]
    named = re.findall(r"like: ([\w ]+)|like: \[([^\]]*)\]|^  lull: (\w+)", text, re.M)
    return {name.strip() for group in named for part in group for name in part.split(",") if name.strip()}


def _with(spot: Spot, line: str) -> tuple[str, int]:
    """A scene's first line with one line more in its block, and how far below it that stands."""
    if "{" in spot.text:
        return spot.text.replace("{", f"{{{line}, ", 1), 0
    return f"{spot.text}\n    {line}", 1


def _added(family: str, name: str, song: str, spot: Spot, line: str) -> Planted:
    """One line more in a scene: one finding at it."""
    text, below = _with(spot, line)
    place = f"{spot.path}:{spot.line + below}"
    return Planted(family, f"{place} {line}", changed(home_of(song), spot, text), (f"{name} {place}",))


def parents() -> Iterator[Planted]:
    """A parent that is not there."""
    for song in ALL_SONGS:
        for spot, found in _in(song, r"like: \[?(\w[\w ]*\w)"):
            yield _line("unknown parent", "unknown-name", spot, put(spot, found, misspelt(found[1]) + "x"))


def circles() -> Iterator[Planted]:
    """A scene that is made like one that is like it: said at its line."""
    for song in ALL_SONGS:
        heads = {name: spot for spot, name in _heads(song)}
        for spot, found in _in(song, r"^  (\w[\w ]*): +\{.*like: (\w[\w ]*\w)")[:2]:
            parent = heads[found[2]]
            if "like:" not in parent.text and "{" in parent.text:
                text, _ = _with(parent, f"like: {found[1]}")
                files = changed(home_of(song), parent, text)
                yield Planted(
                    "like circle", f"{parent.place} {found[1]}", files, (f"like-circle {parent.place}",)
                )


def places() -> Iterator[Planted]:
    """A place that there is not, two places the wrong way about, two scenes at one place."""
    for song in ALL_SONGS:
        for spot, found in _in(song, r"^ .*at: \[?bar (\d+)")[:3]:
            yield _line("bad place", "bad-place", spot, put(spot, found, "0"))
        for spot, found in _in(song, r"^ .*at: \[([^,\]]+, [^,\]]+)\]"):
            turned = ", ".join(reversed(found[1].split(", ")))
            yield _line("places out of order", "places-out-of-order", spot, put(spot, found, turned))


def disagreeing() -> Iterator[Planted]:
    """An order that turns the places about."""
    for song in PLAYED:
        names = [name for _, name in _heads(song)]
        if "order:" not in TEXTS[f"{song}.yaml"]:
            yield from _after(
                "order disagrees", "order-disagrees", song, "song", f"order: [{', '.join(reversed(names))}]"
            )


def tempos() -> Iterator[Planted]:
    """A tempo or a meter that no music has; a scene's own tempo beside its place."""
    for song in ALL_SONGS:
        for spot, found in _in(song, r"^tempo: (\d+)$|^tempo: .*?bpm: (\d+)|^  - \{at: bar 1, bpm: (\d+)")[
            :1
        ]:
            n = next(n for n in (1, 2, 3) if found[n] is not None)
            text = spot.text[: found.start(n)] + "0" + spot.text[found.end(n) :]
            yield _line("tempo of nothing", "tempo-unsound", spot, text)
        for spot, found in _in(song, r"^meter: (\d+/\d)$"):
            yield _line("meter of nothing", "tempo-unsound", spot, put(spot, found, "4/3"))
        for spot, found in _in(song, r"^  \w.*\{(at: )")[:2]:
            yield _line(
                "tempo beside a place", "tempo-beside-place", spot, put(spot, found, "tempo: 90, at: ")
            )


def untimed() -> Iterator[Planted]:
    """A song that has lost its tempo: said at each note value, but not where a scene has its own tempo."""
    for song in ALL_SONGS:
        for spot, _ in _in(song, r"^tempo: [\d[]"):
            lines = [at for at, _ in _in(song, r": 1/\d")]
            if lines:
                expected = tuple(f"no-tempo {at.place}" for at in lines if at.text.strip() != OWN_TEMPO)
                yield Planted(
                    "note value without a tempo", spot.place, changed(home_of(song), spot, ""), expected
                )


def instruments() -> Iterator[Planted]:
    """An instrument that the rig has not got, of a song and of a scene."""
    for song in ALL_SONGS:
        for spot, found in _in(song, r"instrument: ([\w ]+)"):
            yield _line(
                "unknown instrument", "unknown-name", spot, put(spot, found, misspelt(found[1]) + "x")
            )


def pickups() -> Iterator[Planted]:
    """The fuzz, which hangs on the magnetic pickup, put on for the upright: in each of its scenes."""
    for song in ("fog-signal", "slack-water", "keepers-log"):
        for spot, name in _heads(song):
            block = TEXTS[spot.path].split("\n")[spot.line - 1 : spot.line + 3]
            own = re.search(
                r"instrument: \w+|like: second hand|like: (?:turn|first oars)|, turn\]|lull: drift",
                "\n".join(block),
            )
            if own is None and name not in ("last entry", "high water"):
                yield _added("pickup missing", "pickup-missing", song, spot, "fuzz: on")


def silent() -> Iterator[Planted]:
    """A control of the mixer's echo send's box set where that box is off, in scenes that no other is like."""
    for song in PLAYED:
        for spot, name in _heads(song):
            if (
                "{" in spot.text + "{" * spot.text.endswith(":")
                and name not in _parents(song)
                and "echo" not in _chain(song, name)
            ):
                yield _added("set while bypassed", "set-while-bypassed", song, spot, "echo.repeats: 40 %")


def _chain(song: str, name: str) -> str:
    """The text of a scene and of all that it is like."""
    heads = _heads(song)
    lines = TEXTS[f"{song}.yaml"].split("\n")
    ends = [spot.line - 1 for spot, _ in heads[1:]] + [len(lines)]
    blocks = {n: "\n".join(lines[spot.line - 1 : end]) for (spot, n), end in zip(heads, ends, strict=True)}
    text, waiting = "", [name]
    while waiting:
        block = re.sub(r"^ *#.*$|echo-send", "", blocks[waiting.pop()], flags=re.M)
        text += block
        named = re.findall(r"like: ([\w ]+\w)|like: \[([^\]]*)\]|^  \w[\w ]*: (\w[\w ]*\w)$", block, re.M)
        waiting += [
            n.strip() for group in named for part in group for n in part.split(",") if n.strip() in blocks
        ]
    return text


def late() -> Iterator[Planted]:
    """A budget of a millisecond, in every scene but the first one played."""
    for song in ALL_SONGS:
        for spot, name in _heads(song)[1:4]:
            text, _ = _with(spot, "budget: 1 ms")
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
        for spot, found in _in(song, r"^  (?:\w[\w ]*): +\{(at: (?:\[[^\]]*\]|[^,]*), )"):
            name = spot.text.strip().split(":")[0]
            if name not in _parents(song) and not re.search(r"(?:time|rate): 1/", _chain(song, name)):
                yield _line("never visited", "never-visited", spot, put(spot, found, ""))


def drifting() -> Iterator[Planted]:
    """A tempo that changes a bar after a scene with a note value has begun: said at the scene."""
    for song in ALL_SONGS:
        marks = [
            (int(bar), bpm) for bar, bpm in re.findall(r"at: bar (\d+), bpm: (\d+)", TEXTS[f"{song}.yaml"])
        ]
        for spot, found in _in(song, r"^tempo: (\d+|\[.*\])$"):
            for scene, name in _heads(song):
                at = re.search(
                    r"at: \[?bar (\d+)",
                    "\n".join(TEXTS[scene.path].split("\n")[scene.line - 1 : scene.line + 1]),
                )
                if at is not None and re.search(r"(?:time|rate|beats): 1/", _chain(song, name)):
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
        for spot, found in _in(song, r"^  (\w[\w ]*: +\{at: (?:\[[^\]]*\]|[^,]*)), ")[:6]:
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
    """Two songs for one instrument in a row, the second in another tuning; the instrument takes a song for it."""
    held: dict[str, list[str]] = {}
    for song in PLAYED:
        for _, found in _in(song, r"^instrument: (\w+)"):
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


FAMILIES = (
    parents,
    circles,
    places,
    disagreeing,
    tempos,
    untimed,
    instruments,
    pickups,
    silent,
    late,
    leftover,
    drifting,
    repeated,
    tunings,
)
