"""Faults in how a song is built: parents, places, tempo, instruments."""

from __future__ import annotations

from collections.abc import Iterator

from tests.seeded.kit import PLAYED, TEXTS, Planted, changed, home_of, misspelt, put
from tests.seeded.song_kit import ALL_SONGS, grown, heads, line, lines_of


def _after(family: str, name: str, song: str, key: str, line: str) -> Iterator[Planted]:
    """A line put into the song's file after one of its keys: one finding at that line."""
    for spot, _ in lines_of(song, f"^{key}: ")[:1]:
        place = f"{spot.path}:{spot.line + 1}"
        files = changed(home_of(song), spot, f"{spot.text}\n{line}")
        yield Planted(family, f"{place} {line}", files, (f"{name} {place}",))


def parents() -> Iterator[Planted]:
    """A parent that is not there."""
    for song in ALL_SONGS:
        for spot, found in lines_of(song, r"like: \[?(\w[\w ]*\w)"):
            yield line("unknown parent", "unknown-name", spot, put(spot, found, misspelt(found[1]) + "x"))


def circles() -> Iterator[Planted]:
    """A scene that is made like one that is like it: said at its line."""
    for song in ALL_SONGS:
        begins = {name: spot for spot, name in heads(song)}
        for _, found in lines_of(song, r"^  (\w[\w ]*): +\{.*like: (\w[\w ]*\w)")[:2]:
            parent = begins[found[2]]
            if "like:" not in parent.text and "{" in parent.text:
                text, _ = grown(parent, f"like: {found[1]}")
                files = changed(home_of(song), parent, text)
                yield Planted(
                    "like circle", f"{parent.place} {found[1]}", files, (f"like-circle {parent.place}",)
                )


def places() -> Iterator[Planted]:
    """A place that there is not, two places the wrong way about, two scenes at one place."""
    for song in ALL_SONGS:
        for spot, found in lines_of(song, r"^ .*at: \[?bar (\d+)")[:3]:
            yield line("bad place", "bad-place", spot, put(spot, found, "0"))
        for spot, found in lines_of(song, r"^ .*at: \[([^,\]]+, [^,\]]+)\]"):
            turned = ", ".join(reversed(found[1].split(", ")))
            yield line("places out of order", "places-out-of-order", spot, put(spot, found, turned))


def disagreeing() -> Iterator[Planted]:
    """An order that turns the places about."""
    for song in PLAYED:
        names = [name for _, name in heads(song)]
        if "order:" not in TEXTS[f"{song}.yaml"]:
            yield from _after(
                "order disagrees", "order-disagrees", song, "song", f"order: [{', '.join(reversed(names))}]"
            )


def tempos() -> Iterator[Planted]:
    """A tempo or a meter that no music has; a scene's own tempo beside its place."""
    for song in ALL_SONGS:
        for spot, found in lines_of(
            song, r"^tempo: (\d+)$|^tempo: .*?bpm: (\d+)|^  - \{at: bar 1, bpm: (\d+)"
        )[:1]:
            n = next(n for n in (1, 2, 3) if found[n] is not None)
            text = spot.text[: found.start(n)] + "0" + spot.text[found.end(n) :]
            yield line("tempo of nothing", "tempo-unsound", spot, text)
        for spot, found in lines_of(song, r"^meter: (\d+/\d)$"):
            yield line("meter of nothing", "tempo-unsound", spot, put(spot, found, "4/3"))
        for spot, found in lines_of(song, r"^  \w.*\{(at: )")[:2]:
            yield line(
                "tempo beside a place", "tempo-beside-place", spot, put(spot, found, "tempo: 90, at: ")
            )


OWN_TEMPO = "delay: {time: 1/4 dotted, feedback: as stored}"
"""The line of a scene that has a tempo of its own."""


def untimed() -> Iterator[Planted]:
    """A song that has lost its tempo: said at each note value, but not where a scene has its own tempo."""
    for song in ALL_SONGS:
        for spot, _ in lines_of(song, r"^tempo: [\d[]"):
            lines = [at for at, _ in lines_of(song, r": 1/\d")]
            if lines:
                expected = tuple(f"no-tempo {at.place}" for at in lines if at.text.strip() != OWN_TEMPO)
                yield Planted(
                    "note value without a tempo", spot.place, changed(home_of(song), spot, ""), expected
                )


def instruments() -> Iterator[Planted]:
    """An instrument that the rig has not got, of a song and of a scene."""
    for song in ALL_SONGS:
        for spot, found in lines_of(song, r"instrument: ([\w ]+)"):
            yield line("unknown instrument", "unknown-name", spot, put(spot, found, misspelt(found[1]) + "x"))


FAMILIES = (parents, circles, places, disagreeing, tempos, untimed, instruments)
