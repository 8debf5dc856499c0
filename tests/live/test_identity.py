"""Identity Request and Reply, byte by byte."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.definition.definition import Identity
from switchmatrix.live.identity import REQUEST, Reply, asked, is_cut, read_reply, reply

ONE = Identity((0x7D,), 1, 2, (0, 0, 1, 0))
THREE = Identity((0x00, 0x7F, 0x7E), 8192, 16383, (1, 2, 3, 4))


def test_request_goes_to_every_device() -> None:
    # MIDI 1.0 Detailed Specification 4.2.1, p. 40: F0 7E <device ID> 06 01 F7; 7F is every device (p. 35).
    assert bytes.fromhex("F0 7E 7F 06 01 F7") == REQUEST


def test_reply_of_a_one_byte_maker() -> None:
    # The same, p. 40: F0 7E id 06 02 mm ff ff dd dd ss ss ss ss F7, low seven bits first.
    data = bytes.fromhex("F0 7E 00 06 02 7D 01 00 02 00 00 00 01 00 F7")
    assert (reply(ONE, 0), read_reply(data)) == (data, Reply(0, ONE))


def test_reply_of_a_three_byte_maker() -> None:
    # The same, p. 40: where the first byte of mm is 00, two more follow.
    data = bytes.fromhex("F0 7E 10 06 02 00 7F 7E 00 40 7F 7F 01 02 03 04 F7")
    assert (reply(THREE, 16), read_reply(data)) == (data, Reply(16, THREE))


sevens = st.integers(0, 127)
makers = st.one_of(st.integers(1, 127).map(lambda m: (m,)), st.tuples(st.just(0), sevens, sevens))
numbers = st.integers(0, 16383)


@given(st.builds(Identity, makers, numbers, numbers, st.tuples(sevens, sevens, sevens, sevens)), sevens)
def test_reply_read_back_is_who_answered(identity: Identity, id: int) -> None:
    assert read_reply(reply(identity, id)) == Reply(id, identity)


@pytest.mark.parametrize("length", range(6, 15))
def test_reply_that_is_cut_short_is_none(length: int) -> None:
    cut = reply(ONE, 0)[: length - 1] + b"\xf7"
    assert (read_reply(cut), is_cut(cut)) == (None, True)


@given(st.binary(max_size=24))
def test_any_bytes_can_be_read(data: bytes) -> None:
    found = read_reply(data)
    assert found is None or reply(found.identity, found.id) == data


@pytest.mark.parametrize(
    ("body", "id"),
    [((0x7E, 0x7F, 6, 1), 127), ((0x7E, 3, 6, 1), 3), ((0x7E, 3, 6, 2), None), ((0x7F, 3, 6, 1), None)],
)
def test_request_is_told_from_all_else(body: tuple[int, ...], id: int | None) -> None:
    assert asked(body) == id
