"""What comes in on a return: a pedal, our own, or somebody else's change."""

from __future__ import annotations

from switchmatrix.live.rehearsing.ears import OWN_US, Ears
from switchmatrix.live.stepping.feet import Pressed
from switchmatrix.live.stepping.inputs import Back, Doubt, Next
from switchmatrix.simulate.stream import heard
from tests.live.rehearsing.hall import WITH_FEET

RIG = WITH_FEET.rigs["a-rig"].rig
MIX = bytes.fromhex("B0 15 23")
"""The mix of the echo, at 35."""

MIX_MOVED = (Doubt("a-rig", "echo", frozenset({"mix"}), False, False),)
PEDAL, UP = bytes.fromhex("BF 40 7F"), bytes.fromhex("BF 40 00")


def hear(
    ears: Ears, ms: float, data: bytes, port: str = "rack"
) -> tuple[str | None, Pressed | None, tuple[Doubt, ...]]:
    """What ears make of a message."""
    return ears.hear(port, data, heard(data), round(ms * 1000))


def sending(ears: Ears, ms: float, data: bytes, port: str = "rack", now_ms: float = 0) -> None:
    """We send something at a moment."""
    ears.sending(port, round(ms * 1000), data, round(now_ms * 1000))


def test_somebody_elses_message_is_told_and_puts_in_doubt_what_it_may_have_moved() -> None:
    assert hear(Ears(RIG), 0, MIX) == ("rack, channel 1: CC 21 at 35", None, MIX_MOVED)


def test_own_message_that_comes_back_is_neither_told_nor_a_doubt() -> None:
    ears = Ears(RIG)
    sending(ears, 10, MIX)
    assert hear(ears, 12, MIX) == (None, None, ())


def test_own_message_that_comes_back_twice_was_sent_by_somebody_else_too() -> None:
    ears = Ears(RIG)
    sending(ears, 10, MIX)
    hear(ears, 12, MIX)
    assert hear(ears, 13, MIX)[2] == MIX_MOVED


def test_what_comes_before_it_was_due_is_not_ours() -> None:
    ears = Ears(RIG)
    sending(ears, 10, MIX)
    assert hear(ears, 9, MIX)[2] == MIX_MOVED


def test_what_comes_on_another_port_is_not_ours() -> None:
    ears = Ears(RIG)
    lead = bytes.fromhex("B1 5C 01")
    sending(ears, 10, lead, port="rack")
    moved = (Doubt("a-rig", "amp", frozenset({"channel"}), False, False),)
    assert hear(ears, 11, lead, port="floor")[2] == moved


def test_what_comes_long_after_it_was_sent_is_not_ours() -> None:
    ears = Ears(RIG)
    sending(ears, 0, MIX)
    late = OWN_US / 1000 + 1
    assert hear(ears, late, MIX)[2] == MIX_MOVED


def test_start_of_a_long_change_is_still_ours_when_it_comes_back() -> None:
    ears = Ears(RIG)
    sending(ears, 2, MIX)
    sending(ears, 2_000, bytes.fromhex("B0 50 7F"))
    assert hear(ears, 4, MIX) == (None, None, ())


def test_what_was_dropped_before_it_was_due_is_not_ours() -> None:
    ears = Ears(RIG)
    sending(ears, 2, bytes.fromhex("B0 50 7F"))
    sending(ears, 20, MIX)
    ears.dropped(10_000)
    assert hear(ears, 21, bytes.fromhex("B0 50 7F")) == (None, None, ())
    assert hear(ears, 22, MIX)[2] == MIX_MOVED


def test_press_is_a_step() -> None:
    assert hear(Ears(RIG), 0, PEDAL) == ("rack, channel 16: CC 64 at 127", Next(), ())


def test_bounce_and_release_are_no_step() -> None:
    ears = Ears(RIG)
    presses = [hear(ears, ms, data)[1] for ms, data in ((0, PEDAL), (4, UP), (6, PEDAL), (80, UP))]
    assert presses == [Next(), None, None, None]


def test_press_that_a_device_hears_too_is_also_a_doubt() -> None:
    bound = bytes.fromhex("B5 5A 7F")
    moved = (Doubt("a-rig", "mixer", frozenset({"mute-all"}), False, False),)
    assert hear(Ears(RIG), 0, bound, port="floor") == ("floor, channel 6: CC 90 at 127", Back(), moved)


def test_own_message_that_a_pedal_is_bound_to_is_no_step_when_it_comes_back() -> None:
    ears = Ears(RIG)
    bound = bytes.fromhex("B5 5A 7F")
    sending(ears, 0, bound, port="floor")
    assert hear(ears, 1, bound, port="floor") == (None, None, ())


def test_clock_is_neither_told_nor_a_doubt() -> None:
    assert hear(Ears(RIG), 0, b"\xf8") == (None, None, ())


def test_rig_whose_file_has_changed_hears_by_the_new_one() -> None:
    ears = Ears(RIG)
    ears.taken_over(WITH_FEET.rigs["b-rig"].rig)
    assert hear(ears, 0, MIX)[2] == (Doubt("b-rig", "echo", frozenset({"mix"}), False, False),)


def test_nothing_is_kept_of_a_thousand_sends_where_nothing_ever_comes_back() -> None:
    ears = Ears(RIG)
    for n in range(1_000):
        now = n * 1_000
        sending(ears, now + 2, MIX, now_ms=now)
    assert len(ears._own) == 1
