"""The cues of running time: where in time code or in a song's ticks each stop is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from switchmatrix.compile.known import nothing_known, settled_rig
from switchmatrix.live.stepping.prepared import Prepared
from switchmatrix.live.stepping.running import Cue
from switchmatrix.live.stepping.stops import Key, Stop
from switchmatrix.states.timeline import TICKS_PER_QUARTER


def by_rate(show: Prepared, driven: Sequence[str], item: int) -> Mapping[str, tuple[Cue, ...]]:
    """For each rate of time code, the cues of the songs that have a `start` at it, in microseconds of code.

    Where two songs start at one place, `item` (the setlist number where we stand) decides, else the
    earlier of them. A song's cues end where the next one starts.
    """
    starts: dict[str, dict[Fraction, int]] = {}
    for number, states in show.songs.items():
        song = states.song.song
        if song.start is not None and song.rate is not None:
            here = starts.setdefault(song.rate.label, {})
            if song.start not in here or number == item:
                here[song.start] = number
    return {label: _cues(show, driven, here) for label, here in starts.items()}


def _cues(show: Prepared, driven: Sequence[str], starts: Mapping[Fraction, int]) -> tuple[Cue, ...]:
    out: list[Cue] = []
    places = sorted(starts)
    for n, start in enumerate(places):
        until = places[n + 1] * 1_000_000 if n + 1 < len(places) else None
        line = show.songs[starts[start]].timeline
        for stop in _of(show, starts[start]):
            if stop.tick is not None:
                at = start * 1_000_000 + Fraction(line.moment(stop.tick), TICKS_PER_QUARTER)
                if until is None or at < until:
                    out.append(Cue(at, early_us(show, driven, stop), stop.key))
    return tuple(out)


def by_tick(show: Prepared, driven: Sequence[str], item: int) -> tuple[Cue, ...]:
    """The cues of the song of that setlist number, in ticks."""
    return tuple(
        Cue(Fraction(stop.tick), early_us(show, driven, stop), stop.key)
        for stop in _of(show, item)
        if stop.tick is not None
    )


def _of(show: Prepared, item: int) -> list[Stop]:
    return [stop for stop in show.stops if stop.key.item == item]


def early_us(show: Prepared, driven: Sequence[str], stop: Stop) -> int:
    """How long the change to a stop takes that is to have landed at its place; else 0.

    From the stop before it, on whichever rig takes longest.
    """
    if not stop.on_time:
        return 0
    at = show.places[stop.key]
    before = show.stops[at - 1].key if at > 0 else None
    return max((_change_us(show, id, before, stop.key) for id in driven), default=0)


def _change_us(show: Prepared, id: str, before: Key | None, key: Key) -> int:
    ready = show.rigs[id]
    if key not in ready.states:
        return 0
    stands = ready.states.get(before) if before is not None else None
    known = nothing_known(ready.rig) if stands is None else settled_rig(ready.rig, stands)
    move = ready.moves.move(known, key, ready.states[key], ready.triggers.get(key, ()))
    return move.scheduled.change_time_us()
