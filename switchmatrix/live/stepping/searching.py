"""A song or a scene found by part of its name."""

from __future__ import annotations

import unicodedata

from switchmatrix.live.stepping.prepared import Prepared
from switchmatrix.live.stepping.stops import Stop


def find(show: Prepared, text: str) -> tuple[Stop, ...]:
    """The stops whose song and scene have every word of the text in their names, the likeliest first.

    Small letters and bare ones find all others. Words that begin a name come before words that begin a
    part of it, and those before parts of words; a song's first stop before its others.
    """
    words = plain(text).split()
    if not words:
        return ()
    ranked = []
    songs: set[tuple[int, str]] = set()
    for n, stop in enumerate((*show.stops, *show.others)):
        song = (stop.key.item, stop.key.song)
        first = song not in songs
        songs.add(song)
        ranks = [_rank(word, stop, first) for word in words]
        if all(rank is not None for rank in ranks):
            ranked.append((sum(rank for rank in ranks if rank is not None), n, stop))
    return tuple(stop for _, _, stop in sorted(ranked, key=lambda row: row[:2]))


def plain(text: str) -> str:
    """The text without capitals and marks."""
    bare = unicodedata.normalize("NFKD", text.casefold())
    return "".join(c for c in bare if not unicodedata.combining(c))


def _rank(word: str, stop: Stop, first: bool) -> int | None:
    """How well a word fits, 0 best; None where it does not."""
    scene = _within(word, stop.key.label)
    songs = [_within(word, name) for name in (stop.title, stop.key.song)]
    ranks = [] if scene is None else [scene]
    # A song is meant as a whole: its first stop stands for it, the others come after.
    ranks += [rank if first else rank + 3 for rank in songs if rank is not None]
    return min(ranks, default=None)


def _within(word: str, name: str) -> int | None:
    text = plain(name)
    if text.startswith(word):
        return 0
    if any(part.startswith(word) for part in text.replace("-", " ").split()):
        return 1
    return 2 if word in text else None
