"""Units of several messages: nothing else on their port and channel stands inside; gaps and settles are kept.

A byte takes 320 microseconds on a DIN port (MIDI 1.0 Detailed Specification 4.2.1, p. 1: 31,250 baud,
ten bits a byte).
"""

from __future__ import annotations

import pytest

from switchmatrix.pipeline import Judged
from tests.compile.rigs import rig_show
from tests.compile.shown import moments, wire
from tests.support import names

PAIRED = """
controls:
  depth: {kind: level, nrpn: [1, 8], data: 14, range: [0, 16383]}
  rate: {kind: level, nrpn: [1, 9], data: 7, range: [0, 127]}
  range: {kind: level, rpn: [0, 0], data: 7, range: [0, 127]}
"""
SWIRL = "swirl: {port: rack, channel: 5, definition: swirl-box}"
HOME = "home: {swirl: {depth: 300, rate: 64, range: 2}}"


def swirl(scenes: str, definition: str = PAIRED, home: str = HOME, device: str = SWIRL) -> Judged:
    """A box of parameter numbers on channel 5."""
    return rig_show(device, {"swirl-box": definition}, scenes, home)


DEPTH = ("swirl B4 63 01", "swirl B4 62 08")
RATE = ("swirl B4 63 01", "swirl B4 62 09")
RANGE = ("swirl B4 65 00", "swirl B4 64 00")
NULL_RPN = ("swirl B4 65 7F", "swirl B4 64 7F")


def test_parameter_numbers_go_before_their_data_each_time_and_an_rpn_is_closed() -> None:
    assert wire(swirl("  verse: {}\n"), "verse") == [
        *(*DEPTH, "swirl B4 06 02", "swirl B4 26 2C"),
        *(*RATE, "swirl B4 06 40"),
        *(*RANGE, "swirl B4 06 02", *NULL_RPN),
    ]


def test_two_controls_of_one_parameter_bank_each_get_their_whole_number() -> None:
    """The half of the number that stays is sent too: a controller may have set another in between."""
    show = swirl("  verse: {}\n  chorus: {swirl: {depth: 301, rate: 65}}\n")
    assert wire(show, "chorus", after="verse") == [
        *(*DEPTH, "swirl B4 06 02", "swirl B4 26 2D"),
        *(*RATE, "swirl B4 06 41"),
    ]


def test_data_of_fourteen_bits_is_sent_whole_where_only_its_lower_half_differs() -> None:
    show = swirl("  verse: {}\n  chorus: {swirl.depth: 301}\n")
    assert wire(show, "chorus", after="verse") == [*DEPTH, "swirl B4 06 02", "swirl B4 26 2D"]


def test_data_of_fourteen_bits_is_sent_whole_where_its_lower_half_is_zero() -> None:
    """The standard zeroes the lower half with the upper (p. 12); not every box does: it costs a message."""
    show = swirl("  verse: {}\n  chorus: {swirl.depth: 384}\n")
    assert wire(show, "chorus", after="verse") == [*DEPTH, "swirl B4 06 03", "swirl B4 26 00"]


@pytest.mark.parametrize(
    ("control", "sent"),
    [
        ("nrpn: [1, 9], data: 7, close: yes", [*RATE, "swirl B4 06 40", "swirl B4 63 7F", "swirl B4 62 7F"]),
        ("nrpn: [1, 9], data: 7, close: no", [*RATE, "swirl B4 06 40"]),
        ("rpn: [0, 0], data: 7, close: no", [*RANGE, "swirl B4 06 40"]),
        ("rpn: [0, 0], data: 7, close: yes", [*RANGE, "swirl B4 06 40", *NULL_RPN]),
    ],
)
def test_a_group_is_closed_as_its_definition_says(control: str, sent: list[str]) -> None:
    show = swirl(
        "  verse: {swirl.rate: 64}\n", f"controls: {{rate: {{kind: level, {control}, range: [0, 127]}}}}", ""
    )
    assert wire(show, "verse") == sent


PAIR = "controls: {time: {kind: time, cc14: [12, 44], range: [0 ms, 16383 ms], codes: [0, 16383]}}"


def pair(verse: int, chorus: int) -> list[str]:
    """The chorus after the verse, each with its code on the pair."""
    scenes = f"  verse: {{swirl.time: {verse} ms}}\n  chorus: {{swirl.time: {chorus} ms}}\n"
    return wire(swirl(scenes, PAIR, ""), "chorus", after="verse")


def test_from_unknown_a_pair_is_sent_whole_though_its_lower_half_is_zero() -> None:
    assert wire(swirl("  verse: {swirl.time: 384 ms}\n", PAIR, ""), "verse") == [
        "swirl B4 0C 03",
        "swirl B4 2C 00",
    ]


def test_where_both_halves_differ_a_pair_is_sent_whole() -> None:
    assert pair(300, 500) == ["swirl B4 0C 03", "swirl B4 2C 74"]


def test_where_the_upper_half_differs_alone_the_lower_one_is_sent_too() -> None:
    """A box that zeroes it would lose it."""
    assert pair(300, 428) == ["swirl B4 0C 03", "swirl B4 2C 2C"]


