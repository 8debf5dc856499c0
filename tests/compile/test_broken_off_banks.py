"""What bank a box may stand in after a change that was broken off."""

from __future__ import annotations

from dataclasses import replace

import pytest

from switchmatrix.compile.broken import broken_off
from switchmatrix.compile.known import UNKNOWN, DeviceKnown, Known, Unknown
from switchmatrix.midi.numbers import Address, WireBank, WireProgram
from tests.compile.cases import rig_of, unit, with_devices

RIG = with_devices(rig_of({"rack": "din"}), "echo")
STANDS = Address(WireBank(1), WireProgram(4))


def bank_after(data: bytes, perhaps: int, bank: WireBank | None = STANDS.bank) -> WireBank | Unknown | None:
    """The bank of the echo after a change of one message, of which `perhaps` have gone out."""
    (step,) = unit("echo", 3)
    known = Known((DeviceKnown(STANDS, bank, ()),))
    left = broken_off(RIG, known, (replace(step, data=data, moves=frozenset()),), 0, perhaps)
    return left.known.devices[0].bank


# MIDI 1.0 Detailed Specification 4.2.1, p. 13: bank select is CC 0 and CC 32; Cn is a program change.
@pytest.mark.parametrize("data", [b"\xb1\x00\x02", b"\xb1\x20\x02", b"\xc1\x05"])
def test_bank_select_and_program_change_leave_the_bank_unknown(data: bytes) -> None:
    assert bank_after(data, 1) is UNKNOWN


@pytest.mark.parametrize("data", [b"\xb1\x01\x02", b"\xb1\x21\x02", b"\x91\x00\x40", b"\xe1\x20\x40"])
def test_other_messages_leave_the_bank_as_it_was(data: bytes) -> None:
    assert bank_after(data, 1) == WireBank(1)


def test_a_bank_select_that_has_not_gone_out_leaves_the_bank_as_it_was() -> None:
    assert bank_after(b"\xb1\x00\x02", 0) == WireBank(1)


def test_a_box_without_banks_has_none_afterwards() -> None:
    assert bank_after(b"\xc1\x05", 1, None) is None
