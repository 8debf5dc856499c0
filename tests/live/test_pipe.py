"""Values over a socket."""

from __future__ import annotations

import socket
from collections.abc import Iterator

import pytest

from switchmatrix.live.pipe import Pipe


@pytest.fixture
def ends() -> Iterator[tuple[Pipe, Pipe]]:
    """Both ends of a pipe."""
    ours, theirs = (Pipe(end) for end in socket.socketpair())
    yield ours, theirs
    ours.close()
    theirs.close()


def test_values_come_out_as_they_went_in(ends: tuple[Pipe, Pipe]) -> None:
    ends[0].put((1, b"\xf8"))
    ends[0].put("two")
    assert ends[1].take() == [(1, b"\xf8"), "two"]


def test_taking_from_an_empty_pipe_waits_for_nothing(ends: tuple[Pipe, Pipe]) -> None:
    assert ends[1].take() == []


def test_no_more_than_asked_is_taken_at_once(ends: tuple[Pipe, Pipe]) -> None:
    ends[0].put(1)
    ends[0].put(2)
    assert (ends[1].take(1), ends[1].wait(0), ends[1].take(1), ends[1].wait(0)) == ([1], True, [2], False)


def test_more_than_the_socket_holds_is_kept_and_goes_later(ends: tuple[Pipe, Pipe]) -> None:
    ends[0].put(bytes(5_000_000))
    assert ends[0].has_unwritten()
    came: list[object] = []
    while not came:
        ends[0].flush()
        came = ends[1].take()
    assert (came, ends[0].has_unwritten()) == ([bytes(5_000_000)], False)


def test_what_was_said_before_the_other_end_closed_still_comes(ends: tuple[Pipe, Pipe]) -> None:
    ends[0].put(1)
    ends[0].close()
    assert (ends[1].take(), ends[1].closed) == ([1], True)


def test_putting_into_a_pipe_whose_other_end_is_gone_closes_it(ends: tuple[Pipe, Pipe]) -> None:
    ends[1].close()
    ends[0].put(1)
    assert ends[0].closed


def test_waiting_on_a_closed_pipe_ends_at_once(ends: tuple[Pipe, Pipe]) -> None:
    ends[1].close()
    ends[0].take()
    assert ends[0].wait(60)
