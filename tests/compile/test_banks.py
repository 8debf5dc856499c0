"""Bank select and its program: one unit, the whole scheme, and only where the bank is not known to be chosen.

Bank select is CC 0, CC 32, or both in that order before the program change (MIDI 1.0 Detailed
Specification 4.2.1, p. 13).
"""

from __future__ import annotations

import pytest

from switchmatrix.pipeline import Judged
from tests.compile.rigs import rig_show
from tests.compile.shown import visits, wire

PATCHES = "{a: 1, b: 2, far: 129, wide: {bank: 3, program: 128}}"
"""Two patches of bank 1, one of bank 2, one of bank 3, on a panel that counts from 1."""

SCENES = """
  a: {hall.patch: a}
  b: {hall.patch: b}
  far: {hall.patch: far}
  wide: {hall.patch: wide}
"""


def hall(
    when: str = "change",
    scheme: str = "both",
    scenes: str = SCENES,
    extra: str = "",
    controls: str = "",
    programs: str = "",
    patches: str = PATCHES,
) -> Judged:
    """A reverb on channel 9 with 400 programs in banks of 128."""
    definition = f"programs: {{count: 400, first: 1, bank: {scheme}, bank-when: {when}{programs}}}\n"
    if controls:
        definition += f"controls:\n{controls}"
    device = f"hall: {{port: rack, channel: 9, definition: hall-box, patches: {patches}}}"
    return rig_show(device, {"hall-box": definition}, scenes, extra)


@pytest.mark.parametrize("when", ["change", "always"])
def test_from_unknown_bank_select_goes_before_the_program(when: str) -> None:
    assert wire(hall(when), "far") == ["hall B8 00 00", "hall B8 20 01", "hall C8 00"]


def test_where_only_the_program_changes_the_bank_is_not_selected_again() -> None:
    assert wire(hall("change"), "b", after="a") == ["hall C8 01"]


def test_a_box_that_wants_its_bank_always_gets_it_though_only_the_program_changes() -> None:
    assert wire(hall("always"), "b", after="a") == ["hall B8 00 00", "hall B8 20 00", "hall C8 01"]


def test_where_the_bank_changes_it_is_selected_whole_though_half_of_it_stays() -> None:
    assert wire(hall("change"), "far", after="a") == ["hall B8 00 00", "hall B8 20 01", "hall C8 00"]


def test_each_visit_knows_the_bank_from_the_visit_before() -> None:
    scenes = "  a: {hall.patch: a}\n  b: {hall.patch: b}\n  far: {hall.patch: far}\n  back: {hall.patch: b}\n"
    assert visits(hall(scenes=scenes)) == [
        ["hall B8 00 00", "hall B8 20 00", "hall C8 00"],
        ["hall C8 01"],
        ["hall B8 00 00", "hall B8 20 01", "hall C8 00"],
        ["hall B8 00 00", "hall B8 20 00", "hall C8 01"],
    ]


@pytest.mark.parametrize(
    ("scheme", "sent"),
    [
        ("cc0", ["hall B8 00 02", "hall C8 7F"]),
        ("cc32", ["hall B8 20 02", "hall C8 7F"]),
        ("both", ["hall B8 00 00", "hall B8 20 02", "hall C8 7F"]),
    ],
)
def test_bank_select_is_the_whole_of_a_boxs_scheme(scheme: str, sent: list[str]) -> None:
    assert wire(hall(scheme=scheme), "wide") == sent


def test_a_scene_of_the_same_patch_selects_no_bank() -> None:
    assert wire(hall("always", scenes=SCENES + "  coda: {hall.patch: a}\n"), "coda", after="a") == []


def floor(sends: str, channel: int = 9) -> str:
    """A controller on the reverb's port."""
    return f"controllers: {{floor: {{port: rack, channel: {channel}, sends: {{{sends}}}}}}}"


@pytest.mark.parametrize("sends", ["cc: [0]", "cc: [32]", "cc: [0-31]"])
def test_after_a_controller_that_sends_half_of_bank_select_the_bank_is_selected_anew(sends: str) -> None:
    assert wire(hall(extra=floor(sends)), "b", after="a") == ["hall B8 00 00", "hall B8 20 00", "hall C8 01"]


