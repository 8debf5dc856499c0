"""What a box does with the program it is in: recalls, nothing, or flips a switch."""

from __future__ import annotations

import pytest

from switchmatrix.pipeline import Judged
from tests.compile.shown import wire
from tests.support import judged, names

ALL = "{slap: {at: 4, stores: {mix: 20 %, time: 100 ms}}, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}"
"""Patches that list all that they store."""


def show_of(repeat: str, patches: str, scenes: str, extra: str = "") -> Judged:
    """An echo on channel 3 that answers a repeated program so, with these patches and scenes."""
    echo = f"""definition: two-tap echo
programs: {{count: 128, first: 1, repeat: {repeat}}}
controls:
  engage: {{kind: switch, cc: 80, main: yes}}
  mix: {{kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}}
  time: {{kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}}
"""
    rig = f"""rig: A rig
ports: {{rack: {{out: rack, speed: din}}}}
devices:
  echo: {{port: rack, channel: 3, definition: two-tap-echo, patches: {patches}}}
home: {{echo.engage: on}}
{extra}
"""
    song = "song: Lantern\nscenes:\n" + scenes
    return judged({"rigs/a-rig.yaml": rig, "definitions/two-tap-echo.yaml": echo, "lantern.yaml": song})


def test_from_unknown_a_box_that_may_do_nothing_is_sent_all_that_its_patch_lists() -> None:
    show = show_of("nothing", ALL, "  verse: {echo: {patch: cliff}}\n")
    assert wire(show, "verse") == ["echo C2 10", "echo B2 50 7F", "echo B2 15 23", "echo B2 16 30"]


def test_from_unknown_a_value_of_the_scene_goes_before_what_the_patch_lists() -> None:
    show = show_of("nothing", ALL, "  verse: {echo: {patch: cliff, mix: 40 %}}\n")
    assert wire(show, "verse") == ["echo C2 10", "echo B2 50 7F", "echo B2 15 28", "echo B2 16 30"]


def test_from_another_patch_a_box_that_ignores_repeats_surely_recalls() -> None:
    show = show_of("nothing", ALL, "  verse: {echo.patch: slap}\n  chorus: {echo.patch: cliff}\n")
    assert wire(show, "chorus", after="verse") == ["echo C2 10"]


@pytest.mark.parametrize("repeat", ["nothing", "toggles engage", "recalls"])
def test_a_box_in_the_patch_already_gets_a_listed_control_by_its_own_message(repeat: str) -> None:
    show = show_of(repeat, ALL, "  verse: {echo: {patch: cliff, mix: 40 %}}\n  chorus: {echo.patch: cliff}\n")
    assert wire(show, "chorus", after="verse") == ["echo B2 15 23"]


ONE_OF_TWO = "{cliff: {at: 17, stores: {mix: 35 %}}}"
"""A patch that does not list its time."""


@pytest.mark.parametrize("repeat", ["nothing", "toggles engage"])
def test_a_control_left_to_a_patch_that_may_not_be_recalled_and_not_listed_is_an_error(repeat: str) -> None:
    show = show_of(repeat, ONE_OF_TWO, "  verse: {echo.patch: cliff}\n")
    assert names(show) == ["left-to-repeat rigs/a-rig.yaml:4"]


def test_a_control_left_to_repeat_is_found_once_for_all_scenes_and_pairs() -> None:
    scenes = """
  verse: {echo: {patch: cliff, mix: 40 %}}
  chorus: {echo: {patch: cliff, mix: 50 %}}
  bridge: {echo: {patch: cliff, time: 480 ms}}
  coda: {echo: {engage: on, patch: cliff}}
"""
    assert names(show_of("nothing", ONE_OF_TWO, scenes)) == ["left-to-repeat rigs/a-rig.yaml:4"]


def test_one_scene_that_leaves_it_to_the_patch_is_enough_for_the_error() -> None:
    scenes = "  verse: {echo: {patch: cliff, time: 480 ms}}\n  chorus: {echo.patch: cliff}\n"
    assert names(show_of("nothing", ONE_OF_TWO, scenes)) == ["left-to-repeat rigs/a-rig.yaml:4"]


