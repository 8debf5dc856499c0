"""Moves: the messages from what is known of a rig to a scene, each worked out once and kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from switchmatrix.compile.device import DeviceTransition, Trouble, device_transition
from switchmatrix.compile.jobs import covers, holds
from switchmatrix.compile.known import UNKNOWN, DeviceKnown, Known, device_unknown, reach, settled
from switchmatrix.compile.schedule import (
    Busy,
    Scheduled,
    Timed,
    beside,
    byte_times,
    lane_of,
    omni_ports,
    schedule,
)
from switchmatrix.compile.step import Role, Step
from switchmatrix.compile.transition import Steps, transition
from switchmatrix.live.never import guard
from switchmatrix.live.spacing import spaced, spaced_rig
from switchmatrix.midi.wire import wire_time_us
from switchmatrix.model.rig import Rig
from switchmatrix.states.state import DeviceState, PatchIn, State, StoredIn, Trigger, Want

MOST_KEPT = 256
"""Moves kept of one rig: some for every way in and out of where the player stands."""


@dataclass(frozen=True, slots=True)
class ByHand:
    """A switch that can only be flipped, and nobody knows how it stands: a person puts it there.

    `device` and `index` say which, `on` where to.
    """

    device: int
    index: int
    on: bool
    text: str


@dataclass(frozen=True, slots=True)
class Move:
    """What a rig is sent, in time from 0 on wires at rest, and what is known of it afterwards.

    `steps` are the same messages in the order that says what waits for what; what is in `head` is over
    before any of them. `by_hand` is what cannot be sent; `unsure` says what else may not have come about.
    """

    head: tuple[Step, ...]
    steps: tuple[Step, ...]
    scheduled: Scheduled
    after: Known
    by_hand: tuple[ByHand, ...]
    unsure: tuple[str, ...]


class Moves:
    """The moves of one rig, the ones asked for lately kept: that makes them quick, and nothing else.

    Every wait is `extra_us` longer than its device asks: what a MIDI server may take from it. `spaced` is
    the rig with its mutes that much longer, as schedules are made for it.
    """

    __slots__ = ("_extra", "_kept", "_reach", "_rig", "_steps", "spaced")

    def __init__(self, rig: Rig, extra_us: int = 0) -> None:
        self._rig, self._extra, self._steps = rig, extra_us, Steps()
        self.spaced = spaced_rig(rig, extra_us)
        self._reach = tuple(reach(rig, device) for device in rig.devices)
        self._kept: dict[tuple[object, ...], Move] = {}

    def move(
        self,
        known: Known,
        name: object,
        state: State,
        triggers: tuple[Trigger, ...] = (),
        absent: frozenset[str] = frozenset(),
        first: str | None = None,
    ) -> Move:
        """From what is known to a state, which has a `name` of its own; nothing for `absent` devices.

        What the lines of the scene called `first` set goes before all else, and again in its place.
        """
        key = (known, name, bool(triggers), absent)
        found = self._kept.get(key)
        if found is None:
            found = self._worked_out(known, state, triggers, absent, first)
            while len(self._kept) >= MOST_KEPT:
                del self._kept[next(iter(self._kept))]
            self._kept[key] = found
        return found

    def _worked_out(
        self,
        known: Known,
        state: State,
        triggers: tuple[Trigger, ...],
        absent: frozenset[str],
        first: str | None,
    ) -> Move:
        taken = Known(
            tuple(
                _as_wanted(device) if device.device.name in absent else before
                for before, device in zip(known.devices, state.devices, strict=True)
            )
        )
        steps = transition(self._rig, taken, state, triggers, self._steps)
        sent = spaced(tuple(step for step in steps if step.device not in absent), self._extra)
        guard(self._rig, sent)
        head = () if first is None else tuple(s for s in sent if _at_once(self._rig, s, first))
        after: list[DeviceKnown] = []
        by_hand: list[ByHand] = []
        unsure: list[str] = []
        for n, (before, device) in enumerate(zip(taken.devices, state.devices, strict=True)):
            if device.device.name in absent:
                after.append(device_unknown(device.device))
                continue
            move = device_transition(before, device)
            stands = _with_bank(settled(device, self._reach[n]), before, move)
            after.append(without(stands, _not_reached(n, move, device, by_hand, unsure)))
        timed = _schedule(self.spaced, head, sent, 0, Busy())
        return Move(head, sent, timed, Known(tuple(after)), tuple(by_hand), tuple(unsure))


def _at_once(rig: Rig, step: Step, scene: str) -> bool:
    """Whether the scene's own lines set it outright: what can only be flipped would flip back."""
    device = rig.device(step.device)
    if step.layer != f"scene {scene}" or step.role is not Role.SET or device is None:
        return False
    moved = [control for control in device.definition.controls if control.name in step.moves]
    return all(control.toggle is None and not control.resets for control in moved)


