"""One line a name: each name keeps its last layer's line, over home's; the lines between go."""

from __future__ import annotations

from tests.states.kit import show, shown

RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}
instruments:
  baritone: {tuning: B standard, sets: {gate: tight}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB, gate-1.release: 60 ms}
    loose: {gate-1.threshold: -55 dB}
    open: {gate-1.threshold: -70 dB, gate-1.release: 300 ms}
home: {gate: open, echo: {engage: off, patch: slap, feed: 0 %}}
"""

HOME = {
    "gate-1.threshold": "-70 dB",
    "gate-1.release": "300 ms",
    "echo.patch": "slap",
    "echo.engage": "off",
    "echo.feed": "0 %",
    "echo.mix": "as slap",
    "echo.time": "as slap",
}


def test_a_bridge_that_says_loose_has_nothing_left_of_the_verses_tight() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate: tight}
  bridge: {like: verse, gate: loose}
"""
    # The release is home's 300 ms, not the 60 ms of `tight`.
    assert shown(show(RIG, lantern), "bridge") == {**HOME, "gate-1.threshold": "-55 dB"}


def test_a_scene_that_says_loose_has_nothing_left_of_the_bases_tight() -> None:
    lantern = """\
song: Lantern
base: {gate: tight}
scenes:
  verse: {gate: loose}
"""
    assert shown(show(RIG, lantern), "verse") == {**HOME, "gate-1.threshold": "-55 dB"}


def test_a_scene_that_says_loose_has_nothing_left_of_the_instruments_tight() -> None:
    lantern = """\
song: Lantern
instrument: baritone
scenes:
  verse: {gate: loose}
"""
    assert shown(show(RIG, lantern), "verse") == {**HOME, "gate-1.threshold": "-55 dB"}


def test_homes_line_of_a_name_stays_under_the_scenes_line_of_it() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: loose}\n"
    # `loose` says nothing of the release: that of home's `open` stays.
    assert shown(show(RIG, lantern), "verse") == {**HOME, "gate-1.threshold": "-55 dB"}


def test_an_outright_line_under_a_word_shows_again_when_the_word_goes() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate-1.release: 100 ms}
  chorus: {like: verse, gate: tight}
  bridge: {like: chorus, gate: loose}
"""
    # The chorus's `tight` and its 60 ms are gone from the bridge; the verse's own line is another name.
    expected = {**HOME, "gate-1.threshold": "-55 dB", "gate-1.release": "100 ms"}
    assert shown(show(RIG, lantern), "bridge") == expected


def test_an_entry_and_the_controls_that_its_words_set_are_different_names() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate: tight}
  bridge: {like: verse, gate-1.threshold: -60 dB}
"""
    expected = {**HOME, "gate-1.threshold": "-60 dB", "gate-1.release": "60 ms"}
    assert shown(show(RIG, lantern), "bridge") == expected


def test_a_device_turned_off_keeps_the_patch_that_an_earlier_layer_chose() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo: cliff}
  bridge: {like: verse, echo: off}
"""
    assert shown(show(RIG, lantern), "bridge") == {
        **HOME,
        "echo.patch": "cliff",
        "echo.mix": "as cliff: 35 %",
        "echo.time": "as cliff: 480 ms",
    }


def test_a_patch_named_for_a_device_turns_its_main_switch_on() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo: cliff}\n"
    assert shown(show(RIG, lantern), "verse") == {
        **HOME,
        "echo.patch": "cliff",
        "echo.engage": "on",
        "echo.mix": "as cliff: 35 %",
        "echo.time": "as cliff: 480 ms",
    }


def test_a_patch_named_by_its_own_line_leaves_the_main_switch_alone() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: cliff}\n  chorus: {like: verse, echo: on}\n"
    assert shown(show(RIG, lantern), "verse") == {
        **HOME,
        "echo.patch": "cliff",
        "echo.mix": "as cliff: 35 %",
        "echo.time": "as cliff: 480 ms",
    }


def test_a_dotted_line_beats_the_device_line_of_its_block() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo: cliff, echo.engage: off}
  chorus: {echo.engage: off, echo: cliff}
  finale: {like: verse, echo: on}
"""
    expected = {
        **HOME,
        "echo.patch": "cliff",
        "echo.mix": "as cliff: 35 %",
        "echo.time": "as cliff: 480 ms",
    }
    judged = show(RIG, lantern)
    assert (shown(judged, "verse"), shown(judged, "chorus")) == (expected, expected)


def test_a_dotted_patch_beats_the_patch_of_the_device_line() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: slap, echo: cliff}\n"
    assert shown(show(RIG, lantern), "verse") == {**HOME, "echo.engage": "on"}


def test_a_dotted_line_beats_the_same_control_inside_the_device_line() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.feed: 20 %, echo: {engage: on, feed: 70 %}}\n"
    assert shown(show(RIG, lantern), "verse") == {**HOME, "echo.engage": "on", "echo.feed": "20 %"}


def test_a_dotted_line_of_an_earlier_layer_does_not_beat_a_later_device_line() -> None:
    lantern = """\
song: Lantern
base: {echo.engage: off}
scenes:
  verse: {echo: on}
"""
    assert shown(show(RIG, lantern), "verse") == {**HOME, "echo.engage": "on"}


LOOPS = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  box: {port: rack, channel: 2, definition: loop-box}
home: {box: {loops: [2]}}
"""


def test_a_list_of_loops_sets_every_loop_of_the_box() -> None:
    box = "definition: loop box\nloops: {cc: [81, 82, 83]}\n"
    lantern = "song: Lantern\nscenes:\n  verse: {box: {loops: [1, 3]}}\n"
    state = shown(show(LOOPS, lantern, {"definitions/loop-box.yaml": box}), "verse")
    assert state == {"box.loop-1": "on", "box.loop-2": "off", "box.loop-3": "on"}


def test_one_loops_own_line_beats_the_list_of_loops_in_its_block() -> None:
    box = "definition: loop box\nloops: {cc: [81, 82, 83]}\n"
    lantern = "song: Lantern\nscenes:\n  verse: {box.loop-2: on, box: {loops: [1, 3]}}\n"
    state = shown(show(LOOPS, lantern, {"definitions/loop-box.yaml": box}), "verse")
    assert state == {"box.loop-1": "on", "box.loop-2": "on", "box.loop-3": "on"}
