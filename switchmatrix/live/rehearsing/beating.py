"""MIDI clock at the tempo of the scene that a rig is in, for the devices that want it, while it stands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from switchmatrix.compile.schedule import Timed
from switchmatrix.live.clock import Clock, beside, clocked_ports, quarter_of
from switchmatrix.live.records import MS, Due
from switchmatrix.live.stepping.prepared import Prepared
from switchmatrix.live.stepping.stops import Key
from switchmatrix.model.rig import Rig

AHEAD_NS = 60 * MS
"""Clocks are handed over so long before they are due: what comes between waits for none of them."""


def quarter_at(show: Prepared, key: Key) -> Fraction | None:
    """How long a quarter note is at a stop, in milliseconds; None without a tempo."""
    song = show.songs.get(key.item)
    if song is None or song.song.song.id != key.song:
        return None
    visit = next((one for one in song.visits if (one.scene, one.nth) == (key.scene, key.nth)), None)
    return quarter_of(song, key.scene, visit)


class Beating:
    """One rig's clocks; none where no device wants any, or where the scene has no tempo."""

    def __init__(self, rig: Rig) -> None:
        self._rig = rig
        self._clock: Clock | None = None
        self._until = 0

    def set(self, rig: Rig, quarter_ms: Fraction | None, from_ns: int) -> None:
        """Another scene begins; at the same tempo the clocks run on."""
        self._rig = rig
        if quarter_ms is None or not clocked_ports(rig):
            self._clock = None
        elif self._clock is None or self._clock.quarter_ms != quarter_ms:
            self._clock, self._until = Clock(quarter_ms, from_ns), from_ns

    def stop(self) -> None:
        """No more clocks."""
        self._clock = None

    def due(self, now_ns: int, pending: Iterable[Timed]) -> Mapping[str, tuple[Due, ...]]:
        """The clocks to be handed over now, clear of the messages that are under way."""
        if self._clock is None or now_ns + AHEAD_NS <= self._until:
            return {}
        # What lies behind us is left out: a clock that comes late tells a wrong tempo.
        start, end = max(self._until, now_ns), now_ns + AHEAD_NS
        self._until = end
        planned = [(m.step.port, Due(m.starts_us * 1000, m.step.data)) for m in pending]
        return beside(self._rig, self._clock, start, end, planned)
