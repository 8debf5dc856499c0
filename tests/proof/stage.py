"""Boxes as they may really stand on a stage: every control at some code, every patch with some memory.

They hear whole messages and act on them at once. Nothing is shared with the compiler or the simulator
but the records of the rig; where the simulator says "unknown", a box here has a value drawn by chance.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from random import Random

from switchmatrix.compile.known import DeviceKnown
from switchmatrix.definition.carriers import (
    Cc14Carrier,
    CcCarrier,
    NoteCarrier,
    ParameterCarrier,
    PitchBendCarrier,
    PressureCarrier,
    ProgramCarrier,
    Slot,
    SysexCarrier,
    most_code,
)
from switchmatrix.definition.controls import Control, Named
from switchmatrix.definition.programs import BankSelect, Programs, Repeat
from switchmatrix.midi.numbers import Address
from switchmatrix.model.rig import Device
from switchmatrix.states.state import DeviceState, PatchIn, StoredIn

BANK, REGISTERED, NOT_REGISTERED = "bank", "RPN", "NRPN"
HALVES = {0: (BANK, 0), 32: (BANK, 1), 101: (REGISTERED, 0), 100: (REGISTERED, 1)}
HALVES |= {99: (NOT_REGISTERED, 0), 98: (NOT_REGISTERED, 1)}
"""Controllers of numbers in two halves (MIDI Association, Control Change Messages, Table 3)."""


def codes_of(control: Control) -> list[int]:
    """Codes that a control may stand at."""
    if control.toggle is not None:
        return [0, 1]
    if isinstance(control.scale, Named):
        return [codes.sent for _, codes in control.scale.words]
    return [0, 1, 77, 127, 128, 200, 16383] if most_code(control.carrier) > 127 else [0, 1, 64, 77, 127]


def place_of(programs: Programs, at: Address) -> int:
    """The position that an address calls."""
    size = 1 if at.bank is None else programs.bank_size
    asked = (at.bank or 0) * size + at.program
    return dict(programs.remap).get(asked, asked)


@dataclass(slots=True)
class Box:
    """A device as it stands. `memory` is what it stores under each position; `reloads` what a reset loads.

    `kept` where an upper half leaves the lower one; `also` where a repeat that flips also recalls;
    `shared` where all its channels have one bank.
    """

    device: Device
    codes: list[int]
    at: int
    memory: dict[int, dict[int, int]]
    reloads: list[int]
    kept: bool
    also: bool
    shared: bool
    numbers: dict[tuple[int, str], list[int]]
    rng: Random
    last: dict[int, str] = field(default_factory=dict)
    fired: list[tuple[int, int]] = field(default_factory=list)

    def hear(self, message: bytes) -> None:
        """A whole message."""
        kind, channel, data = message[0] >> 4, message[0] & 15, message[1:]
        if kind == 0xF:
            self._exclusive(message[1:-1])
            return
        programs = self.device.definition.programs
        for n, control in enumerate(self.device.definition.controls):
            if self._listens(control.channel, channel):
                self._hear(n, control, kind, channel, data)
        row = 0 if self.device.omni else channel
        if kind == 0xB and data[0] in HALVES:
            what, half = HALVES[data[0]]
            place = 0 if self.shared and what == BANK else row
            number = self.numbers.setdefault((place, what), [0, 0])
            number[half] = data[1]
            if what == BANK and half == 0 and not self.kept:
                number[1] = 0
            self.last[row] = what if what != BANK else self.last.get(row, REGISTERED)
        if kind == 0xC and programs is not None and self._listens(programs.channel, channel):
            self._program(programs, row, data[0])

    def _listens(self, name: str, channel: int) -> bool:
        return self.device.omni or self.device.channel_of(name) - 1 == channel

    def _hear(self, n: int, control: Control, kind: int, channel: int, data: bytes) -> None:
        row = 0 if self.device.omni else channel
        match control.carrier:
            case CcCarrier(number) if kind == 0xB and data[0] == number:
                self.take(n, data[1])
            case Cc14Carrier(msb, lsb) if kind == 0xB and data[0] in (msb, lsb):
                self._half(n, data[0] == msb, data[1])
            case NoteCarrier(number) if kind == 9 and data[0] == number and data[1]:
                self.take(n, data[1])
            case PitchBendCarrier() if kind == 0xE:
                self.take(n, data[0] + 128 * data[1])
            case PressureCarrier() if kind == 0xD:
                self.take(n, data[0])
            case ProgramCarrier(bank) if kind == 0xC and data[0] in codes_of(control):
                if bank is None or bank == self.bank(row):
                    self.take(n, data[0])
            case ParameterCarrier(registered, msb, lsb, bits) if kind == 0xB and data[0] in (6, 38):
                what = REGISTERED if registered else NOT_REGISTERED
                if self.last.get(row) == what and self.numbers.get((row, what)) == [msb, lsb]:
                    if bits == 14:
                        self._half(n, data[0] == 6, data[1])
                    elif data[0] == 6:
                        self.take(n, data[1])
            case _:
                pass
        if kind == 0xB and data[0] in control.also:
            self.codes[n] = codes_of(control)[-1]

    def _half(self, n: int, upper: bool, value: int) -> None:
        lower = self.codes[n] % 128 if self.kept else 0
        self.take(n, value * 128 + lower if upper else self.codes[n] // 128 * 128 + value)

    def take(self, n: int, code: int) -> None:
        """The control gets a code: a press flips it, a trigger goes off."""
        control = self.device.definition.controls[n]
        if control.kind == "trigger":
            self.fired.append((n, code))
            return
        if control.toggle is not None:
            self.codes[n] = 1 - self.codes[n] if code == control.toggle.press else self.codes[n]
        else:
            self.codes[n] = code
        for below in self.device.definition.order.reloads[n]:
            self.take(below, self.reloads[below])

    def bank(self, row: int) -> int:
        """The bank as the device reads it."""
        programs = self.device.definition.programs
        upper, lower = self.numbers.get((0 if self.shared else row, BANK), [0, 0])
        if programs is None or programs.bank is None:
            return 0
        return {BankSelect.MSB: upper, BankSelect.LSB: lower, BankSelect.BOTH: upper * 128 + lower}[
            programs.bank
        ]

    def _program(self, programs: Programs, row: int, number: int) -> None:
        for control in self.device.definition.controls:
            own = isinstance(control.carrier, ProgramCarrier) and control.carrier.bank in (
                None,
                self.bank(row),
            )
            if own and number in codes_of(control) and self._same_channel(control, programs):
                return
        size = 128 if programs.bank is None else programs.bank_size
        asked = self.bank(row) * size + number
        if number < size and asked < programs.count:
            self._recall(programs, dict(programs.remap).get(asked, asked))

    def _same_channel(self, control: Control, programs: Programs) -> bool:
        one, other = self.device.channel_of(control.channel), self.device.channel_of(programs.channel)
        return self.device.omni or one == other

    def _recall(self, programs: Programs, at: int) -> None:
        repeat, self.at = self.at == at, at
        if repeat and programs.repeat is Repeat.NOTHING:
            return
        for n, control in enumerate(self.device.definition.controls):
            if repeat and control.name == programs.toggled:
                self.codes[n] = next(code for code in codes_of(control) if code != self.codes[n])
            elif control.stored and (not repeat or self.also or programs.repeat is Repeat.RECALLS):
                self.codes[n] = self.stored(at)[n]

    def stored(self, at: int) -> dict[int, int]:
        """What the patch at a position stores; of one that nobody listed, anything."""
        if at not in self.memory:
            controls = enumerate(self.device.definition.controls)
            self.memory[at] = {n: self.rng.choice(codes_of(c)) for n, c in controls if c.stored}
        return self.memory[at]

    def _exclusive(self, body: bytes) -> None:
        for n, control in enumerate(self.device.definition.controls):
            carrier = control.carrier
            if isinstance(carrier, SysexCarrier) and len(body) == len(carrier.body):
                pairs = list(zip(carrier.body, body, strict=True))
                fixed = all(isinstance(part, Slot) or part == byte for part, byte in pairs)
                found = {part: byte for part, byte in pairs if isinstance(part, Slot)}
                if fixed and found.get(Slot.ID, self.device.id) in (self.device.id, 127):
                    self._value(n, carrier, found, body)

    def _value(self, n: int, carrier: SysexCarrier, found: dict[Slot, int], body: bytes) -> None:
        if carrier.summed is not None:
            first, last = carrier.summed
            if (sum(body[first : last + 1]) + found[Slot.CHECKSUM]) % 128:
                return
        value, sign = found.get(Slot.VALUE, 0), 64
        if carrier.wide:
            value, sign = 128 * found[Slot.VALUE_MSB] + found[Slot.VALUE_LSB], 8192
        self.take(n, value ^ sign if carrier.signed else value)


def found_box(device: Device, known: DeviceKnown, rng: Random) -> Box:
    """The device, standing where it is known to stand, and by chance where it is not."""
    definition, programs = device.definition, device.definition.programs
    any_codes = [[rng.choice(codes_of(c)) for c in definition.controls] for _ in range(2)]
    places = [place_of(programs, p.address) for p in device.patches] if programs is not None else [0]
    memory: dict[int, dict[int, int]] = {}
    for patch in device.patches:
        here = memory.setdefault(place_of(programs, patch.address) if programs is not None else 0, {})
        for n, control in enumerate(definition.controls):
            said = patch.stored(control.name)
            if control.stored:
                here[n] = here.get(n, rng.choice(codes_of(control))) if said is None else said.code
    at = rng.choice([*places, 0])
    if programs is not None and isinstance(known.patch, tuple):
        at = place_of(programs, known.patch)
    codes = any_codes[0]
    for n, stands in enumerate(known.controls):
        if isinstance(stands, int):
            codes[n] = stands
        elif programs is not None and isinstance(stands, StoredIn):
            codes[n] = memory[place_of(programs, stands.address)][n]
    shared = rng.random() < 0.5
    rows = [0] if device.omni else [device.channel_of(name) - 1 for name in definition.channels]
    numbers = {(row, BANK): [rng.choice((0, 1, 2, 5)), rng.choice((0, 1, 2, 5))] for row in {0, *rows}}
    for row in rows:
        numbers |= {(row, what): [rng.choice((0, 1)), rng.choice((0, 8, 9))] for what in ("RPN", "NRPN")}
    if programs is not None and programs.bank is not None and isinstance(known.bank, int):
        row = 0 if device.omni else device.channel_of(programs.channel) - 1
        halves = {BankSelect.MSB: (known.bank, 3), BankSelect.LSB: (3, known.bank)}
        numbers[0 if shared else row, BANK] = list(halves.get(programs.bank, divmod(known.bank, 128)))
    kept, also = rng.random() < 0.5, rng.random() < 0.5
    last = {row: rng.choice(("RPN", "NRPN")) for row in rows}
    return Box(device, codes, at, memory, any_codes[1], kept, also, shared, numbers, rng, last)


def outcome(box: Box, state: DeviceState, counts_on_bank: bool) -> dict[str, object]:
    """All that a scene wants of the box, as it stands: the patch, the controls, the bank counted on."""
    definition, programs = box.device.definition, box.device.definition.programs
    stands: dict[str, object] = {
        control.name: box.codes[n]
        for n, control in enumerate(definition.controls)
        if state.wants[n] is not None
    }
    if programs is not None and isinstance(state.patch, PatchIn):
        stands["patch"] = box.at
        if counts_on_bank:
            stands["bank"] = box.bank(0 if box.device.omni else box.device.channel_of(programs.channel) - 1)
    return stands


def wanted(box: Box, state: DeviceState, bank: int | None) -> dict[str, object]:
    """The same as the scene wants it of this box, with its memory."""
    programs = box.device.definition.programs
    wants: dict[str, object] = {}
    for n, control in enumerate(box.device.definition.controls):
        want = state.wants[n]
        if isinstance(want, StoredIn) and programs is not None:
            wants[control.name] = box.stored(place_of(programs, want.address))[n]
        elif want is not None:
            wants[control.name] = want
    if programs is not None and isinstance(state.patch, PatchIn):
        wants["patch"] = place_of(programs, state.patch.patch.address)
        if bank is not None:
            wants["bank"] = bank
    return wants


def lands(
    known: DeviceKnown, state: DeviceState, bank: int | None, data: Iterable[bytes], seeds: range = range(24)
) -> bool:
    """Whether every box that may stand there comes to the scene's state by the messages."""
    messages = tuple(data)
    for seed in seeds:
        box = found_box(state.device, known, Random(seed))
        want = wanted(box, state, bank)
        for message in messages:
            box.hear(message)
        if outcome(box, state, bank is not None) != want or box.fired:
            return False
    return True
