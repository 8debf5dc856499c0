"""Messages: one dataclass and one row of the table each; system exclusive beside them."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.midi.numbers import WireChannel


@dataclass(frozen=True, slots=True)
class NoteOff:
    """Key 0-127 is let go with velocity 0-127."""

    channel: WireChannel
    key: int
    velocity: int


@dataclass(frozen=True, slots=True)
class NoteOn:
    """Key 0-127 is struck with velocity 1-127; 0 would let it go.

    MIDI 1.0 Detailed Specification 4.2.1, p. 10.
    """

    channel: WireChannel
    key: int
    velocity: int


@dataclass(frozen=True, slots=True)
class ControlChange:
    """Controller 0-127 takes value 0-127."""

    channel: WireChannel
    controller: int
    value: int


@dataclass(frozen=True, slots=True)
class ProgramChange:
    """The receiver calls program 0-127."""

    channel: WireChannel
    program: int


@dataclass(frozen=True, slots=True)
class ChannelPressure:
    """The channel's pressure is 0-127."""

    channel: WireChannel
    value: int


@dataclass(frozen=True, slots=True)
class PitchBend:
    """The bender stands at 0-16383, 8192 the centre; least significant byte first on the wire."""

    channel: WireChannel
    value: int


@dataclass(frozen=True, slots=True)
class SystemExclusive:
    """What stands between F0 and F7: bytes 0-127."""

    body: tuple[int, ...]


ChannelMessage = NoteOff | NoteOn | ControlChange | ProgramChange | ChannelPressure | PitchBend
Message = ChannelMessage | SystemExclusive

STATUS: dict[type[ChannelMessage], int] = {
    NoteOff: 0x80,
    NoteOn: 0x90,
    ControlChange: 0xB0,
    ProgramChange: 0xC0,
    ChannelPressure: 0xD0,
    PitchBend: 0xE0,
}
"""High nibble of each message's status byte (MIDI 1.0 Detailed Specification 4.2.1, Table I, p. T-1)."""

SYSEX, END_OF_SYSEX = 0xF0, 0xF7
"""The first and the last byte of system exclusive (MIDI 1.0 Detailed Specification 4.2.1, Table VI)."""


def encode(message: Message) -> bytes:
    """The message's bytes, status byte included; ValueError where a number does not fit the wire."""
    match message:
        case SystemExclusive(body):
            return bytes([SYSEX, *_seven_bits(body), END_OF_SYSEX])
        case NoteOn(velocity=0):
            raise ValueError("a velocity of 0 is not a note that is struck")
        case NoteOff(channel, key, velocity) | NoteOn(channel, key, velocity):
            data: tuple[int, ...] = (key, velocity)
        case ControlChange(channel, controller, value):
            data = (controller, value)
        case ProgramChange(channel, value) | ChannelPressure(channel, value):
            data = (value,)
        case PitchBend(channel, value):
            data = (value & 0x7F, value >> 7)
    if not 0 <= channel <= 15:
        raise ValueError(f"channel {channel} on the wire is not 0-15")
    return bytes([STATUS[type(message)] | channel, *_seven_bits(data)])


def _seven_bits(data: tuple[int, ...]) -> tuple[int, ...]:
    if not all(0 <= byte <= 127 for byte in data):
        raise ValueError(f"a data byte of {list(data)} is not 0-127")
    return data
