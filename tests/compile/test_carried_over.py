"""What a transition leaves going, and how the next waits for it.

A byte takes 320 microseconds (MIDI 1.0 Detailed Specification 4.2.1, p. 1): a program change of two
bytes 640, a control change of three 960.
"""

from __future__ import annotations

from switchmatrix.compile.schedule import Busy, schedule
from switchmatrix.compile.step import Role, Step
from switchmatrix.model.rig import Rig
from tests.compile.cases import mute, rig_of, unit

RACK = rig_of({"rack": "din", "floor": "din"})
MUTED = rig_of({"rack": "din", "floor": "din"}, (mute(["amp.channel"], ["mixer.out"], 5000, 10000),))
RECALL = unit("echo", 2, settle_us=35000, role=Role.RECALL, moves="patch")
AMP = unit("amp", 3, settle_us=20000, moves="channel")
ON = unit("mixer", 3, port="floor", settle_us=1000, moves="out", role=Role.MUTE_ON)
SET_OUT = unit("mixer", 3, port="floor", settle_us=1000, moves="out")
OFF = unit("mixer", 3, port="floor", moves="out", role=Role.MUTE_OFF)
BELL = unit("bell", 3, port="floor", role=Role.TRIGGER, moves="")


def starts(rig: Rig, first: list[Step], then: list[Step], at_us: int) -> list[int]:
    """When the messages of a transition start that begins at `at_us`, while another may be under way."""
    busy = schedule(rig, tuple(first)).busy
    return [m.starts_us for m in schedule(rig, tuple(then), at_us, busy).messages]


def test_a_port_is_taken_until_its_last_byte_is_out() -> None:
    assert starts(RACK, unit("gate", 3), unit("wah", 3), 100) == [960]


def test_another_port_is_free() -> None:
    assert starts(RACK, unit("gate", 3), unit("wah", 3, port="floor"), 100) == [100]


def test_a_device_settles_on_while_others_are_sent_to() -> None:
    assert starts(RACK, RECALL, [*unit("echo", 3), *unit("gate", 3)], 1000) == [1000, 35640]


def test_a_gap_goes_on() -> None:
    assert starts(RACK, unit("echo", 3, gap_us=2000), unit("echo", 3), 1000) == [2960]


# The mixer is sent to at 0, has settled at 1,960, and holds for 5 ms first; no message of the second
# transition says so, since it is known to hold.
def test_what_a_mute_covers_waits_for_a_hold_that_was_set_before() -> None:
    assert starts(MUTED, SET_OUT, AMP, 1000) == [6960]


# On at 0; the amp at 6,960, out at 7,920, settled at 27,920; 10 ms after that the mixer may be let go.
def test_a_mute_that_stayed_on_is_let_go_when_what_it_covered_has_settled() -> None:
    assert starts(MUTED, [*ON, *AMP], SET_OUT, 10_000) == [37920]


# Let go at 37,920 and out at 38,880: the next mute goes on behind it, holds from 44,840 on.
def test_a_second_mute_follows_the_end_of_the_first() -> None:
    assert starts(MUTED, [*ON, *AMP, *OFF], [*ON, *AMP], 10_000) == [38880, 45840]


def test_a_mute_has_nothing_to_do_with_other_devices() -> None:
    assert starts(MUTED, [*ON, *AMP], unit("gate", 3), 10_000) == [10_000]


def test_a_mute_has_nothing_to_do_with_other_controls_of_the_device_that_it_holds() -> None:
    assert starts(MUTED, [*ON, *AMP], unit("mixer", 3, port="floor", moves="low"), 10_000) == [10_000]


def test_a_mute_has_nothing_to_do_with_a_control_of_the_same_name_elsewhere() -> None:
    assert starts(MUTED, [*ON, *AMP], unit("gate", 3, moves="out"), 10_000) == [10_000]
    assert starts(MUTED, SET_OUT, unit("gate", 3, moves="channel"), 1000) == [1000]
    assert starts(MUTED, SET_OUT, unit("amp", 3, moves="boost"), 1000) == [1000]


def test_a_trigger_waits_until_what_was_going_on_has_landed() -> None:
    assert starts(RACK, RECALL, BELL, 1000) == [35640]


def test_nothing_waits_for_what_is_over() -> None:
    assert starts(MUTED, [*ON, *AMP, *OFF], [*ON, *AMP, *OFF, *BELL], 100_000) == [
        100_000,
        106_960,
        137_920,
        138_880,
    ]


def test_a_transition_leaves_its_ports_devices_and_mutes_busy() -> None:
    assert schedule(MUTED, (*ON, *AMP)).busy == Busy(
        ports={"floor": 960, "rack": 7920},
        devices={"mixer": 1960, "amp": 27920},
        holds={0: 6960},
        lets_go={0: 37920},
    )


def test_a_transition_of_no_messages_leaves_what_was_going_on() -> None:
    busy = schedule(MUTED, (*ON, *AMP)).busy
    assert schedule(MUTED, (), 5000, busy).busy == busy


# The mixer is sent to at 0 and the desk behind it; the amp waits for both, and the wah for its port.
def test_a_mute_holds_when_all_that_it_holds_does_and_lets_go_when_all_that_it_covers_has_settled() -> None:
    both = mute(["amp.channel", "wah.mix"], ["mixer.out", "desk.out"], 5000, 10000)
    rig = rig_of({"rack": "din", "floor": "din"}, (both,))
    on = [
        *unit("mixer", 3, port="floor", settle_us=20000, moves="out", role=Role.MUTE_ON),
        *unit("desk", 3, port="floor", moves="out", role=Role.MUTE_ON),
    ]
    assert schedule(rig, (*on, *AMP, *unit("wah", 3))).busy == Busy(
        ports={"floor": 1920, "rack": 27880},
        devices={"mixer": 20960, "desk": 1920, "amp": 46920, "wah": 27880},
        holds={0: 25960},
        lets_go={0: 56920},
    )
