"""Running time followed: MIDI Time Code, or MIDI clock with song position, from one port at a time."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from switchmatrix.live.stepping import clock, cues, mtc
from switchmatrix.live.stepping.mtc import Followed
from switchmatrix.live.stepping.prepared import Prepared
from switchmatrix.live.stepping.running import Pace
from switchmatrix.live.stepping.state import Stepping
from switchmatrix.simulate.stream import Common, Event, Exclusive, RealTime

OTHER_US = 1_000_000
"""A second source is listened to only once the first has been silent for so long."""

_QUARTER_FRAME = 0xF1
_TIME_CODE = (0x7F, 0x01)
_CLOCKED = (0xF8, 0xFA, 0xFB, 0xFC)


class Kind(Enum):
    """What is followed."""

    TIME_CODE = "time code"
    CLOCK = "clock"


def kind_of(event: Event) -> Kind | None:
    """Which running time an event is of, if any."""
    match event:
        case Common(status, _) if status == _QUARTER_FRAME:
            return Kind.TIME_CODE
        case Exclusive((a, _, b, 0x01, *_), _) if (a, b) == _TIME_CODE:
            return Kind.TIME_CODE
        case RealTime(status) if status in _CLOCKED:
            return Kind.CLOCK
        case Common(0xF2, _):
            return Kind.CLOCK
        case _:
            return None


@dataclass(frozen=True, slots=True)
class _For:
    """What the cues were worked out for; shows are compared by identity."""

    show: Prepared
    driven: tuple[str, ...]
    item: int


class Following:
    """The follower, made anew when its cues are others: by another show or rigs, for a clock another song."""

    def __init__(self, kind: Kind, pace: Pace | None = None) -> None:
        self.kind = kind
        self._pace = pace or Pace()
        self._for: _For | None = None
        self._cues: object = {}
        self._code = mtc.follower({}, self._pace)
        self._clock = clock.clock_follower((), self._pace)
        self._source: tuple[str, str] | None = None
        self._heard_us = 0

    @property
    def steady(self) -> bool:
        """Whether running time is followed now."""
        return self._code.steady if self.kind is Kind.TIME_CODE else self._clock.steady

    def said(self) -> str:
        """Where it is, in words."""
        if self.kind is Kind.CLOCK:
            return "following MIDI clock" if self.steady else "waiting for MIDI clock"
        label = self._code.label
        if label is None:
            return "waiting for time code"
        where = (
            f"{mtc.shown(label)} at {self._code.rate.label} frames" if self._code.rate else mtc.shown(label)
        )
        return f"following time code, {where}" if self.steady else f"time code stands or is searched, {where}"

    def prepare(self, state: Stepping) -> None:
        """Work out the cues for where we stand; while they are the same, what is followed runs on."""
        wanted = _For(state.show, state.driven, state.here.key.item)
        if wanted == self._for:
            return
        self._for = wanted
        if self.kind is Kind.CLOCK:
            self._clock = clock.clock_follower(
                cues.by_tick(state.show, state.driven, wanted.item), self._pace
            )
            return
        found = cues.by_rate(state.show, state.driven, wanted.item)
        if found != self._cues:
            self._cues, self._code = found, mtc.follower(found, self._pace)

    def hear(self, source: tuple[str, str], event: Event, at_us: int) -> tuple[Followed, ...]:
        """What an event says that came from a rig's port."""
        if kind_of(event) is not self.kind:
            return ()
        if source != self._source and self._source is not None and at_us - self._heard_us < OTHER_US:
            return ()
        self._source, self._heard_us = source, at_us
        if self.kind is Kind.CLOCK:
            self._clock, found = clock.follow_clock(self._clock, event, at_us)
        else:
            self._code, found = mtc.follow(self._code, event, at_us)
        return found

    def pass_by(self, at_us: int) -> tuple[Followed, ...]:
        """Time has gone by."""
        if self.kind is Kind.CLOCK:
            self._clock, found = clock.pass_by_clock(self._clock, at_us)
        else:
            self._code, found = mtc.pass_by(self._code, at_us)
        return found

    def due_us(self) -> int | None:
        """The moment at which `pass_by` is wanted next."""
        return clock.clock_due_us(self._clock) if self.kind is Kind.CLOCK else mtc.due_us(self._code)
