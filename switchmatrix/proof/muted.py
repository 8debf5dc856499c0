"""A device with controls that mutes hold: its messages while something that they cover moves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from switchmatrix.compile.device import device_transition
from switchmatrix.compile.known import DeviceKnown, Known, device_unknown
from switchmatrix.compile.step import Step
from switchmatrix.compile.transition import transition
from switchmatrix.model.rig import Device, Mute, Rig
from switchmatrix.model.settings import PATCH, Target
from switchmatrix.proof.bench import Bench, aligned
from switchmatrix.proof.goal import Goal
from switchmatrix.proof.parts import Part
from switchmatrix.simulate.receiver import Receiver, receiver
from switchmatrix.simulate.stream import heard
from switchmatrix.states.state import DeviceState, State

MOST_AT_ONCE = 4
"""Up to so many mutes of a part every choice of them is tried; of more, each alone and all together."""


Unheld = tuple[str, str]
"""A control of the device that should be held, and what moves meanwhile."""


def _index(device: Device, control: str) -> int:
    return next(n for n, c in enumerate(device.definition.controls) if c.name == control)


class Muting:
    """The mutes that hold controls of one device, and states of the rig in which what they cover moves."""

    def __init__(self, rig: Rig, bench: Bench, states: Sequence[State]) -> None:
        self.rig, self.bench, self.name = rig, bench, bench.device.name
        self.mutes = tuple(m for m in rig.mutes if any(t.device == self.name for t, _ in m.holds))
        covered = {target.device for mute in self.mutes for target in mute.covers} - {self.name}
        self.beside = {
            device.name: self._moving(n, states)
            for n, device in enumerate(rig.devices)
            if device.name in covered and states
        }

    def _moving(self, device: int, states: Sequence[State]) -> DeviceState:
        """The state in which most moves of what is covered, from where nothing is known."""
        name = self.rig.devices[device].name
        covered = {t.control for mute in self.mutes for t in mute.covers if t.device == name}
        found = {state.devices[device].key: state.devices[device] for state in states}
        return max(found.values(), key=lambda state: len(covered & _moved(state)))

    @property
    def together(self) -> tuple[frozenset[int], ...]:
        """Controls of the device (by index; the patch is one past them) of which one covers the other."""
        device = self.bench.device
        patch = len(device.definition.controls)
        out = []
        for mute in self.mutes:
            covered = [target.control for target in mute.covers if target.device == self.name]
            held = [target.control for target, _ in mute.holds if target.device == self.name]
            if covered:
                named = [patch if name == PATCH else _index(device, name) for name in (*covered, *held)]
                out.append(frozenset(named))
        return tuple(out)

    def within(self, part: Part) -> list[Muted]:
        """Every choice of mutes that hold something of a part, with only what they hold of it."""
        own = []
        for mute in self.mutes:
            holds = tuple(
                (target, coded)
                for target, coded in mute.holds
                if target.device == self.name and _index(self.bench.device, target.control) in part.controls
            )
            if holds:
                own.append(replace(mute, holds=holds))
        sizes = range(1, len(own) + 1) if len(own) <= MOST_AT_ONCE else (1, len(own))
        return [self._muted(mutes) for size in sizes for mutes in combinations(own, size)]

    def _muted(self, mutes: tuple[Mute, ...]) -> Muted:
        covered = {target.device for mute in mutes for target in mute.covers}
        devices = tuple(d for d in self.rig.devices if d.name in covered | {self.name})
        return Muted(self.bench, replace(self.rig, mutes=mutes, devices=devices), self.beside)


def _moved(state: DeviceState) -> set[str]:
    """What of a device moves on the way to a state."""
    move = device_transition(device_unknown(state.device), state)
    names = {state.device.definition.controls[n].name for n in move.moved}
    return names | ({PATCH} if move.recall is not None else set())


@dataclass(slots=True)
class Muted:
    """A rig of the device and of those that its mutes cover, which are in doubt and so always move."""

    bench: Bench
    rig: Rig
    beside: dict[str, DeviceState]
    receivers: dict[str, Receiver] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """The device's."""
        return self.bench.device.name

    @property
    def holds(self) -> dict[int, int]:
        """The held controls of the device by index, each with its code."""
        held = [hold for mute in self.rig.mutes for hold in mute.holds]
        return {_index(self.bench.device, target.control): coded.code for target, coded in held}

    def sent(self, known: DeviceKnown, goal: Goal) -> tuple[tuple[bytes, ...], Unheld | None]:
        """The device's messages as they arrive; and what moves while nothing is held."""
        names = [device.name for device in self.rig.devices]
        states = tuple(goal.state if name == self.name else self.beside[name] for name in names)
        knowns = tuple(known if d.name == self.name else device_unknown(d) for d in self.rig.devices)
        steps = transition(self.rig, Known(knowns), State(states))
        own = tuple(step.data for step in steps if step.device == self.name)
        arrived = self.bench.on_wire(own)
        return arrived, self._unheld(steps, known, own, arrived)

    def _unheld(
        self, steps: Sequence[Step], known: DeviceKnown, own: tuple[bytes, ...], arrived: tuple[bytes, ...]
    ) -> Unheld | None:
        """What that is covered moves while a control does not stand where its mute wants it."""
        pieces = iter(aligned(own, arrived))
        kind = len(self.bench.receivers) - 1
        one = self.bench.receivers[kind]
        now = self.bench.start(one, known)
        for step in steps:
            mine = step.device == self.name
            for message in next(pieces) if mine else (step.data,):
                moved = self._moves(step.device, message)
                if mine:
                    now, told = one.told(now, self.bench.heard(message))
                    moved = {Target(self.name, label) for event in told for label in event.moved}
                for mute in self.rig.mutes:
                    target = next((t for t in mute.covers if t in moved), None)
                    for held, coded in mute.holds if target is not None else ():
                        if now.controls[_index(self.bench.device, held.control)] != coded.code:
                            return held.control, f"{target} moves while it is not held"
        return None

    def _moves(self, device: str, message: bytes) -> set[Target]:
        """What a message moves of another device."""
        if device not in self.receivers:
            self.receivers[device] = receiver(next(d for d in self.rig.devices if d.name == device))
        one = self.receivers[device]
        _, told = one.told(one.unit.start(), heard(message))
        return {Target(device, label) for event in told for label in event.moved}
