"""MIDI clock at the tempo of the scene that a rig is in, for the devices that want it, while it stands."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from fractions import Fraction

from switchmatrix.compile.schedule import Timed
from switchmatrix.live.clock import PER_QUARTER, Clock, beside, quarter_of
from switchmatrix.live.records import MS, Due
from switchmatrix.live.stepping.prepared import Prepared
from switchmatrix.live.stepping.stops import Key
from switchmatrix.model.rig import Rig

AHEAD_NS = 75 * MS
"""Clocks are handed over so long before they are due: what comes between waits for none of them."""

LEFT_NS = 60 * MS
"""And not before so few of those handed over are left: few batches are less work than many."""


def quarter_at(show: Prepared, key: Key) -> Fraction | None:
    """How long a quarter note is at a stop, in milliseconds; None without a tempo."""
    song = show.songs.get(key.item)
    if song is None or song.song.song.id != key.song:
        return None
    visit = next((one for one in song.visits if (one.scene, one.nth) == (key.scene, key.nth)), None)
    return quarter_of(song, key.scene, visit)


class Beating:
    """One rig's clocks; none where no device wants any, or where the scene has no tempo."""

    def __init__(self) -> None:
        self._for: tuple[Prepared, Key | None] | None = None
        self._clock: Clock | None = None
        self._until = 0
        self._last: int | None = None

    def follow(self, show: Prepared, key: Key | None, from_ns: int) -> None:
        """A rig is in that stop, if in any; at the same tempo the clocks run on.

        At another tempo they go on an interval after the last one that was handed over.
        """
        if self._for is not None and self._for[0] is show and self._for[1] == key:
            return
        self._for = (show, key)
        quarter_ms = None if key is None else quarter_at(show, key)
        if quarter_ms is None:
            self._clock = None
        elif self._clock is None or self._clock.quarter_ms != quarter_ms:
            between = (quarter_ms * MS / PER_QUARTER).__ceil__()
            start = from_ns if self._last is None else max(from_ns, self._last + between)
            self._clock, self._until = Clock(quarter_ms, start), start

    def stop(self, dropped: bool) -> bool:
        """No more clocks; `dropped` where those handed over do not go out. Whether there were any."""
        running = self._clock is not None
        self._for, self._clock = None, None
        self._last = None if dropped else self._last
        return running

    def due(
        self, rig: Rig, now_ns: int, pending: Iterable[Timed], absent: Collection[str] = ()
    ) -> Mapping[str, tuple[Due, ...]]:
        """The clocks to be handed over now, clear of the messages that are under way.

        A port whose devices that want them are all absent gets none.
        """
        if self._clock is None or now_ns + LEFT_NS < self._until:
            return {}
        # What lies behind us is left out: a clock that comes late tells a wrong tempo.
        start, end = max(self._until, now_ns), now_ns + AHEAD_NS
        self._until = end
        moments = self._clock.between(start, end)
        self._last = moments[-1] if moments else self._last
        if not moments:
            return {}
        planned = [(m.step.port, Due(m.starts_us * 1000, m.step.data)) for m in pending]
        wanting = {d.port for d in rig.devices if d.definition.clock and d.name not in absent}
        found = beside(rig, self._clock, start, end, planned)
        return {port: clocks for port, clocks in found.items() if port in wanting}
