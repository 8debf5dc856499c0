"""Tracks and lengths of Standard MIDI Files (MMA RP-001, revised February 1996)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.midi import smf


def read_length(data: bytes) -> int:
    """The number that variable-length bytes hold: seven bits each, most significant first (RP-001 p. 2)."""
    number = 0
    for byte in data:
        number = number * 128 + byte % 128
    return number


@given(st.integers(0, smf.MOST_DELTA))
def test_every_length_reads_back_as_itself(number: int) -> None:
    assert read_length(smf.variable_length(number)) == number


# RP-001 p. 2: bit 7 is set in all bytes but the last, and no byte is spent on leading zeros.
@given(st.integers(0, smf.MOST_DELTA))
def test_only_the_last_byte_of_a_length_has_bit_7_clear(number: int) -> None:
    data = smf.variable_length(number)
    assert [byte < 128 for byte in data] == [False] * (len(data) - 1) + [True]


@given(st.integers(1, smf.MOST_DELTA))
def test_length_takes_no_more_bytes_than_its_seven_bit_digits(number: int) -> None:
    assert len(smf.variable_length(number)) == (number.bit_length() + 6) // 7


# RP-001 p. 3-7: MTrk, the length of what follows, and a delta before each event, counted from the last.
def test_track_counts_each_delta_from_the_event_before() -> None:
    events = [(0, b"\xc0\x05"), (96, b"\xb0\x50\x7f"), (96, b"\xb0\x51\x00"), (296, b"\xc0\x06")]
    assert smf.track(events) == bytes.fromhex(
        "4D 54 72 6B  00 00 00 13  00 C0 05  60 B0 50 7F  00 B0 51 00  81 48 C0 06  00 FF 2F 00"
    )


# RP-001 p. 8-10: the end of track is there even where nothing else is.
def test_empty_track_is_its_end() -> None:
    assert smf.track([]) == bytes.fromhex("4D 54 72 6B  00 00 00 04  00 FF 2F 00")


def test_event_before_the_one_before_it_is_refused() -> None:
    with pytest.raises(ValueError, match="-1 does not fit"):
        smf.track([(5, b"\xc0\x05"), (4, b"\xc0\x06")])


def test_delta_past_four_bytes_is_refused() -> None:
    with pytest.raises(ValueError, match="does not fit four bytes"):
        smf.track([(0, b"\xc0\x05"), (smf.MOST_DELTA + 1, b"\xc0\x06")])


def test_largest_delta_is_held() -> None:
    assert smf.track([(smf.MOST_DELTA, b"\xc0\x05")])[8:] == bytes.fromhex("FF FF FF 7F C0 05  00 FF 2F 00")