def test_a_controller_that_sends_bank_select_alone_moves_no_patch() -> None:
    show = hall(extra=floor("cc: [0, 32]"), scenes=SCENES + "  coda: {hall.patch: a}\n")
    assert wire(show, "coda", after="a") == []


def test_after_a_controller_that_calls_programs_the_patch_is_called_anew_with_its_bank() -> None:
    show = hall(extra=floor("programs: yes"), scenes=SCENES + "  coda: {hall.patch: a}\n")
    assert wire(show, "coda", after="a") == ["hall B8 00 00", "hall B8 20 00", "hall C8 00"]


def test_a_controller_on_another_channel_leaves_the_bank() -> None:
    assert wire(hall(extra=floor("programs: yes, cc: [0, 32]", channel=8)), "b", after="a") == ["hall C8 01"]


def test_where_the_player_calls_programs_a_scene_that_names_one_selects_its_bank() -> None:
    show = hall(programs=", moved-by: player")
    assert wire(show, "b", after="a") == ["hall B8 00 00", "hall B8 20 00", "hall C8 01"]
    assert wire(show, "a", after="a") == ["hall B8 00 00", "hall B8 20 00", "hall C8 00"]


def test_where_a_scene_does_not_name_the_patch_its_bank_is_unknown_afterwards() -> None:
    scenes = "  a: {hall.patch: a}\n  none: {}\n  b: {hall.patch: b}\n"
    show = hall(scenes=scenes, extra="hands: [hall.patch]")
    assert visits(show)[1:] == [[], ["hall B8 00 00", "hall B8 20 00", "hall C8 01"]]


SCENE_OF_TWO = """
  one: {hall: {patch: a, freeze: on}}
  two: {hall: {patch: a, freeze: off}}
  three: {hall: {patch: b, freeze: off}}
"""
FREEZE = "  freeze: {kind: switch, program: yes, bank: %d, codes: {on: 100, off: 101}, main: yes}\n"


def test_a_program_carried_control_selects_its_own_bank_after_the_recall() -> None:
    assert wire(hall(controls=FREEZE % 3, scenes=SCENE_OF_TWO), "one") == [
        *("hall B8 00 00", "hall B8 20 00", "hall C8 00"),
        *("hall B8 00 00", "hall B8 20 02", "hall C8 64"),
    ]


def test_a_program_carried_control_in_the_patchs_bank_needs_no_bank_select_of_its_own() -> None:
    assert wire(hall(controls=FREEZE % 1, scenes=SCENE_OF_TWO), "one") == [
        *("hall B8 00 00", "hall B8 20 00", "hall C8 00"),
        "hall C8 64",
    ]


def test_a_box_that_wants_its_bank_always_gets_it_before_a_program_carried_control_too() -> None:
    assert wire(hall("always", controls=FREEZE % 1, scenes=SCENE_OF_TWO), "two", after="one") == [
        *("hall B8 00 00", "hall B8 20 00", "hall C8 65"),
    ]


def test_between_recalls_a_control_in_the_patchs_bank_travels_alone() -> None:
    assert wire(hall(controls=FREEZE % 1, scenes=SCENE_OF_TWO), "two", after="one") == ["hall C8 65"]


def test_a_control_in_another_bank_than_the_patch_is_sent_with_its_bank_each_time() -> None:
    """Whether the scene before has left the box in that bank depends on what came before it."""
    show = hall(controls=FREEZE % 3, scenes=SCENE_OF_TWO)
    assert wire(show, "two", after="one") == ["hall B8 00 00", "hall B8 20 02", "hall C8 65"]


def test_a_recall_after_a_control_in_another_bank_selects_the_bank() -> None:
    show = hall(controls=FREEZE % 3, scenes=SCENE_OF_TWO)
    assert wire(show, "three", after="two") == ["hall B8 00 00", "hall B8 20 00", "hall C8 01"]


def test_two_controls_of_one_bank_share_a_bank_select() -> None:
    controls = FREEZE % 3 + "  shimmer: {kind: switch, program: yes, bank: 3, codes: {on: 102, off: 103}}\n"
    show = hall(controls=controls, scenes="  one: {hall: {patch: a, freeze: on, shimmer: on}}\n")
    assert wire(show, "one")[3:] == ["hall B8 00 00", "hall B8 20 02", "hall C8 64", "hall C8 66"]