def _schedule(rig: Rig, head: tuple[Step, ...], steps: tuple[Step, ...], at_us: int, busy: Busy) -> Scheduled:
    """The head as soon as can be, then all else."""
    if not head:
        return schedule(rig, steps, at_us, busy)
    first = schedule(rig, head, at_us, busy)
    rest = schedule(rig, steps, max([at_us, *first.busy.ports.values()]), first.busy)
    return Scheduled((*first.messages, *rest.messages), rest.busy)


def without(known: DeviceKnown, lost: frozenset[int]) -> DeviceKnown:
    """What is known of a device, some of its controls unknown."""
    if not lost:
        return known
    return replace(
        known, controls=tuple(UNKNOWN if n in lost else stands for n, stands in enumerate(known.controls))
    )


def _as_wanted(state: DeviceState) -> DeviceKnown:
    """A device that is already where the state wants it: nothing moves, and nothing is muted for it."""
    patch = state.patch.patch.address if isinstance(state.patch, PatchIn) else UNKNOWN
    return DeviceKnown(patch, None, tuple(UNKNOWN if want is None else want for want in state.wants))


def _with_bank(after: DeviceKnown, before: DeviceKnown, move: DeviceTransition) -> DeviceKnown:
    """What is known of a device in its state: where nothing was recalled, its bank is what it was before."""
    if move.recall is None and before.bank != after.bank and after.bank is not None:
        return replace(after, bank=UNKNOWN)
    return after


def _not_reached(
    device: int, move: DeviceTransition, state: DeviceState, by_hand: list[ByHand], unsure: list[str]
) -> frozenset[int]:
    """The controls that no message brings where the state wants them."""
    lost: set[int] = set()
    for trouble, n in move.troubles:
        if trouble is Trouble.OVER_HANDS:
            continue
        control, want = state.device.definition.controls[n], state.wants[n]
        lost.add(n)
        if trouble is Trouble.TOGGLE_UNSURE and isinstance(want, int):
            text = f"set {state.device.name}.{control.name} {'on' if want else 'off'} by hand"
            by_hand.append(ByHand(device, n, bool(want), text))
        else:
            unsure.append(f"{state.device.name}.{control.name} may not be {_wanted(state, want)}")
    return frozenset(lost)


def _wanted(state: DeviceState, want: Want) -> str:
    if isinstance(want, StoredIn) and isinstance(state.patch, PatchIn):
        return f"as {state.patch.patch.name} stores it"
    return "where the scene wants it"


def in_time(rig: Rig, move: Move, at_us: int, busy: Busy) -> Scheduled:
    """The move from a moment on, no wait cut short of what ports and devices are still doing."""
    until = [*busy.ports.values(), *busy.devices.values(), *busy.gaps.values()]
    until += [*busy.holds.values(), *busy.lets_go.values()]
    if any(moment > at_us for moment in until):
        return _schedule(rig, move.head, move.steps, at_us, busy)
    rest = move.scheduled.busy
    return Scheduled(
        tuple(Timed(m.step, m.starts_us + at_us, m.lands_us + at_us) for m in move.scheduled.messages),
        Busy(
            {port: until + at_us for port, until in rest.ports.items()},
            {device: until + at_us for device, until in rest.devices.items()},
            {mute: until + at_us for mute, until in rest.holds.items()},
            {mute: until + at_us for mute, until in rest.lets_go.items()},
            {device: until + at_us for device, until in rest.gaps.items()},
        ),
    )


def begun(rig: Rig, before: Busy, messages: Sequence[Timed], at_us: int) -> Busy:
    """What ports and devices are still doing when all that has not begun by a moment is dropped."""
    byte_us = byte_times(rig)
    busy = Busy(
        dict(before.ports),
        dict(before.devices),
        dict(before.holds),
        dict(before.lets_go),
        dict(before.gaps),
    )
    omni = omni_ports(rig)
    hearing = beside(rig, omni)
    gap_us = {device.name: device.definition.gap_us for device in rig.devices}
    for message in messages:
        if message.starts_us > at_us:
            continue
        step = message.step
        sent = message.starts_us + wire_time_us(len(step.data), byte_us[step.port])
        busy.ports[step.port] = max(busy.ports.get(step.port, 0), sent)
        held = max(message.lands_us, sent + step.gap_us)
        busy.devices[step.device] = max(busy.devices.get(step.device, 0), held)
        for name in hearing.get(lane_of(step, omni), ()):
            if gap_us[name]:
                busy.gaps[name] = max(busy.gaps.get(name, 0), sent + gap_us[name])
        for number, mute in enumerate(rig.mutes):
            if holds(mute, step):
                busy.holds[number] = max(busy.holds.get(number, 0), message.lands_us + mute.before_us)
            if covers(mute, step):
                busy.lets_go[number] = max(busy.lets_go.get(number, 0), message.lands_us + mute.after_us)
    return busy
