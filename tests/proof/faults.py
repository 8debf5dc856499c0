"""Faults that may befall a device's messages, and whether they do any harm to boxes on a stage."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from switchmatrix.compile.device import device_transition
from switchmatrix.compile.known import DeviceKnown, device_found, reach, settled
from switchmatrix.compile.transition import Steps
from switchmatrix.model.rig import Device, Rig
from switchmatrix.proof.bench import Wire
from switchmatrix.proof.parts import Part
from switchmatrix.states.show import Run
from switchmatrix.states.state import DeviceState
from tests.proof.found import lands

Data = tuple[bytes, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """What becomes of the messages `sent`; `kind` and `at` say what was done, and to which of them."""

    kind: str
    at: int
    sent: Data
    arrived: Data

    @property
    def wire(self) -> Wire:
        """The messages as they arrive: these with the fault, all others as they were sent."""
        return lambda _, data: self.arrived if data == self.sent else data


def faults(sent: Data) -> Iterator[Fault]:
    """Every fault of one message, at every place where it fits."""
    for n, message in enumerate(sent):
        before, after = sent[:n], sent[n + 1 :]
        yield Fault("drop", n, sent, (*before, *after))
        yield Fault("double", n, sent, (*before, message, message, *after))
        yield Fault("value", n, sent, (*before, _other_value(message), *after))
        if message[0] < 0xF0:
            other = bytes((message[0] ^ 8, *message[1:]))
            yield Fault("channel", n, sent, (*before, other, *after))
        if after and after[0] != message:
            yield Fault("swap", n, sent, (*before, after[0], message, *after[1:]))
        if n > 1:
            yield Fault("first", n, sent, (message, *before, *after))


def _other_value(message: bytes) -> bytes:
    """The last data byte off by one; of system exclusive the one before its checksum, or its last."""
    at = len(message) - 1 if message[0] < 0xF0 else len(message) - 2
    return bytes((*message[:at], message[at] ^ 1, *message[at + 1 :]))


@dataclass(frozen=True, slots=True)
class Pair:
    """A way of one device, or of a part of it, and its messages; `bank` is counted on afterwards."""

    known: DeviceKnown
    state: DeviceState
    bank: int | None
    sent: Data

    def lands(self, arrived: Data) -> bool:
        """Whether every box that may stand there comes to the state by what arrives."""
        return lands(self.known, self.state, self.bank, arrived)


def states_of(run: Run, device: Device) -> list[DeviceState]:
    """The distinct states of a device."""
    every = [d for _, song in run.songs for scene in song.states for d in scene.state.devices]
    return list({state.key: state for state in every if state.device.name == device.name}.values())


def pairs(rig: Rig, device: Device, states: list[DeviceState], part: Part | None = None) -> list[Pair]:
    """Every ordered pair of the device's states, and from unknown; of the part alone where one is given."""
    reached, steps = reach(rig, device), Steps()
    wanted = states if part is None else [part.of(state) for state in states]
    every = list({state.key: state for state in wanted}.values())
    knowns = dict.fromkeys([device_found(device), *(settled(state, reached) for state in every)])
    return [_pair(known, state, reached_bank(state, rig), steps) for known in knowns for state in every]


def reached_bank(state: DeviceState, rig: Rig) -> int | None:
    """The bank that is counted on after a state."""
    bank = settled(state, reach(rig, state.device)).bank
    return bank if isinstance(bank, int) else None


def _pair(known: DeviceKnown, state: DeviceState, bank: int | None, steps: Steps) -> Pair:
    move = device_transition(known, state)
    made = steps.sends(state, move.prepare)
    made += steps.recall(state, move.recall) if move.recall is not None else ()
    made += steps.sends(state, move.sends)
    return Pair(known, state, bank, tuple(step.data for step in made))
