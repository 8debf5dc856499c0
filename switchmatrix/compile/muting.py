"""Mutes of a transition: which are needed, what they hold, and what they give back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from operator import itemgetter

from switchmatrix.compile.device import DeviceTransition, Send
from switchmatrix.compile.known import Known
from switchmatrix.definition.carriers import Cc14Carrier
from switchmatrix.definition.values import Value
from switchmatrix.model.rig import Mute, Rig
from switchmatrix.model.settings import PATCH
from switchmatrix.source import Span
from switchmatrix.states.state import AsPatch, DeviceState, Set

Pairs = Sequence[tuple[DeviceState, DeviceTransition]]


@dataclass(frozen=True, slots=True)
class Hold:
    """One control held while others move.

    `device` and `index` say which, `code` and `gets` at what; `on` where it must be sent there, after its
    device's own recall where that moves it (`after_recall`); `fine` is as in a Send. `back`
    is what the state wants of it afterwards, None where it stays. `mutes` are the rig's mutes (by
    number) that hold it.
    """

    device: int
    index: int
    code: int
    gets: Value
    on: bool
    fine: bool
    after_recall: bool
    back: Send | None
    mutes: tuple[int, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Holding:
    """All that is held in a transition; `early` are devices whose recall goes before the mutes."""

    holds: tuple[Hold, ...]
    early: frozenset[int]

    def left(self, device: int, sends: Iterable[Send]) -> list[Send]:
        """What of a device's controls is set apart from the mutes."""
        held = {hold.index for hold in self.holds if hold.device == device}
        return [send for send in sends if send.index not in held]


def holding(rig: Rig, known: Known, pairs: Pairs) -> Holding:
    """The mutes that cover something which this transition moves; devices and controls in their order."""
    place = {state.device.name: n for n, (state, _) in enumerate(pairs)}
    by_control: dict[tuple[int, int], list[tuple[int, Mute]]] = {}
    for number, mute in enumerate(rig.mutes):
        if not _needed(mute, pairs, place):
            continue
        for target, _ in mute.holds:
            device = place[target.device]
            index = next(
                n
                for n, c in enumerate(pairs[device][0].device.definition.controls)
                if c.name == target.control
            )
            by_control.setdefault((device, index), []).append((number, mute))
    holds = [_hold(known, pairs, *at, mutes) for at, mutes in sorted(by_control.items(), key=itemgetter(0))]
    early = frozenset(hold.device for hold in holds if hold.after_recall)
    return Holding(tuple(holds), early)


def _needed(mute: Mute, pairs: Pairs, place: dict[str, int]) -> bool:
    for target in mute.covers:
        state, move = pairs[place[target.device]]
        if target.control == PATCH:
            if move.recall is not None:
                return True
        elif any(state.device.definition.controls[n].name == target.control for n in move.moved):
            return True
    return False


def _hold(known: Known, pairs: Pairs, device: int, index: int, mutes: list[tuple[int, Mute]]) -> Hold:
    state, move = pairs[device]
    control, given = state.device.definition.controls[index], state.controls[index]
    target = (state.device.name, control.name)
    held = next(coded for hold, coded in mutes[0][1].holds if hold == target)
    wanted = state.wants[index]
    if not isinstance(wanted, int) or not isinstance(given, Set | AsPatch):
        raise TypeError(f"the scene has no code for {target[0]}.{target[1]}, which a mute holds")
    after_recall = move.recall is not None and control.stored
    stands = move.after[index] if after_recall else known.devices[device].controls[index]
    split = isinstance(control.carrier, Cc14Carrier)
    back = Send(index, wanted, split and held.code >> 7 == wanted >> 7, False, given.origin)
    return Hold(
        device=device,
        index=index,
        code=held.code,
        gets=held.gets,
        on=stands != held.code,
        fine=split and isinstance(stands, int) and stands >> 7 == held.code >> 7,
        after_recall=after_recall,
        back=back if wanted != held.code else None,
        mutes=tuple(number for number, _ in mutes),
        span=mutes[0][1].span,
    )
