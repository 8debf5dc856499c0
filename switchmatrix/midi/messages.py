"""Channel messages: one dataclass and one row of the table each."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.midi.numbers import WireChannel


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


Message = ControlChange | ProgramChange

STATUS: dict[type[Message], int] = {ControlChange: 0xB0, ProgramChange: 0xC0}
"""High nibble of each message's status byte (MIDI 1.0 Detailed Specification 4.2.1, Table I, p. T-1)."""


def encode(message: Message) -> bytes:
    """The message's bytes, status byte included; ValueError where a number does not fit the wire."""
    match message:
        case ControlChange(channel, controller, value):
            data = [controller, value]
        case ProgramChange(channel, program):
            data = [program]
    if not 0 <= channel <= 15:
        raise ValueError(f"channel {channel} on the wire is not 0-15")
    if not all(0 <= byte <= 127 for byte in data):
        raise ValueError(f"a data byte of {data} is not 0-127")
    return bytes([STATUS[type(message)] | channel, *data])
