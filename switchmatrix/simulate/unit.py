"""One device of a rig, made ready to listen: its channels, its controls, what its patches store."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from switchmatrix.definition.carriers import ParameterCarrier, ProgramCarrier
from switchmatrix.definition.controls import TRIGGER, Control, Linear
from switchmatrix.definition.definition import Definition
from switchmatrix.definition.programs import BankSelect
from switchmatrix.midi.numbers import Address, WireBank, WireProgram
from switchmatrix.model.rig import Device
from switchmatrix.simulate.part import Part, parts_of
from switchmatrix.simulate.registers import BANK_LOWER, BANK_UPPER, NOT_KNOWN, WIDTH, bank_halves, bank_of
from switchmatrix.simulate.standing import UNKNOWN, AsStored, DeviceNow, Halves, Standing, Unknown

Number = tuple[bool, int, int]
"""A parameter's number: whether it is registered, and its two halves."""


@dataclass(frozen=True, slots=True, eq=False)
class Unit:
    """A device as its definition has it.

    `rows` are the channels (0-15) that it listens on, one for all on an omni device. `parameters` and
    `carried` (program to controls with their banks) are by row. `stored` and `toggled` are controls by
    index. A gang is one unit. Compared by identity.
    """

    device: Device
    halves: Halves
    parts: tuple[Part, ...]
    rows: tuple[int, ...]
    parameters: tuple[tuple[tuple[Number, int], ...], ...]
    carried: tuple[dict[int, tuple[tuple[int, WireBank | None], ...]], ...]
    stored: tuple[int, ...]
    toggled: int | None
    _memory: dict[Address, tuple[tuple[int, Standing], ...]] = field(default_factory=dict, repr=False)

    @property
    def definition(self) -> Definition:
        """Its definition."""
        return self.device.definition

    @property
    def scheme(self) -> BankSelect | None:
        """Its bank select."""
        return None if self.definition.programs is None else self.definition.programs.bank

    def row(self, channel_name: str) -> int:
        """The row of a channel of the definition."""
        return 0 if self.device.omni else self.rows.index(self.device.channel_of(channel_name) - 1)

    def called(self, bank: int | None, program: int) -> Address | None:
        """The place that a program change calls, through the remap; None where the device has none."""
        programs = self.definition.programs
        if programs is None:
            return None
        size = 128 if bank is None else programs.bank_size
        at = (bank or 0) * size + program
        if program >= size or at >= programs.count:
            return None
        upper, lower = divmod(dict(programs.remap).get(at, at), size)
        return Address(None if bank is None else WireBank(upper), WireProgram(lower))

    def place(self, sent: Address) -> Address | None:
        """The place that an address calls: two addresses of one place are one patch."""
        return self.called(sent.bank, sent.program)

    def memory(self, place: Address) -> tuple[tuple[int, Standing], ...]:
        """What the patch at a place stores: codes where the rig says so, else as it is stored there."""
        found = self._memory.get(place)
        if found is None:
            said = {
                name: stored.code
                for patch in self.device.patches
                if self.place(patch.address) == place
                for name, stored in patch.stores
            }
            found = tuple((n, said.get(self._name(n), AsStored(place))) for n in self.stored)
            self._memory[place] = found
        return found

    def _name(self, n: int) -> str:
        return self.parts[n].control.name

    def bank(self, now: DeviceNow) -> int | Unknown | None:
        """The bank in which the next program of the channel that calls patches is looked up."""
        programs = self.definition.programs
        if programs is None:
            return None
        number = bank_of(self.row(programs.channel), now.registers, programs.bank)
        return UNKNOWN if number == NOT_KNOWN else number

    def start(
        self,
        patch: Address | Unknown = UNKNOWN,
        bank: int | Unknown | None = UNKNOWN,
        controls: Sequence[Standing] | None = None,
    ) -> DeviceNow:
        """The device as it may be found.

        `patch` is an address on the wire; `bank` is where the next program is looked up on the channel
        that calls patches: each channel has its own.
        """
        registers = [NOT_KNOWN] * (WIDTH * len(self.rows))
        programs = self.definition.programs
        if programs is not None and programs.bank is not None and isinstance(bank, int):
            at = self.row(programs.channel) * WIDTH
            registers[at + BANK_UPPER], registers[at + BANK_LOWER] = bank_halves(bank, programs.bank)
        here = UNKNOWN if isinstance(patch, Unknown) else self.place(patch)
        return DeviceNow(
            patch=None if self.definition.programs is None else UNKNOWN if here is None else here,
            controls=tuple(controls) if controls is not None else (UNKNOWN,) * len(self.parts),
            registers=tuple(registers),
            pending=(NOT_KNOWN,) * sum(part.pending is not None for part in self.parts),
            edited=0,
            fired=(),
        )


def unit(device: Device, halves: Halves) -> Unit:
    """The device, ready to listen."""
    definition = device.definition
    named = dict.fromkeys(device.channel_of(name) - 1 for name in definition.channels)
    rows = (0,) if device.omni or not named else tuple(named)
    parameters: list[list[tuple[Number, int]]] = [[] for _ in rows]
    carried: list[dict[int, list[tuple[int, WireBank | None]]]] = [{} for _ in rows]
    for n, control in enumerate(definition.controls):
        row = 0 if device.omni else rows.index(device.channel_of(control.channel) - 1)
        match control.carrier:
            case ParameterCarrier(registered, msb, lsb):
                parameters[row].append(((registered, msb, lsb), n))
            case ProgramCarrier(bank):
                for program in _programs(control):
                    carried[row].setdefault(program, []).append((n, bank))
            case _:
                pass
    programs = definition.programs
    toggled = None if programs is None else programs.toggled
    return Unit(
        device=device,
        halves=halves,
        parts=parts_of(definition),
        rows=rows,
        parameters=tuple(tuple(row) for row in parameters),
        carried=tuple({program: tuple(owners) for program, owners in row.items()} for row in carried),
        stored=tuple(n for n, c in enumerate(definition.controls) if c.stored and c.kind != TRIGGER),
        toggled=next((n for n, c in enumerate(definition.controls) if c.name == toggled), None),
    )


def _programs(control: Control) -> Iterable[int]:
    """The programs that are a control's own."""
    if control.toggle is not None:
        return {n for n in (control.toggle.press, control.toggle.release) if n is not None}
    if isinstance(control.scale, Linear):
        codes = [code for code, _ in control.scale.points]
        return range(min(codes), max(codes) + 1)
    return {n for _, codes in control.scale.words for n in range(codes.low, codes.high + 1)}
