"""What each kind of message does to a control."""

from __future__ import annotations

import pytest

from switchmatrix.simulate.standing import UNKNOWN, Half, Halves, Moved, Reloaded
from tests.simulate.boxes import box, controls, moved, now, start, told

PLAIN = """\
controls:
  engage: {kind: switch, cc: 80}
  mix: {kind: level, cc: 21, range: [0, 127]}"""


def test_control_change_sets_its_own_control_only() -> None:
    assert controls(box(PLAIN), "B0 15 40", 127, 3) == (127, 0x40)


def test_code_that_means_nothing_is_kept_as_it_came() -> None:
    assert controls(box(PLAIN), "B0 50 40", 127, 3) == (0x40, 3)


@pytest.mark.parametrize("sent", ["B1 15 40", "B0 16 40", "90 15 40", "A0 15 40", "F8", "F3 15"])
def test_message_that_is_not_the_boxs_own_is_ignored(sent: str) -> None:
    one = box(PLAIN)
    assert (controls(one, sent, 127, 3), [t.ignored for t in told(one, sent)]) == ((127, 3), [True])


def test_omni_box_hears_every_channel() -> None:
    assert controls(box(PLAIN, "channel: 1, omni: yes"), "BF 15 40 B7 50 7F", 0, 3) == (127, 0x40)


TWO_CHANNELS = """\
controls:
  mix: {kind: level, cc: 21, range: [0, 127]}
  loop: {kind: switch, cc: 21, channel: loops}"""


def test_control_listens_on_its_own_channel() -> None:
    one = box(TWO_CHANNELS, "channels: {main: 1, loops: 2}")
    assert controls(one, "B1 15 7F", 3, 0) == (3, 127)


def test_omni_box_takes_one_message_for_both_channels() -> None:
    one = box(TWO_CHANNELS, "channels: {main: 1, loops: 2}, omni: yes")
    assert controls(one, "B1 15 7F", 3, 0) == (127, 127)


def test_gang_is_one_box() -> None:
    assert controls(box(PLAIN, "channel: 1, gang: 2"), "B0 15 40", 127, 3) == (127, 0x40)


OTHERS = """\
controls:
  sample: {kind: level, note: 60, range: [1, 127]}
  cutoff: {kind: level, pitch-bend: yes, range: [0, 16383]}
  growl: {kind: level, channel-pressure: yes, range: [0, 127]}"""


def test_note_bend_and_pressure_carry_codes() -> None:
    assert controls(box(OTHERS), "90 3C 50 E0 01 02 D0 05") == (0x50, 257, 5)


def test_other_key_strikes_nothing() -> None:
    assert controls(box(OTHERS), "90 3D 50", 1, 2, 3) == (1, 2, 3)


def test_cc_that_moves_a_control_too_leaves_it_somewhere() -> None:
    one = box("controls: {wah: {kind: level, nrpn: [1, 8], data: 7, range: [0, 127], also-cc: [20]}}")
    assert controls(one, "B0 14 40", 5) == (Moved(20),)


# MMA RP-015 leaves volume (7), pan (10), sound controllers (70-79) and effects depths (91-95) alone.
@pytest.mark.parametrize("number", [7, 10, 70, 79, 91, 95])
def test_reset_all_controllers_leaves_these_alone(number: int) -> None:
    one = box(f"controls: {{it: {{kind: level, cc: {number}, range: [0, 127]}}}}")
    assert controls(one, "B0 79 00", 5) == (5,)


@pytest.mark.parametrize(
    "carrier", ["cc: 69", "cc: 80", "cc: 90", "pitch-bend: yes", "channel-pressure: yes"]
)
def test_reset_all_controllers_may_move_any_other(carrier: str) -> None:
    one = box(f"controls: {{it: {{kind: level, {carrier}, range: [0, 127]}}}}")
    assert controls(one, "B0 79 00", 5) == (Moved(121),)


def test_system_reset_leaves_nothing_known() -> None:
    one = box(PLAIN)
    assert now(one, "FF", start(one, 127, 3)) == start(one)


# 14 bits

PAIR = "controls: {time: {kind: level, cc14: [12, 44], range: [0, 16383]}}"


@pytest.mark.parametrize("halves", [Halves.ZEROED, Halves.KEPT])
def test_both_halves_are_right_on_any_box(halves: Halves) -> None:
    assert controls(box(PAIR, halves=halves), "B0 0C 03 B0 2C 54") == (468,)


@pytest.mark.parametrize(("halves", "stands"), [(Halves.ZEROED, 384), (Halves.KEPT, Half(3, None))])
def test_upper_half_alone_leaves_the_lower_one_to_the_box(halves: Halves, stands: int | Half) -> None:
    assert controls(box(PAIR, halves=halves), "B0 0C 03") == (stands,)


def test_lower_half_alone_leaves_the_upper_one_unknown() -> None:
    assert controls(box(PAIR), "B0 2C 54") == (Half(None, 0x54),)


@pytest.mark.parametrize(("halves", "stands"), [(Halves.ZEROED, 384), (Halves.KEPT, 468)])
def test_lower_half_before_the_upper_one_is_lost_on_a_box_that_zeroes(halves: Halves, stands: int) -> None:
    assert controls(box(PAIR, halves=halves), "B0 2C 54 B0 0C 03") == (stands,)


