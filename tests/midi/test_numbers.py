"""People's numbers and the wire's."""

from __future__ import annotations

import pytest

from switchmatrix.midi.numbers import (
    MOST_BANKS,
    Address,
    ChannelNumber,
    WireBank,
    WireProgram,
    address,
    bank_number,
    position,
    program_number,
    wire_bank,
    wire_channel,
    wire_program,
)


# MIDI 1.0 Detailed Specification 4.2.1, Table I (p. T-1): a nibble holds sixteen channels.
@pytest.mark.parametrize("channel", [0, 17, -1])
def test_channel_that_no_nibble_holds_is_refused(channel: int) -> None:
    with pytest.raises(ValueError, match=f"channel {channel} is not 1-16"):
        wire_channel(ChannelNumber(channel))


# MIDI 1.0 Detailed Specification 4.2.1, p. 18: programs begin at 00 on the wire; General MIDI 2 (1.2a)
# 3.3.1: people mostly count them from 1.
@pytest.mark.parametrize(("number", "program"), [(1, 0x00), (2, 0x01), (49, 0x30), (128, 0x7F)])
def test_program_1_is_00_on_the_wire(number: int, program: int) -> None:
    assert wire_program(number) == program


# MIDI 1.0 Detailed Specification 4.2.1, p. 14: banks 1, 128, 129 and 16,384 as CC 0 and CC 32.
@pytest.mark.parametrize(
    ("number", "msb", "lsb"), [(1, 0x00, 0x00), (128, 0x00, 0x7F), (129, 0x01, 0x00), (16384, 0x7F, 0x7F)]
)
def test_bank_1_is_00_00_on_the_wire(number: int, msb: int, lsb: int) -> None:
    assert wire_bank(number) == msb << 7 | lsb


@pytest.mark.parametrize("number", [0, 129, -1])
def test_number_that_is_no_program_is_refused(number: int) -> None:
    with pytest.raises(ValueError, match=f"program {number} is not 1-128"):
        wire_program(number)


@pytest.mark.parametrize("number", [0, 16385, -1])
def test_number_that_is_no_bank_is_refused(number: int) -> None:
    with pytest.raises(ValueError, match=f"bank {number} is not 1-16384"):
        wire_bank(number)


def test_every_program_comes_back_from_its_number() -> None:
    assert [wire_program(program_number(WireProgram(n))) for n in range(128)] == list(range(128))


def test_every_bank_comes_back_from_its_number() -> None:
    assert [wire_bank(bank_number(WireBank(n))) for n in range(MOST_BANKS)] == list(range(MOST_BANKS))


@pytest.mark.parametrize(
    ("at", "bank_size", "bank", "program"),
    [
        (0, None, None, 0),
        (127, None, None, 127),
        (0, 128, 0, 0),
        (127, 128, 0, 127),
        (128, 128, 1, 0),
        (419, 128, 3, 35),
        (99, 100, 0, 99),
        (100, 100, 1, 0),
        (16384 * 128 - 1, 128, 16383, 127),
    ],
)
def test_position_is_so_many_banks_and_a_program(
    at: int, bank_size: int | None, bank: int | None, program: int
) -> None:
    lies = Address(None if bank is None else WireBank(bank), WireProgram(program))
    assert (address(at, bank_size), position(lies, bank_size)) == (lies, at)


@pytest.mark.parametrize(("at", "bank_size"), [(128, None), (-1, None), (-1, 128), (16384 * 100, 100)])
def test_position_past_all_banks_is_refused(at: int, bank_size: int | None) -> None:
    with pytest.raises(ValueError, match=f"position {at} is no program"):
        address(at, bank_size)


def test_program_past_the_end_of_its_bank_has_no_position() -> None:
    assert position(Address(WireBank(0), WireProgram(100)), 100) is None


@pytest.mark.parametrize(("bank", "bank_size"), [(WireBank(0), None), (None, 128)])
def test_bank_on_a_device_without_banks_and_none_on_one_with_them_have_no_position(
    bank: WireBank | None, bank_size: int | None
) -> None:
    assert position(Address(bank, WireProgram(5)), bank_size) is None
