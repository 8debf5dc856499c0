"""Controls at work: read what a person says, find its code, decode it, and make its messages."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from switchmatrix.controls import (
    bend,
    cc,
    cc14,
    note,
    numbers,
    parameter,
    pressure,
    program,
    sysex,
    times,
    words,
)
from switchmatrix.definition.carriers import (
    Cc14Carrier,
    CcCarrier,
    NoteCarrier,
    ParameterCarrier,
    PitchBendCarrier,
    PressureCarrier,
    ProgramCarrier,
    SysexCarrier,
)
from switchmatrix.definition.controls import TIME, Control, Named
from switchmatrix.definition.programs import BankSelect
from switchmatrix.definition.values import MINUS_INFINITY, Misread, NoteValue, Quantity, Value, Word
from switchmatrix.midi.messages import Message
from switchmatrix.midi.numbers import Address, WireChannel, WireProgram


def read(control: Control, text: str) -> Value | Misread:
    """What `text` says to the control, in range; a note value's range shows only at its tempo."""
    if isinstance(control.scale, Named):
        return words.read(control.scale, text)
    if control.kind == TIME:
        value = times.read(text, numbers.parse(text))
    else:
        value = numbers.read(control.scale, text)
    if isinstance(value, Misread | NoteValue):
        return value
    return outside(control, value) or value


def outside(control: Control, value: Value) -> Misread | None:
    """Why the control cannot hold the value, if it cannot; not for a note value."""
    if isinstance(control.scale, Named):
        reading = words.read(control.scale, str(value))
        return reading if isinstance(reading, Misread) else None
    if not isinstance(value, Quantity):
        return Misread(f"`{value}` is no value here", "write a number with its unit")
    held = in_scale(control, value)
    if held is None:
        return Misread(f"`{value}` is no rate", "write a time longer than 0 ms", out_of_range=True)
    if held.unit != control.scale.unit:
        return Misread(
            f"`{value}` is in {value.unit or 'no unit'}", f"this control is set in {control.scale.unit}"
        )
    misread = numbers.outside(control.scale, held)
    if misread is not None and held.unit != value.unit:
        return Misread(f"`{value}` ({held}) is out of range", misread.help, out_of_range=True)
    return misread


def in_scale(control: Control, value: Quantity) -> Quantity | None:
    """The quantity in the unit of the control's scale; None for a rate of 0 ms."""
    if control.kind == TIME and not isinstance(control.scale, Named):
        return times.in_unit(value, control.scale.unit)
    return value


def at_tempo(value: NoteValue, quarter_ms: Fraction) -> Quantity:
    """The note value's length where a quarter note lasts `quarter_ms` milliseconds."""
    return times.at_tempo(value, quarter_ms)


def encode(control: Control, value: Value) -> int:
    """The nearest code for a value in range; ValueError or KeyError for one that `outside` refuses."""
    if isinstance(control.scale, Named):
        return words.encode(control.scale, Word(str(value)))
    held = in_scale(control, value) if isinstance(value, Quantity) else None
    if held is None:
        raise ValueError(f"{value} has no code")
    return numbers.encode(control.scale, held)


def decode(control: Control, code: int) -> Value | None:
    """What the device does with the code; None for a code that means nothing to it."""
    if isinstance(control.scale, Named):
        return words.decode(control.scale, code)
    return numbers.decode(control.scale, code)


def missed(control: Control, asked: Value, code: int) -> Fraction:
    """How far the code misses the value asked: a part of the value (levels: of the range)."""
    if isinstance(control.scale, Named) or not isinstance(asked, Quantity):
        return Fraction(0)
    gets = numbers.decode(control.scale, code)
    held = in_scale(control, asked)
    if gets is None or held is None or MINUS_INFINITY in (gets.number, held.number):
        return Fraction(0)
    base = Fraction(held.number) if control.kind == TIME else control.scale.width
    miss = abs(Fraction(gets.number) - Fraction(held.number))
    return miss / base if base else miss


@dataclass(frozen=True, slots=True)
class Wire:
    """Where a control's messages go: the channel, the device's id, the bank select still to be sent.

    `was` is the code that the control is known to stand at, where it is known.
    """

    channel: WireChannel
    id: int | None = None
    was: int | None = None
    bank: BankSelect | None = None


def messages(control: Control, code: int, wire: Wire) -> tuple[Message, ...]:
    """The messages that carry the code: a unit, which nothing on its channel comes between.

    A toggle is pressed, whatever the code: it must be known to stand elsewhere.
    """
    if control.toggle is None:
        return _carried(control, code, wire)
    # `was` is a position: it says nothing of what the carrier was last sent.
    wire = replace(wire, was=None)
    pressed = _carried(control, control.toggle.press, wire)
    release = control.toggle.release
    return pressed if release is None else pressed + _carried(control, release, wire)


def _carried(control: Control, code: int, wire: Wire) -> tuple[Message, ...]:
    channel = wire.channel
    match control.carrier:
        case CcCarrier() as carrier:
            return cc.messages(carrier, channel, code)
        case Cc14Carrier() as carrier:
            return cc14.messages(carrier, channel, code, wire.was)
        case ParameterCarrier() as carrier:
            return parameter.messages(carrier, channel, code)
        case ProgramCarrier(bank):
            return program.messages(Address(bank, WireProgram(code)), channel, wire.bank)
        case NoteCarrier() as carrier:
            return note.messages(carrier, channel, code)
        case PitchBendCarrier():
            return bend.messages(channel, code)
        case PressureCarrier():
            return pressure.messages(channel, code)
        case SysexCarrier() as carrier:
            return sysex.messages(carrier, code, wire.id)