# Toggles

TOGGLE = "controls: {engage: {kind: switch, cc: 80, toggle: {press: 127, release: 0}}}"


def test_press_flips_and_release_does_nothing() -> None:
    one = box(TOGGLE)
    assert [controls(one, sent, 0) for sent in ("B0 50 7F", "B0 50 7F B0 50 00", "B0 50 7F 50 00 50 7F")] == [
        (1,),
        (1,),
        (0,),
    ]


def test_press_from_unknown_stays_unknown() -> None:
    assert controls(box(TOGGLE), "B0 50 7F") == (UNKNOWN,)


def test_value_that_is_neither_press_nor_release_leaves_a_toggle_unknown() -> None:
    assert controls(box(TOGGLE), "B0 50 40", 1) == (UNKNOWN,)


def test_toggle_of_14_bits_flips_when_its_lower_half_has_come() -> None:
    one = box("controls: {it: {kind: switch, nrpn: [1, 8], data: 14, toggle: {press: 200, release: none}}}")
    sent = "B0 63 01 62 08 06 01"
    assert (controls(one, sent, 0), controls(one, f"{sent} 26 48", 0)) == ((0,), (1,))


def test_lower_half_alone_may_flip_a_toggle_of_14_bits_or_not() -> None:
    one = box("controls: {it: {kind: switch, cc14: [12, 44], toggle: {press: 200, release: none}}}")
    assert controls(one, "B0 2C 48", 0) == (UNKNOWN,)


# Triggers

BELL = "controls: {bell: {kind: trigger, cc: 90, codes: {fire: 100}}}"


# Which values set a trigger off differs by maker (common practice): at another code it may go off, or not.
def test_trigger_goes_off_surely_at_its_code_and_perhaps_at_others() -> None:
    one = box(BELL)
    assert now(one, "B0 5A 64 B0 5A 63 B0 5A 64").fired == ((0, 100), (0, None), (0, 100))


def test_trigger_that_may_have_gone_off_is_told_without_a_code() -> None:
    one = box("controls: {bell: {kind: trigger, nrpn: [1, 8], data: 7, also-cc: [20]}}")
    assert [now(one, sent).fired for sent in ("B0 06 7F", "B0 14 00")] == [((0, None),), ((0, None),)]


def test_trigger_stands_nowhere() -> None:
    assert controls(box(BELL), "B0 5A 64") == (UNKNOWN,)


# Resets

MODES = """\
controls:
  bank: {kind: choice, cc: 30, values: {low: 0, high: 1}, resets: [mode]}
  mode: {kind: choice, cc: 31, values: {tape: 0, clean: 1}, resets: [mix]}
  mix: {kind: level, cc: 21, range: [0, 127]}"""


def test_choice_reloads_what_it_resets() -> None:
    assert controls(box(MODES), "B0 1F 01", 0, 0, 50) == (0, 1, Reloaded("mode"))


def test_reloaded_choice_reloads_what_it_resets() -> None:
    assert controls(box(MODES), "B0 1E 01", 0, 0, 50) == (1, Reloaded("bank"), Reloaded("bank"))


def test_control_set_after_the_reset_stands() -> None:
    assert controls(box(MODES), "B0 1F 01 15 32", 0, 0, 50) == (0, 1, 50)


def test_message_tells_all_that_it_moved() -> None:
    assert moved(box(MODES), "B0 1F 01 15 32") == [("mode", "mix"), ("mix",)]


STORED_MODES = f"""\
programs: {{count: 128, first: 0, settle: 1 ms, repeat: recalls}}
{MODES.replace("127]}", "127], stored: yes}")}"""


@pytest.mark.parametrize(
    ("sent", "edited"),
    [
        ("C0 05", []),
        ("C0 05 B0 15 32", ["mix"]),
        ("C0 05 B0 1F 01", ["mode", "mix"]),
        ("C0 05 B0 1F 01 C0 06", ["mode"]),
    ],
)
def test_edits_since_the_recall_are_kept(sent: str, edited: list[str]) -> None:
    one = box(STORED_MODES)
    bits = now(one, sent).edited
    assert [one.name_of(n) for n in range(3) if bits >> n & 1] == edited


# Note Off, and Note On with velocity 0, let a key go (MIDI 1.0 Detailed Specification 4.2.1, p. 10).
def test_letting_a_key_go_turns_a_switch_off_whose_off_is_nought() -> None:
    one = box("controls: {pad: {kind: switch, note: 60, codes: {on: 100, off: 0}}}")
    assert [controls(one, sent) for sent in ("90 3C 64", "90 3C 64 80 3C 40", "90 3C 64 90 3C 00")] == [
        *((100,), (0,), (0,))
    ]


def test_letting_a_key_go_does_nothing_to_a_switch_with_another_off() -> None:
    one = box("controls: {pad: {kind: switch, note: 60, codes: {on: 100, off: 1}}}")
    assert controls(one, "90 3C 64 80 3C 40") == (100,)
