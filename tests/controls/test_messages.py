"""What a switch that can only be flipped is sent; and what is no code is no message."""

from __future__ import annotations

import pytest

from switchmatrix.controls import encode
from switchmatrix.definition.values import Word
from tests.definition.kit import control, programs, sent

TOGGLE = "kind: switch, toggle: {press: 127, release: 0}"


@pytest.mark.parametrize("position", ["on", "off"])
@pytest.mark.parametrize(
    ("keys", "listed"),
    [
        ("toggle: {press: 127, release: 0}, cc: 80", "B1 50 7F B1 50 00"),
        ("toggle: {press: 127, release: none}, cc: 80", "B1 50 7F"),
        ("toggle: {press: 1, release: 2}, program: yes", "C1 01 C1 02"),
        ("toggle: {press: 64, release: none}, note: 60, release: yes", "91 3C 40 81 3C 40"),
        ("toggle: {press: 300, release: 0}, cc14: [12, 44]", "B1 0C 02 B1 2C 2C B1 0C 00 B1 2C 00"),
        ("toggle: {press: 1, release: none}, nrpn: [1, 8], data: 7", "B1 63 01 B1 62 08 B1 06 01"),
        ("toggle: {press: 16383, release: none}, pitch-bend: yes", "E1 7F 7F"),
        ("toggle: {press: 3, release: 0}, sysex: {body: [0x7D, value]}", "F0 7D 03 F7 F0 7D 00 F7"),
    ],
)
def test_toggle_is_pressed_and_released_whichever_way_it_goes(keys: str, listed: str, position: str) -> None:
    made = control(f"kind: switch, {keys}")
    assert sent(made, encode(made, Word(position))) == listed


# The position is 0 or 1 and the press 1: their upper halves agree, and say nothing of the carrier's.
@pytest.mark.parametrize("was", [0, 1])
def test_toggle_on_a_pair_is_pressed_whole_whatever_its_position_was(was: int) -> None:
    made = control("kind: switch, toggle: {press: 1, release: none}, cc14: [12, 44]")
    assert sent(made, 1 - was, was=was) == "B1 0C 00 B1 2C 01"


def test_toggle_in_a_bank_goes_with_its_bank() -> None:
    scheme = "count: 128, first: 1, bank: cc0, bank-when: always"
    made = control("kind: switch, toggle: {press: 7, release: none}, program: yes, bank: 2", scheme)
    assert sent(made, 1, bank=programs(scheme).bank) == "B1 00 01 C1 07"


@pytest.mark.parametrize(
    ("keys", "code"),
    [
        ("cc: 80", 128),
        ("cc: 80", -1),
        ("cc14: [12, 44]", 16384),
        ("nrpn: [1, 8], data: 7", 128),
        ("nrpn: [1, 8], data: 14", 16384),
        ("program: yes", 128),
        ("note: 60", 128),
        ("pitch-bend: yes", 16384),
        ("pitch-bend: yes", -1),
        ("channel-pressure: yes", 128),
        ("sysex: {body: [0x7D, value]}", 128),
        ("sysex: {body: [0x7D, value], signed: yes}", 128),
        ("sysex: {body: [0x7D, value-msb, value-lsb]}", 16384),
    ],
)
def test_code_that_the_carrier_does_not_hold_is_no_message(keys: str, code: int) -> None:
    made = control(f"kind: trigger, {keys}")
    with pytest.raises(ValueError, match="is not"):
        sent(made, code)


# A key that sounds while it is held: Note On and Note Off (MIDI 1.0 Detailed Specification 4.2.1, p. 10).
@pytest.mark.parametrize(("position", "listed"), [("on", "91 3C 64"), ("off", "81 3C 40")])
def test_switch_whose_off_is_nought_lets_its_key_go(position: str, listed: str) -> None:
    made = control("kind: switch, note: 60, codes: {on: 100, off: 0}")
    assert sent(made, encode(made, Word(position))) == listed
