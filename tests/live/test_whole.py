"""What is one whole message, and what whole messages are in what came in."""

from __future__ import annotations

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.live.whole import fault, messages

SYSTEM = ("F1 7F", "F2 00 01", "F3 01", "F6", "F8", "FA", "FB", "FC", "FF")


@pytest.mark.parametrize(
    "hex",
    ["80 00 7F", "B0 07 00", "C5 7F", "D0 01", "EF 00 40", "F0 F7", "F0 7E 00 06 01 F7", *SYSTEM],
)
def test_whole_message_has_no_fault(hex: str) -> None:
    assert fault(bytes.fromhex(hex)) is None


@pytest.mark.parametrize(
    ("hex", "expected"),
    [
        ("", "an empty message"),
        ("07 00", "no status byte"),
        ("B0 07", "status byte B0 takes 2 data bytes, not 1"),
        ("C0 07 01", "status byte C0 takes 1 data bytes, not 2"),
        ("B0 07 80", "80 among the data bytes"),
        ("F0 7E 00", "system exclusive without its end"),
        ("F0", "system exclusive without its end"),
        ("F0 7E 80 F7", "80 among the data bytes"),
        ("F0 7E F8 F7", "F8 among the data bytes"),
        ("F4", "status byte F4 is never sent"),
        ("FD", "status byte FD is never sent"),
        ("FE", "status byte FE is never sent"),
        ("F7", "status byte F7 is never sent"),
    ],
)
def test_what_is_not_a_whole_message_says_why(hex: str, expected: str) -> None:
    assert fault(bytes.fromhex(hex)) == expected


@pytest.mark.parametrize("status", range(0x80, 0xF0))
def test_channel_message_of_the_length_that_mido_gives_it_is_whole(status: int) -> None:
    data = bytes([status, 1, 2][: mido.messages.specs.SPEC_BY_STATUS[status]["length"]])
    assert fault(data) is None


@pytest.mark.parametrize(
    ("hex", "expected"),
    [
        ("B0 07 00", ["B00700"]),
        ("F0 7D 01 F7", ["F07D01F7"]),
        ("F0 7D F8 01 F7", ["F8", "F07D01F7"]),
        ("F0 7D 01 B0 07 00 F7", ["B00700"]),
        ("F0 7E 00 F0 7D 01 F7", ["F07D01F7"]),
        ("F0 7D 01", []),
        ("B0 07", []),
        ("B0 07 C0 01", ["C001"]),
        ("01 02 F4 FD FE F7", []),
        ("", []),
        ("C0 01 C0 02 F6", ["C001", "C002", "F6"]),
    ],
)
def test_whole_messages_are_found_in_what_came_in(hex: str, expected: list[str]) -> None:
    assert [one.hex().upper() for one in messages(bytes.fromhex(hex))] == expected


@given(st.binary(max_size=300))
def test_only_whole_messages_are_found_in_anything(data: bytes) -> None:
    assert [fault(one) for one in messages(data) if fault(one) is not None] == []
