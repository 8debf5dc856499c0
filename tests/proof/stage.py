"""Boxes as they may really stand on a stage: every control at some code, every patch with some memory.

They hear whole messages and act on them at once. Nothing is shared with the compiler or the simulator
but the records of the rig; where the simulator says "unknown", a box here has a value drawn by chance.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

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