def test_controls_of_one_bank_go_one_after_another_though_one_of_another_bank_stands_between() -> None:
    controls = (
        FREEZE % 3
        + "  shimmer: {kind: switch, program: yes, bank: 2, codes: {on: 102, off: 103}}\n"
        + "  swell: {kind: switch, program: yes, bank: 3, codes: {on: 104, off: 105}}\n"
    )
    show = hall(controls=controls, scenes="  one: {hall: {patch: a, freeze: on, shimmer: on, swell: on}}\n")
    assert wire(show, "one")[3:] == [
        *("hall B8 00 00", "hall B8 20 02", "hall C8 64", "hall C8 68"),
        *("hall B8 00 00", "hall B8 20 01", "hall C8 66"),
    ]


def test_controls_in_two_banks_take_turns_so_that_the_bank_changes_least() -> None:
    controls = FREEZE % 2 + "  shimmer: {kind: switch, program: yes, bank: 1, codes: {on: 102, off: 103}}\n"
    show = hall(controls=controls, scenes="  one: {hall: {patch: a, freeze: on, shimmer: on}}\n")
    assert wire(show, "one") == [
        *("hall B8 00 00", "hall B8 20 00", "hall C8 00"),
        "hall C8 66",
        *("hall B8 00 00", "hall B8 20 01", "hall C8 64"),
    ]


LOOPS = "{port: rack, channels: {main: 9, loops: 10}, definition: hall-box, patches: {a: 1, b: 2}}"


def loops(bank: int) -> Judged:
    """A reverb that hears the switch `freeze`, which travels as a program, on a second channel."""
    definition = (
        "programs: {count: 400, first: 1, bank: both, bank-when: change}\n"
        f"controls:\n  freeze: {{kind: switch, program: yes, bank: {bank}, codes: {{on: 100, off: 101}}, "
        "main: yes, channel: loops}"
    )
    return rig_show(f"hall: {LOOPS}", {"hall-box": definition}, SCENE_OF_TWO)


def test_a_bank_that_one_channel_has_chosen_is_not_taken_to_be_another_channels() -> None:
    assert wire(loops(1), "one") == [
        *("hall B8 00 00", "hall B8 20 00", "hall C8 00"),
        *("hall B9 00 00", "hall B9 20 00", "hall C9 64"),
    ]
    assert wire(loops(1), "two", after="one") == ["hall B9 00 00", "hall B9 20 00", "hall C9 65"]


def test_a_bank_chosen_on_another_channel_may_be_the_boxs_only_one() -> None:
    assert wire(loops(1), "three", after="two") == ["hall C8 01"]
    assert wire(loops(3), "three", after="two") == ["hall B8 00 00", "hall B8 20 00", "hall C8 01"]


def test_a_trigger_that_travels_as_a_program_selects_its_bank() -> None:
    controls = "  bell: {kind: trigger, program: yes, bank: 3, codes: {fire: 100}}\n"
    scenes = "  one: {hall.patch: a}\n  two: {hall: {patch: a, bell: now}}\n  three: {hall.patch: b}\n"
    assert visits(hall(controls=controls, scenes=scenes))[1:] == [
        ["hall B8 00 00", "hall B8 20 02", "hall C8 64"],
        ["hall B8 00 00", "hall B8 20 00", "hall C8 01"],
    ]


def test_two_programs_of_a_remap_that_call_one_patch_are_that_patch() -> None:
    """Program 5 calls 12: `twelve` is what the panel shows, `other` says the program outright."""
    definition = (
        "programs: {count: 20, first: 1, repeat: nothing, remap: {5: 12}}\n"
        "controls:\n  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}\n"
        "  engage: {kind: switch, cc: 80, main: yes}"
    )
    device = (
        "echo: {port: rack, channel: 3, definition: echo-box, patches: "
        "{twelve: {at: 12, stores: {mix: 5}}, other: {program: 5, stores: {mix: 5}}}}"
    )
    scenes = "  one: {echo: {patch: twelve, mix: 9}}\n  two: {echo: {patch: other}}\n"
    show = rig_show(device, {"echo-box": definition}, scenes, "home: {echo.engage: on}")
    assert wire(show, "one")[0] == "echo C2 0B"
    assert wire(show, "two", after="one") == ["echo B2 15 05"]
