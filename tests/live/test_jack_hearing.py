"""What a real input hands on: everything, whatever a box sends."""

from __future__ import annotations

import pytest

from switchmatrix.live.machine import Machine
from tests.live.kit import box_sends, changes, heard, virtual


def hears(jack: Machine, sent: list[bytes], count: int, gap_s: float = 0.0) -> list[bytes]:
    """What a virtual input hands on of what a box sends, until there is so much or nothing more comes."""
    receiver = virtual(jack, "main")
    box_sends("main", sent, gap_s)
    came = [one.data for one in heard(jack, receiver, count)]
    return came + [one.data for one in heard(jack, receiver, 1, seconds=0.2)]


def test_flood_of_ten_thousand_messages_comes_in_whole(jack: Machine) -> None:
    assert hears(jack, changes(10_000), 10_000) == changes(10_000)


@pytest.mark.parametrize("hex", ["F8", "FA", "FE", "F1 7F", "F2 01 02", "F0 7E 00 06 01 F7", "90 3C 00"])
def test_message_of_any_kind_comes_in(jack: Machine, hex: str) -> None:
    assert hears(jack, [bytes.fromhex(hex)], 1) == [bytes.fromhex(hex)]


def test_garbage_comes_in_as_it_is_and_what_follows_too(jack: Machine) -> None:
    garbage = [bytes.fromhex(one) for one in ("90", "01", "F4", "FD", "F7", "B0 01", "B0 FF FF", "B0 01 03")]
    assert hears(jack, garbage, 8, gap_s=0.005) == garbage


def test_system_exclusive_without_end_holds_back_what_follows_until_an_end(jack: Machine) -> None:
    begun, change = b"\xf0\x7d" + bytes(8000), bytes.fromhex("B0 01 02")
    sent = [*[begun] * 50, change, b"\xf7", change]
    assert hears(jack, sent, 2, gap_s=0.003) == [begun * 50 + change + b"\xf7", change]


def test_input_with_system_exclusive_without_end_closes(jack: Machine) -> None:
    receiver = virtual(jack, "main")
    box_sends("main", [b"\xf0\x7d" + bytes(8000)] * 10, 0.003)
    assert heard(jack, receiver, 1, seconds=0.2) == []
    receiver.close()
    assert receiver.lost is None


def test_reply_cut_short_comes_in_when_the_next_one_ends_it(jack: Machine) -> None:
    cut, whole = bytes.fromhex("F0 7E 00 06 02 7D 01"), bytes.fromhex("F0 7E 00 06 02 7D 02 F7")
    assert hears(jack, [cut, whole], 1, gap_s=0.005) == [cut + whole]
