"""A device while it hears: parameter numbers and their data, bank select, programs."""

from __future__ import annotations

from switchmatrix.definition.carriers import ParameterCarrier
from switchmatrix.definition.programs import Repeat
from switchmatrix.midi.numbers import Address
from switchmatrix.simulate.controls_now import ControlsNow
from switchmatrix.simulate.part import Part, Role, is_wide
from switchmatrix.simulate.registers import (
    BANK_LOWER,
    BANK_UPPER,
    INCREMENT,
    KIND,
    NOT_KNOWN,
    NOT_REGISTERED,
    NRPN_LOWER,
    NRPN_UPPER,
    NULL,
    REGISTERED,
    RPN_LOWER,
    RPN_UPPER,
    WIDTH,
    bank_of,
)
from switchmatrix.simulate.standing import UNKNOWN, Halves, Moved, Standing

PATCH_MOVED = -1
"""Among the indices of what moved: the patch."""


class Box(ControlsNow):
    """The controls, and what waits on each channel for a program or for data."""

    __slots__ = ()

    def bank_half(self, row: int, register: int, value: int) -> None:
        """Bank select: it waits for a program change (MIDI 1.0 Detailed Specification 4.2.1, p. 13)."""
        self.registers[row * WIDTH + register] = value
        if register == BANK_UPPER and self.unit.halves is Halves.ZEROED:
            self.registers[row * WIDTH + BANK_LOWER] = 0
        self.noted = True

    def number_half(self, row: int, register: int, value: int) -> None:
        """Half of a parameter's number: whichever of RPN and NRPN came last is the one addressed."""
        kind = REGISTERED if register in (RPN_UPPER, RPN_LOWER) else NOT_REGISTERED
        self.registers[row * WIDTH + register] = value
        self.registers[row * WIDTH + KIND] = kind
        self.noted = True

    def address_nothing(self, row: int, _: int, value: int) -> None:  # noqa: ARG002
        """Reset All Controllers leaves the null parameter addressed (MMA RP-015)."""
        self.number_half(row, RPN_UPPER, NULL)
        self.number_half(row, RPN_LOWER, NULL)

    def addressed(self, row: int) -> tuple[list[int], bool]:
        """The parameters that data goes to, and whether it is sure that it does."""
        start = row * WIDTH
        kind = self.registers[start + KIND]
        numbers = {
            REGISTERED: (self.registers[start + RPN_UPPER], self.registers[start + RPN_LOWER]),
            NOT_REGISTERED: (self.registers[start + NRPN_UPPER], self.registers[start + NRPN_LOWER]),
        }
        kinds = tuple(numbers) if kind == NOT_KNOWN else (kind,)
        sure = kind != NOT_KNOWN and NOT_KNOWN not in numbers[kind]
        return [
            n
            for (registered, upper, lower), n in self.unit.parameters[row]
            if registered in kinds
            and numbers[registered][0] in (NOT_KNOWN, upper)
            and numbers[registered][1] in (NOT_KNOWN, lower)
        ], sure

    def data_upper(self, row: int, _: int, value: int) -> None:
        """Data entry, upper half: all of a parameter of seven bits."""
        controls, sure = self.addressed(row)
        for n in controls:
            if not sure:
                self.lose(n)
            elif is_wide(self.parts[n].control):
                self.upper(n, 0, value)
            else:
                self.take(n, 0, value)

    def data_lower(self, row: int, _: int, value: int) -> None:
        """Data entry, lower half: a parameter of seven bits has none."""
        controls, sure = self.addressed(row)
        for n in controls:
            if not is_wide(self.parts[n].control):
                continue
            if sure:
                self.lower(n, 0, value)
            else:
                self.lose(n)

    def step(self, row: int, cc: int, value: int) -> None:  # noqa: ARG002
        """Increment or decrement, whatever the value (MMA RP-018)."""
        controls, sure = self.addressed(row)
        for n in controls:
            part, stands = self.parts[n], self.controls[n]
            if not sure or part.role is not Role.STANDS:
                self.lose(n)
            elif isinstance(stands, int):
                self.put(n, _stepped(part, stands, cc))
            else:
                self.put(n, Moved(cc))

    def program(self, row: int, calls: int, value: int) -> None:
        """A program change: a control's own, or else a patch where the row `calls` them."""
        number = bank_of(row, self.registers, self.unit.scheme)
        carried = self.unit.carried[row].get(value, ())
        if number == NOT_KNOWN:
            for n, _ in carried:
                self.lose(n)
            if calls:
                self._recall_some()
            return
        own = [n for n, lies in carried if lies == number]
        for n in own:
            self.take(n, 0, value)
        place = self.unit.called(number, value) if calls and not own else None
        if place is not None:
            self._recall(place)

    def _recall(self, place: Address) -> None:
        """A patch is called. A repeat that flips a switch may load the patch besides, or not."""
        programs = self.unit.definition.programs
        repeat = Repeat.RECALLS if programs is None else programs.repeat
        before, self.patch = self.patch, place
        if repeat is Repeat.NOTHING and before == place:
            return
        self.moved.append(PATCH_MOVED)
        loaded = self.unit.memory(place)
        if repeat is Repeat.RECALLS or before not in (UNKNOWN, place):
            for n, standing in loaded:
                self._load(n, standing)
            return
        flips = self.unit.toggled if repeat is Repeat.TOGGLES else None
        for n, standing in loaded:
            self._load(n, standing if self.controls[n] == standing and n != flips else UNKNOWN)
        if flips is not None and flips not in self.unit.stored:
            part = self.parts[flips]
            self._load(flips, UNKNOWN if before is UNKNOWN else part.flipped(self.controls[flips]))

    def _recall_some(self) -> None:
        """A patch is called, and nobody knows which."""
        self.patch = UNKNOWN
        self.moved.append(PATCH_MOVED)
        for n in self.unit.stored:
            self._load(n, UNKNOWN)
        if self.unit.toggled is not None:
            self._load(self.unit.toggled, UNKNOWN)

    def _load(self, n: int, standing: Standing) -> None:
        self.controls[n] = standing
        self.moved.append(n)
        self.edited &= ~(1 << n)

    def forget(self, row: int, _: int, value: int) -> None:  # noqa: ARG002
        """System reset: the box is as it comes when it is switched on, and nobody has said how that is."""
        start = self.unit.start()
        self.patch, self.controls = start.patch, list(start.controls)
        self.registers, self.pending = list(start.registers), list(start.pending)
        self.moved += range(PATCH_MOVED if start.patch is not None else 0, len(self.controls))


_STEPS_UPPER = ((0, 2), (0, 3), (0, 4))
"""RPN that step by their upper half (MMA RP-018)."""


def _stepped(part: Part, stands: int, cc: int) -> int:
    wide, size = is_wide(part.control), 1
    match part.control.carrier:
        case ParameterCarrier(registered=True, msb=msb, lsb=lsb, bits=14) if (msb, lsb) in _STEPS_UPPER:
            size = 128
        case _:
            pass
    return min(max(stands + (size if cc == INCREMENT else -size), 0), 16383 if wide else 127)