def test_where_the_upper_half_differs_a_lower_half_of_zero_is_sent_too() -> None:
    """A box that does not zero it would keep the old one."""
    assert pair(300, 384) == ["swirl B4 0C 03", "swirl B4 2C 00"]


def test_where_the_lower_half_differs_alone_it_is_sent_alone() -> None:
    assert pair(300, 301) == ["swirl B4 2C 2D"]


def test_where_the_lower_half_goes_to_zero_alone_it_is_sent_alone() -> None:
    assert pair(385, 384) == ["swirl B4 2C 00"]


STORING = """
programs: {count: 8, first: 1, repeat: recalls}
controls:
  time: {kind: time, cc14: [12, 44], range: [0 ms, 16383 ms], codes: [0, 16383], stored: yes}
"""
STORED = "swirl: {port: rack, channel: 5, definition: swirl-box, patches: {a: {at: 1, stores: %s}, b: 2}}"


def test_after_a_recall_that_is_said_to_bring_the_upper_half_the_lower_one_is_sent_alone() -> None:
    device = STORED % "{time: 300 ms}"
    assert wire(swirl("  verse: {swirl: {patch: a, time: 301 ms}}\n", STORING, "", device), "verse") == [
        "swirl C4 00",
        "swirl B4 2C 2D",
    ]


def test_after_a_recall_that_brings_nobody_knows_what_a_pair_is_sent_whole() -> None:
    device = STORED % "{}"
    show = swirl(
        "  verse: {swirl.patch: a}\n  chorus: {swirl: {patch: a, time: 301 ms}}\n", STORING, "", device
    )
    assert wire(show, "chorus", after="verse") == ["swirl B4 0C 02", "swirl B4 2C 2D"]


def test_a_pair_that_a_controller_can_reach_by_one_half_is_sent_whole() -> None:
    floor = "controllers: {floor: {port: rack, channel: 5, sends: {cc: [44]}}}"
    show = swirl("  verse: {swirl.time: 300 ms}\n  chorus: {swirl.time: 301 ms}\n", PAIR, floor)
    assert wire(show, "chorus", after="verse") == ["swirl B4 0C 02", "swirl B4 2C 2D"]


ONE_NUMBER = "controls: {%s: {kind: level, nrpn: [1, %d], data: 7, range: [0, 127]}}"
TWO = """
echo: {port: rack, channel: 5, definition: echo-box}
swirl: {port: rack, channel: 5, definition: swirl-box}
"""


def two(gap: str = "", devices: str = TWO, more: str = "") -> Judged:
    """Two boxes of parameter numbers, and what more there is."""
    definitions = {
        "echo-box": ONE_NUMBER % ("mix", 1) + gap,
        "swirl-box": ONE_NUMBER % ("rate", 2) + gap,
        "gate-box": "controls: {hold: {kind: level, cc: 20, range: [0, 127]}}",
    }
    return rig_show(devices + more, definitions, "  verse: {echo.mix: 3, swirl.rate: 4}\n")


ECHO_GROUP = ["echo B4 63 01", "echo B4 62 01", "echo B4 06 03"]
SWIRL_GROUP = ["swirl B4 63 01", "swirl B4 62 02", "swirl B4 06 04"]


@pytest.mark.parametrize("gap", ["", "\ngap: 5 ms"])
def test_parameter_groups_of_two_boxes_on_one_channel_never_interleave(gap: str) -> None:
    assert wire(two(gap), "verse") == ECHO_GROUP + SWIRL_GROUP


def test_groups_on_two_channels_fill_each_others_gaps() -> None:
    devices = TWO.replace("swirl: {port: rack, channel: 5", "swirl: {port: rack, channel: 6")
    show = two("\ngap: 5 ms", devices)
    assert moments(show, "verse") == [
        (0, "echo B4 63 01"),
        (960, "swirl B5 63 01"),
        (5960, "echo B4 62 01"),
        (6920, "swirl B5 62 02"),
        (11920, "echo B4 06 03"),
        (12880, "swirl B5 06 04"),
    ]


# Both hear the channel, so the gap of each holds before whatever comes there next.
def test_a_group_waits_out_its_boxs_gap_inside_and_the_next_group_of_its_channel_after_it() -> None:
    assert moments(two("\ngap: 5 ms"), "verse") == [
        (0, "echo B4 63 01"),
        (5960, "echo B4 62 01"),
        (11920, "echo B4 06 03"),
        (17880, "swirl B4 63 01"),
        (23840, "swirl B4 62 02"),
        (29800, "swirl B4 06 04"),
    ]


def test_a_message_of_another_channel_stands_inside_a_group_while_its_box_waits() -> None:
    definitions = {
        "echo-box": ONE_NUMBER % ("mix", 1) + "\ngap: 2 ms",
        "gate-box": "controls: {hold: {kind: level, cc: 20, range: [0, 127]}}",
    }
    devices = (
        "echo: {port: rack, channel: 5, definition: echo-box}\n"
        "gate: {port: rack, channel: 6, definition: gate-box}"
    )
    show = rig_show(devices, definitions, "  verse: {echo.mix: 3, gate.hold: 4}\n")
    assert moments(show, "verse") == [
        (0, "echo B4 63 01"),
        (960, "gate B5 14 04"),
        (2960, "echo B4 62 01"),
        (5920, "echo B4 06 03"),
    ]


