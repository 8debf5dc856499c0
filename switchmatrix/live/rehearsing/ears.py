"""What comes in on the returns of a rig: pedals, what somebody else has changed, and lines for a person."""

from __future__ import annotations

from collections import deque

from switchmatrix.live.records import MS
from switchmatrix.live.stepping.doubts import doubts
from switchmatrix.live.stepping.feet import Pressed, Treads, hears, tread
from switchmatrix.live.stepping.inputs import Doubt
from switchmatrix.model.rig import Rig
from switchmatrix.simulate.rig import Receivers, receivers
from switchmatrix.simulate.stream import Event, Voice

OWN_US = 500 * MS // 1000
"""What comes back within this after it was sent is our own, passed on by a box or a cable."""


class Ears:
    """One rig's: it knows its pedals' pasts, and what we have sent ourselves a moment ago."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self._treads = Treads()
        self._receivers: Receivers = receivers(rig)
        self._own: deque[tuple[int, str, bytes]] = deque()

    def taken_over(self, rig: Rig) -> None:
        """The rig's file has changed."""
        if rig != self.rig:
            self.rig, self._receivers, self._treads = rig, receivers(rig), Treads()

    def sending(self, port: str, moment_us: int, data: bytes, now_us: int) -> None:
        """We are to send this ourselves at a moment."""
        self._forget(now_us)
        self._own.append((moment_us, port, data))

    def dropped(self, now_us: int) -> None:
        """What was to be sent from now on is not."""
        self._own = deque(one for one in self._own if one[0] <= now_us)

    def _forget(self, now_us: int) -> None:
        while self._own and self._own[0][0] + OWN_US < now_us:
            self._own.popleft()

    def _is_own(self, port: str, data: bytes, at_us: int) -> bool:
        self._forget(at_us)
        for one in self._own:
            if one[1:] == (port, data) and one[0] <= at_us <= one[0] + OWN_US:
                self._own.remove(one)
                return True
        return False

    def hear(
        self, port: str, data: bytes, events: tuple[Event, ...], at_us: int
    ) -> tuple[str | None, Pressed | None, tuple[Doubt, ...]]:
        """A message that came: what it is in words, the step that it is, what may have moved by it.

        What we have sent ourselves is nothing of these, so that no step can bring about the next.
        """
        if self._is_own(port, data, at_us):
            return None, None, ()
        said: str | None = None
        pressed: Pressed | None = None
        for event in events:
            said = hears(port, event) or said
            if self.rig.feet is not None and isinstance(event, Voice):
                self._treads, step = tread(self.rig.feet, self._treads, port, event, at_us)
                pressed = step or pressed
        return said, pressed, doubts(self.rig.id, self._receivers, port, events)
