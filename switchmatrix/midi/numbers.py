"""Numbers as people say them and as the wire carries them; each is converted here and nowhere else."""

from __future__ import annotations

from typing import NamedTuple, NewType

ChannelNumber = NewType("ChannelNumber", int)
"""1-16, as people say it."""

WireChannel = NewType("WireChannel", int)
"""0-15, as a status byte carries it."""

WireProgram = NewType("WireProgram", int)
"""0-127, as a program change carries it."""

WireBank = NewType("WireBank", int)
"""0-16383, as bank select carries it: 128 times the byte of CC 0, and the byte of CC 32."""

MOST_BANKS = 16384


class Address(NamedTuple):
    """A program on the wire with the bank that it lies in; None on a device without bank select."""

    bank: WireBank | None
    program: WireProgram


def wire_channel(channel: ChannelNumber) -> WireChannel:
    """Channel 1 is nibble 0 (MIDI 1.0 Detailed Specification 4.2.1, Table I)."""
    if not 1 <= channel <= 16:
        raise ValueError(f"channel {channel} is not 1-16")
    return WireChannel(channel - 1)


def wire_bank(number: int) -> WireBank:
    """Bank 1 is 00 00, bank 129 is 01 00 (MIDI 1.0 Detailed Specification 4.2.1, p. 14)."""
    if not 1 <= number <= MOST_BANKS:
        raise ValueError(f"bank {number} is not 1-{MOST_BANKS}")
    return WireBank(number - 1)


def bank_number(bank: WireBank) -> int:
    """The bank as the standard counts it, from 1."""
    return bank + 1


def wire_program(number: int) -> WireProgram:
    """Program 1 is 00 (MIDI 1.0 Detailed Specification 4.2.1, p. 18)."""
    if not 1 <= number <= 128:
        raise ValueError(f"program {number} is not 1-128")
    return WireProgram(number - 1)


def program_number(program: WireProgram) -> int:
    """The program as the standard counts it, from 1."""
    return program + 1


def address(position: int, bank_size: int | None) -> Address:
    """Where the program at `position` (from 0) lies, `bank_size` programs a bank; None: no banks."""
    bank, program = (None, position) if bank_size is None else divmod(position, bank_size)
    if not 0 <= program <= 127 or not 0 <= (bank or 0) < MOST_BANKS:
        raise ValueError(f"position {position} is no program")
    return Address(None if bank is None else WireBank(bank), WireProgram(program))


def position(at: Address, bank_size: int | None) -> int | None:
    """The place of an address in the order of programs, from 0; None where its bank is shorter."""
    if bank_size is None:
        return at.program if at.bank is None else None
    return at.bank * bank_size + at.program if at.bank is not None and at.program < bank_size else None