def test_a_message_of_the_same_channel_never_stands_inside_a_group_though_its_box_waits() -> None:
    definitions = {
        "echo-box": ONE_NUMBER % ("mix", 1) + "\ngap: 2 ms",
        "gate-box": "controls: {hold: {kind: level, cc: 20, range: [0, 127]}}",
    }
    devices = (
        "echo: {port: rack, channel: 5, definition: echo-box}\n"
        "gate: {port: rack, channel: 5, definition: gate-box}"
    )
    show = rig_show(devices, definitions, "  verse: {echo.mix: 3, gate.hold: 4}\n")
    assert moments(show, "verse") == [
        (0, "echo B4 63 01"),
        (2960, "echo B4 62 01"),
        (5920, "echo B4 06 03"),
        (8880, "gate B4 14 04"),
    ]


def test_a_group_on_another_port_goes_at_the_same_time() -> None:
    devices = TWO.replace("swirl: {port: rack", "swirl: {port: loft")
    assert [at for at, _ in moments(two("", devices), "verse")] == [0, 0, 960, 960, 1920, 1920]


PACED = """
programs: {count: 8, first: 1, settle: %s, repeat: recalls}
gap: %s
controls:
  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, settle: %s}
  mix: {kind: level, cc: 21, range: [0, 127]}
"""


@pytest.mark.parametrize(
    ("settle", "gap", "of_mode", "starts"),
    [
        ("0 ms", "0 ms", "0 ms", [0, 640, 1600]),
        ("0 ms", "2 ms", "0 ms", [0, 2640, 5600]),
        ("35 ms", "0 ms", "0 ms", [0, 35640, 36600]),
        ("35 ms", "2 ms", "0 ms", [0, 35640, 38600]),
        ("0 ms", "0 ms", "10 ms", [0, 640, 11600]),
        ("0 ms", "2 ms", "10 ms", [0, 2640, 13600]),
        ("1 ms", "2 ms", "1 ms", [0, 2640, 5600]),
        ("35 ms", "2 ms", "10 ms", [0, 35640, 46600]),
    ],
)
def test_the_longer_of_gap_and_settle_lies_between_two_messages(
    settle: str, gap: str, of_mode: str, starts: list[int]
) -> None:
    device = "echo: {port: rack, channel: 5, definition: echo-box, patches: {a: 1}}"
    definition = PACED % (settle, gap, of_mode)
    show = rig_show(device, {"echo-box": definition}, "  verse: {echo: {patch: a, mode: clean, mix: 7}}\n")
    assert names(show) == []
    assert moments(show, "verse") == [
        (starts[0], "echo C4 00"),
        (starts[1], "echo B4 1E 01"),
        (starts[2], "echo B4 15 07"),
    ]


def test_a_banked_recall_keeps_the_gap_inside_and_its_settle_after_the_program() -> None:
    definition = (
        "programs: {count: 400, first: 1, bank: both, bank-when: change, settle: 20 ms}\ngap: 3 ms\n"
        "controls: {mix: {kind: level, cc: 21, range: [0, 127]}}"
    )
    device = "echo: {port: rack, channel: 5, definition: echo-box, patches: {a: 1}}"
    show = rig_show(device, {"echo-box": definition}, "  verse: {echo: {patch: a, mix: 7}}\n")
    assert moments(show, "verse") == [
        (0, "echo B4 00 00"),
        (3960, "echo B4 20 00"),
        (7920, "echo C4 00"),
        (28560, "echo B4 15 07"),
    ]


def test_a_control_of_two_messages_settles_after_the_last_of_them() -> None:
    definition = (
        "controls:\n  time: {kind: time, cc14: [12, 44], range: [0 ms, 127 ms], codes: [0, 127], "
        "settle: 10 ms}\n  mix: {kind: level, cc: 21, range: [0, 127]}"
    )
    device = "echo: {port: rack, channel: 5, definition: echo-box}"
    show = rig_show(device, {"echo-box": definition}, "  verse: {echo: {time: 5 ms, mix: 7}}\n")
    assert moments(show, "verse") == [(0, "echo B4 0C 00"), (960, "echo B4 2C 05"), (11920, "echo B4 15 07")]


def test_a_pressed_toggle_keeps_the_gap_before_it_is_let_go() -> None:
    definition = (
        "gap: 30 ms\ncontrols: {engage: {kind: switch, cc: 80, main: yes, toggle: {press: 127, release: 0}, "
        "powers-up: off}}"
    )
    device = "fuzz: {port: rack, channel: 5, definition: fuzz-box}"
    show = rig_show(device, {"fuzz-box": definition}, "  verse: {fuzz: on}\n")
    assert moments(show, "verse") == [(0, "fuzz B4 50 7F"), (30960, "fuzz B4 50 00")]
