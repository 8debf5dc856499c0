"""Carriers: how a control's code travels."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from switchmatrix.midi.numbers import WireBank


@dataclass(frozen=True, slots=True)
class CcCarrier:
    """The code is the value of control change `number`."""

    number: int


@dataclass(frozen=True, slots=True)
class Cc14Carrier:
    """The code's upper seven bits are the value of control change `msb`, its lower ones that of `lsb`."""

    msb: int
    lsb: int


@dataclass(frozen=True, slots=True)
class ParameterCarrier:
    """The code is the data of a registered (RPN) or non-registered (NRPN) parameter.

    `bits` is 7 (CC 6 alone) or 14 (CC 6 and CC 38); `close` where the null parameter follows.
    """

    registered: bool
    msb: int
    lsb: int
    bits: int
    close: bool


@dataclass(frozen=True, slots=True)
class ProgramCarrier:
    """The code is the program of a program change; `bank` is its bank, on a device with banks."""

    bank: WireBank | None


@dataclass(frozen=True, slots=True)
class NoteCarrier:
    """The code is the velocity, 1-127, of key `number`; `release` where a Note Off follows at once."""

    number: int
    release: bool


@dataclass(frozen=True, slots=True)
class PitchBendCarrier:
    """The code is where the bender stands, 0-16383."""


@dataclass(frozen=True, slots=True)
class PressureCarrier:
    """The code is the channel's pressure."""


class Slot(Enum):
    """A byte of a system exclusive template that is not the same every time."""

    ID = "id"
    VALUE = "value"
    VALUE_MSB = "value-msb"
    VALUE_LSB = "value-lsb"
    CHECKSUM = "checksum"


@dataclass(frozen=True, slots=True)
class SysexCarrier:
    """The code stands in the body of system exclusive, the bytes between F0 and F7.

    One slot VALUE, or VALUE_MSB and VALUE_LSB in either order, or none (a trigger). `signed` where the
    value travels as two's complement; `summed` are the body's bytes (from 0, the last one included)
    that the CHECKSUM slot makes zero in seven bits.
    """

    body: tuple[int | Slot, ...]
    signed: bool
    summed: tuple[int, int] | None

    @property
    def wide(self) -> bool:
        """Whether the value takes two bytes."""
        return Slot.VALUE_MSB in self.body


Carrier = (
    CcCarrier
    | Cc14Carrier
    | ParameterCarrier
    | ProgramCarrier
    | NoteCarrier
    | PitchBendCarrier
    | PressureCarrier
    | SysexCarrier
)


def least_code(carrier: Carrier) -> int:
    """The smallest code that the carrier holds: a velocity of 0 would let the key go."""
    return 1 if isinstance(carrier, NoteCarrier) else 0


def most_code(carrier: Carrier) -> int:
    """The largest code that the carrier holds."""
    match carrier:
        case Cc14Carrier() | PitchBendCarrier() | ParameterCarrier(bits=14) | SysexCarrier(wide=True):
            return 16383
        case _:
            return 127
