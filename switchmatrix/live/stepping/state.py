"""Where a rehearsal stands."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from switchmatrix.compile.known import Known
from switchmatrix.compile.schedule import Busy, Timed
from switchmatrix.live.stepping.gate import Gate, Question
from switchmatrix.live.stepping.moves import ByHand
from switchmatrix.live.stepping.prepared import Prepared, PreparedRig
from switchmatrix.live.stepping.stops import Key, Stop
from switchmatrix.model.rig import Rig


@dataclass(frozen=True, slots=True)
class Options:
    """How a rehearsal is run.

    `said` where a person has said in advance that outputs are muted and people told. `asks_after_fault`
    is off where the show has opted out of being asked.
    """

    said: bool = False
    asks_after_fault: bool = True


@dataclass(frozen=True, slots=True)
class Pending:
    """A send that has not all gone out for certain: what was known before, and what will be after.

    `whole` where nothing was taken for known; `done` where it has, and one handed over earlier has not.
    """

    send: int
    messages: tuple[Timed, ...]
    before: Known
    after: Known
    busy_before: Busy
    whole: bool
    done: bool = False


@dataclass(frozen=True, slots=True)
class RigNow:
    """A rig: what is known of it once all that is pending has gone out.

    `inside` is the stop that it was brought to last, None where nobody can tell. `out` are devices that
    were taken out, `lost` ports that are gone; `failed` counts the sends that failed since a person spoke.
    """

    id: str
    gate: Gate
    known: Known
    inside: Key | None = None
    pending: tuple[Pending, ...] = ()
    busy: Busy = field(default_factory=Busy)
    out: frozenset[str] = frozenset()
    lost: frozenset[str] = frozenset()
    by_hand: tuple[ByHand, ...] = ()
    failed: int = 0

    def absent(self, rig: Rig) -> frozenset[str]:
        """The devices that are sent nothing."""
        return self.out | {device.name for device in rig.devices if device.port in self.lost}


@dataclass(frozen=True, slots=True)
class Remark:
    """A remark that was pinned."""

    key: Key
    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Stepping:
    """A rehearsal. `at` is where we stand, `place` the stop of the walk that we stand at or came by.

    `stepped` where we came there by stepping on or by running time, so that its triggers are through.
    `goal` is what the driven rigs are to be in: `at`, silence or home. `waiting` is a show that was
    reloaded while something was pending.
    """

    show: Prepared
    options: Options
    at: Key
    place: int
    goal: Key
    rigs: tuple[RigNow, ...]
    driven: tuple[str, ...]
    stepped: bool = False
    peek: int | None = None
    pinned: tuple[Remark, ...] = ()
    asking: Question | None = None
    sends: int = 0
    waiting: Prepared | None = None
    left: bool = False

    def rig(self, id: str) -> RigNow:
        """The rig of that id; KeyError where there is none."""
        return {now.id: now for now in self.rigs}[id]

    def prepared(self, id: str) -> PreparedRig:
        """What is prepared for the rig."""
        return self.show.rigs[id]

    def with_rig(self, now: RigNow) -> Stepping:
        """The same with one rig as it is now."""
        return replace(self, rigs=tuple(now if one.id == now.id else one for one in self.rigs))

    @property
    def here(self) -> Stop:
        """The stop where we stand."""
        return self.show.by_key[self.at]

    @property
    def following(self) -> Stop | None:
        """The stop that `next` goes to."""
        after = self.place + 1
        return self.show.stops[after] if after < len(self.show.stops) else None

    @property
    def before(self) -> Stop | None:
        """The stop that `back` goes to."""
        if self.show.places.get(self.at) != self.place:
            return self.show.stops[self.place] if self.show.stops else None
        return self.show.stops[self.place - 1] if self.place > 0 else None

    @property
    def looked_at(self) -> Stop:
        """The stop that is peeked at, else the one where we stand."""
        return self.here if self.peek is None else self.show.stops[self.peek]

    def held_back(self) -> tuple[str, ...]:
        """The driven rigs that wait at the gate."""
        return tuple(id for id in self.driven if self.rig(id).gate is not Gate.OPEN)
