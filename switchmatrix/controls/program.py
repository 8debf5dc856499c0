"""A program change carries the code as its program; bank select goes before it where it is asked for."""

from __future__ import annotations

from switchmatrix.definition.programs import BankSelect
from switchmatrix.midi.messages import ControlChange, ProgramChange
from switchmatrix.midi.numbers import Address, WireBank, WireChannel

BANK_MSB, BANK_LSB = 0, 32


def bank_select(bank: WireBank, scheme: BankSelect, channel: WireChannel) -> tuple[ControlChange, ...]:
    """The whole of the device's scheme: CC 0, CC 32, or both in that order.

    MIDI 1.0 Detailed Specification 4.2.1, p. 13.
    """
    upper = ControlChange(channel, BANK_MSB, bank if scheme is BankSelect.MSB else bank >> 7)
    lower = ControlChange(channel, BANK_LSB, bank if scheme is BankSelect.LSB else bank & 0x7F)
    return {BankSelect.MSB: (upper,), BankSelect.LSB: (lower,), BankSelect.BOTH: (upper, lower)}[scheme]


def messages(
    at: Address, channel: WireChannel, scheme: BankSelect | None
) -> tuple[ControlChange | ProgramChange, ...]:
    """The program change, after bank select where a `scheme` is given."""
    change = ProgramChange(channel, at.program)
    if scheme is None or at.bank is None:
        return (change,)
    return (*bank_select(at.bank, scheme, channel), change)