@pytest.mark.parametrize("repeat", ["nothing", "toggles engage"])
def test_a_control_that_every_scene_gives_need_not_be_listed(repeat: str) -> None:
    show = show_of(
        repeat,
        ONE_OF_TWO,
        "  verse: {echo: {patch: cliff, time: 480 ms}}\n  chorus: {echo: {patch: cliff, time: 500 ms}}\n",
    )
    assert names(show) == []
    assert wire(show, "chorus", after="verse") == ["echo B2 16 32"]


def test_a_control_in_the_players_hands_need_not_be_listed() -> None:
    show = show_of("nothing", ONE_OF_TWO, "  verse: {echo.patch: cliff}\n", "hands: [echo.time]")
    assert names(show) == []
    assert wire(show, "verse") == ["echo C2 10", "echo B2 50 7F", "echo B2 15 23"]


def test_a_box_that_recalls_its_own_patch_again_need_list_nothing() -> None:
    assert names(show_of("recalls", "{cliff: 17}", "  verse: {echo.patch: cliff}\n")) == []


def test_each_device_left_to_repeat_is_found_for_itself() -> None:
    show = judged(
        {
            "rigs/a-rig.yaml": "rig: A rig\nports: {rack: {out: rack, speed: din}}\ndevices:\n"
            "  echo: {port: rack, channel: 3, definition: two-tap-echo, patches: {cliff: 17}}\n"
            "  echo-2: {port: rack, channel: 4, definition: two-tap-echo, patches: {cliff: 17}}\n",
            "definitions/two-tap-echo.yaml": "definition: two-tap echo\n"
            "programs: {count: 128, first: 1, repeat: nothing}\n"
            "controls: {mix: {kind: level, cc: 21, range: [0 %, 100 %], stored: yes}}\n",
            "lantern.yaml": "song: Lantern\n"
            "scenes: {verse: {echo.patch: cliff, echo-2.patch: cliff}, chorus: {like: verse}}\n",
        }
    )
    assert names(show) == ["left-to-repeat rigs/a-rig.yaml:4", "left-to-repeat rigs/a-rig.yaml:5"]


def test_from_unknown_the_switch_that_a_repeat_flips_is_sent_after_the_program() -> None:
    show = show_of("toggles engage", ALL, "  verse: {echo: {engage: off, patch: cliff}}\n")
    assert wire(show, "verse") == ["echo C2 10", "echo B2 50 00", "echo B2 15 23", "echo B2 16 30"]


def test_from_another_patch_the_switch_that_a_repeat_flips_stays() -> None:
    scenes = "  verse: {echo: {engage: on, patch: slap}}\n  chorus: {echo: {engage: on, patch: cliff}}\n"
    assert wire(show_of("toggles engage", ALL, scenes), "chorus", after="verse") == ["echo C2 10"]


def test_a_box_that_flips_a_switch_is_not_sent_the_program_it_is_in() -> None:
    scenes = "  verse: {echo: {engage: on, patch: cliff}}\n  chorus: {echo: {engage: off, patch: cliff}}\n"
    assert wire(show_of("toggles engage", ALL, scenes), "chorus", after="verse") == ["echo B2 50 00"]


FOOT = "controllers: {floor: {port: rack, channel: 3, sends: {programs: yes}}}"


def test_where_the_patch_is_unknown_the_flipped_switch_and_the_stored_controls_are_sent() -> None:
    scenes = "  verse: {echo: {engage: on, patch: slap}}\n  chorus: {echo: {engage: on, patch: cliff}}\n"
    show = show_of("toggles engage", ALL, scenes, FOOT)
    assert wire(show, "chorus", after="verse") == [
        "echo C2 10",
        "echo B2 50 7F",
        "echo B2 15 23",
        "echo B2 16 30",
    ]


def test_where_the_patch_is_unknown_a_box_that_ignores_repeats_keeps_its_switch() -> None:
    scenes = "  verse: {echo: {engage: on, patch: slap}}\n  chorus: {echo: {engage: on, patch: cliff}}\n"
    show = show_of("nothing", ALL, scenes, FOOT)
    assert wire(show, "chorus", after="verse") == ["echo C2 10", "echo B2 15 23", "echo B2 16 30"]
