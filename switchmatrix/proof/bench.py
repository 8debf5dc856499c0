"""One device on the bench: from what is known of it, by the bytes it is sent, to where it then stands."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from switchmatrix.compile.device import DeviceTransition, device_transition
from switchmatrix.compile.known import UNKNOWN as NOT_KNOWN
from switchmatrix.compile.known import DeviceKnown
from switchmatrix.compile.known import Standing as Claimed
from switchmatrix.compile.step import Step
from switchmatrix.compile.transition import Steps
from switchmatrix.definition.carriers import Cc14Carrier, ParameterCarrier
from switchmatrix.definition.programs import BankSelect
from switchmatrix.midi.numbers import Address
from switchmatrix.model.rig import Device
from switchmatrix.simulate.box import Box
from switchmatrix.simulate.receiver import Deed, Receiver, receiver
from switchmatrix.simulate.standing import UNKNOWN, AsStored, DeviceNow, Halves, Standing
from switchmatrix.simulate.stream import Event, heard
from switchmatrix.states.state import DeviceState, StoredIn, Want

Wire = Callable[[Device, tuple[bytes, ...]], tuple[bytes, ...]]
"""What becomes of a device's messages on their way; tests break it."""


def untouched(device: Device, sent: tuple[bytes, ...]) -> tuple[bytes, ...]:  # noqa: ARG001
    """The messages arrive as they were sent."""
    return sent


class Bench:
    """A device with a receiver for each kind of box that it may be, and all that it was ever sent."""

    def __init__(self, device: Device, wire: Wire = untouched) -> None:
        self.device, self.wire, self.steps = device, wire, Steps()
        self.receivers = _kinds(device)
        self.events: dict[bytes, tuple[Event, ...]] = {}
        self.deeds: tuple[dict[bytes, tuple[Deed, ...]], ...] = tuple({} for _ in self.receivers)
        self.places: dict[Address, AsStored] = {}

    def sent(self, known: DeviceKnown, state: DeviceState) -> tuple[bytes, ...]:
        """The messages that bring the device from what is known of it to the state, as they arrive."""
        steps = self.move(state, device_transition(known, state))
        return self.on_wire([step.data for step in steps])

    def move(self, state: DeviceState, move: DeviceTransition) -> list[Step]:
        """A device's transition as its messages."""
        steps = self.steps.sends(state, move.prepare)
        if move.recall is not None:
            steps += self.steps.recall(state, move.recall)
        return steps + self.steps.sends(state, move.sends)

    def on_wire(self, data: Iterable[bytes]) -> tuple[bytes, ...]:
        """The messages as they arrive."""
        return self.wire(self.device, tuple(data))

    def hear(self, kind: int, now: DeviceNow, data: Iterable[bytes]) -> DeviceNow:
        """Where the receiver of that number stands when it has heard the messages."""
        one, known = self.receivers[kind], self.deeds[kind]
        deeds: list[Deed] = []
        for message in data:
            found = known.get(message)
            if found is None:
                found = known[message] = one.deeds(self.heard(message))
            deeds += found
        return one.run(now, deeds)

    def heard(self, message: bytes) -> tuple[Event, ...]:
        """A message as its events."""
        found = self.events.get(message)
        if found is None:
            found = self.events[message] = heard(message)
        return found

    def touches(self, message: bytes) -> frozenset[str]:
        """All that a message can move or note, wherever the device stands: controls, the patch, registers."""
        found: set[str] = set()
        for one in self.receivers:
            start = one.unit.start()
            now, told = one.told(start, self.heard(message))
            found.update(name for event in told for name in event.moved)
            for what, before, after in (
                ("register", start.registers, now.registers),
                ("half", start.pending, now.pending),
            ):
                found |= {f"{what} {n}" for n, value in enumerate(after) if value != before[n]}
        return frozenset(found)

    def start(self, one: Receiver, known: DeviceKnown) -> DeviceNow:
        """The device, standing where it is known to stand and anywhere else."""
        return one.unit.start(
            patch=UNKNOWN if known.patch is NOT_KNOWN else known.patch,
            bank=UNKNOWN if known.bank is NOT_KNOWN else known.bank,
            controls=[self.standing(claimed) for claimed in known.controls],
        )

    def standing(self, claimed: Claimed) -> Standing:
        """What the compiler knows of a control, as the simulator says it."""
        if isinstance(claimed, int):
            return claimed
        return self.stored(claimed.address) if isinstance(claimed, StoredIn) else UNKNOWN

    def wanted(self, want: Want) -> Standing | None:
        """What a scene wants of a control, as the simulator says it; None for nothing."""
        if want is None or isinstance(want, int):
            return want
        return self.stored(want.address)

    def stored(self, address: Address) -> AsStored:
        """As the patch at that address stores it."""
        found = self.places.get(address)
        if found is None:
            place = self.receivers[0].unit.place(address)
            found = self.places[address] = AsStored(address if place is None else place)
        return found


def _kinds(device: Device) -> tuple[Receiver, ...]:
    """A receiver for each kind of box that hears a device's messages differently."""
    programs = device.definition.programs
    wide = programs is not None and programs.bank is BankSelect.BOTH
    for control in device.definition.controls:
        match control.carrier:
            case Cc14Carrier() | ParameterCarrier(bits=14):
                wide = True
            case _:
                pass
    found: list[Receiver] = []
    for halves in Halves if wide else (Halves.ZEROED,):
        one = receiver(device, halves)
        found += [one, *_one_bank(one)]
    return tuple(found)


def _one_bank(one: Receiver) -> Iterator[Receiver]:
    """The same box, if it had one bank for all the channels that it is called on, where it has several.

    Some have and some keep a bank for each (common practice).
    """
    selects = {
        key: [act for act in acts if act[0] is Box.bank_half]
        for key, acts in one.table.items()
        if any(act[0] is Box.bank_half for act in acts)
    }
    rows = dict.fromkeys(row for acts in selects.values() for _, row, _ in acts)
    if len(rows) < 2:
        return
    everywhere = {
        key: (
            *(act for act in one.table[key] if act not in acts),
            *((Box.bank_half, row, register) for _, _, register in acts for row in rows),
        )
        for key, acts in selects.items()
    }
    yield replace(one, table=one.table | everywhere)


def aligned(sent: tuple[bytes, ...], arrived: tuple[bytes, ...]) -> Iterator[tuple[bytes, ...]]:
    """What arrived in the place of each message: between what is the same at both ends, all in one place."""
    if len(sent) == len(arrived):
        yield from ((message,) for message in arrived)
        return
    first = _common(sent, arrived)
    last = min(_common(sent[::-1], arrived[::-1]), min(len(sent), len(arrived)) - first)
    middle = arrived[first : len(arrived) - last]
    pieces: list[tuple[bytes, ...]] = [(message,) for message in arrived[:first]]
    pieces += [middle, *[()] * (len(sent) - first - last - 1)] if len(sent) > first + last else []
    pieces += [(message,) for message in arrived[len(arrived) - last :]]
    if len(sent) == first + last and pieces:
        at = max(first - 1, 0)
        pieces[at] = (*pieces[at], *middle) if first else (*middle, *pieces[at])
    yield from pieces


def _common(one: tuple[bytes, ...], other: tuple[bytes, ...]) -> int:
    """How many messages are the same from the start."""
    pairs = enumerate(zip(one, other, strict=False))
    return next((n for n, pair in pairs if pair[0] != pair[1]), min(len(one), len(other)))
