"""Beats that go through the MIDI server and back: what they prove, and when one is missing."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field

from switchmatrix.live.records import Watch

FIRST, LAST = b"\xf0\x7d", b"\xf7"
"""A beat is system exclusive under the non-commercial ID, on a port of its own that nobody else hears."""


@dataclass(slots=True)
class Beats:
    """Beats under way as (number, moment).

    A beat that is back proves that the server has run since the beat before it, so what was handed to it
    before that one, at `proved_ns`, is through: one beat alone might have overtaken a message in the server.
    `back_ns` is when the last beat that is back left. `missed` counts those that never came while later
    ones did: a server that drops beats, as JACK does when a client is not done within a period, drops
    messages too.
    """

    watch: Watch
    next_ns: int = 0
    proved_ns: int = 0
    missed: int = 0
    _number: int = 0
    back_ns: int = 0
    _under_way: deque[tuple[int, int]] = field(default_factory=deque)

    def go(self, moment: int) -> bytes:
        """The next beat's bytes; it leaves at `moment`."""
        self._number = (self._number + 1) % (1 << 14)
        self._under_way.append((self._number, moment))
        self.next_ns = moment + self.watch.every_ns
        return FIRST + bytes([self._number >> 7, self._number & 0x7F]) + LAST

    def back(self, data: bytes) -> None:
        """A beat came back; those before it that are still under way never will."""
        number = data[2] << 7 | data[3]
        if number not in [one for one, _ in self._under_way]:
            return
        while True:
            first, moment = self._under_way.popleft()
            if first == number:
                self.proved_ns, self.back_ns = self.back_ns, moment
                return
            self.missed += 1

    def all_back(self) -> bool:
        """Whether no beat is under way."""
        return not self._under_way

    def missing(self, moment: int) -> bool:
        """Whether a beat is out for too long."""
        return bool(self._under_way) and moment - self._under_way[0][1] > self.watch.beat_ns
