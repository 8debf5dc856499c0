"""Undetermined controls, and the values that every control understands: `as stored` and `home`."""

from __future__ import annotations

from tests.states.kit import show, shown
from tests.support import names

RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %}}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB, gate-1.release: 60 ms}
    eased: {gate-1.threshold: home}
  colour:
    dark: {echo.mix: 60 %}
    plain: {echo.mix: as stored}
home: {gate: tight, echo: {engage: on, patch: slap, feed: 0 %}}
"""

HOME = {
    "gate-1.threshold": "-38 dB",
    "gate-1.release": "60 ms",
    "echo.patch": "slap",
    "echo.engage": "on",
    "echo.feed": "0 %",
    "echo.mix": "as slap",
    "echo.time": "as slap",
}
CLIFF = {**HOME, "echo.patch": "cliff", "echo.mix": "as cliff: 35 %", "echo.time": "as cliff"}


def test_a_control_that_nothing_gives_is_undetermined_and_a_warning() -> None:
    rig = RIG.replace("engage: on, patch: slap, feed: 0 %", "engage: on, patch: slap")
    judged = show(rig, "song: Lantern\nscenes:\n  verse: {}\n")
    assert (names(judged), shown(judged, "verse")) == (
        ["undetermined rigs/a-rig.yaml:5"],
        {**HOME, "echo.feed": "chance"},
    )


def test_a_control_that_one_scene_does_not_set_is_undetermined_there_alone() -> None:
    rig = RIG.replace("engage: on, patch: slap, feed: 0 %", "engage: on, patch: slap")
    lantern = "song: Lantern\nscenes:\n  verse: {echo.feed: 20 %}\n  chorus: {echo.mix: 20 %}\n"
    judged = show(rig, lantern)
    assert names(judged) == ["undetermined rigs/a-rig.yaml:5"]
    assert shown(judged, "verse") == {**HOME, "echo.feed": "20 %"}
    assert shown(judged, "chorus") == {**HOME, "echo.feed": "chance", "echo.mix": "20 %"}


def test_without_a_patch_stored_controls_are_undetermined() -> None:
    rig = RIG.replace("engage: on, patch: slap, feed: 0 %", "engage: on, feed: 0 %, mix: 5 %")
    lantern = "song: Lantern\nscenes:\n  verse: {}\n"
    state = shown(show(rig, lantern), "verse")
    assert state == {**HOME, "echo.patch": "chance", "echo.mix": "5 %", "echo.time": "chance"}


def test_a_stored_control_that_no_layer_sets_is_as_its_patch_stores_it() -> None:
    judged = show(RIG, "song: Lantern\nscenes:\n  verse: {echo.patch: cliff}\n")
    assert (names(judged), shown(judged, "verse")) == ([], CLIFF)


def test_as_stored_drops_an_inherited_edit() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo: {patch: cliff, mix: 50 %, time: 700 ms}}
  chorus: {like: verse, echo.mix: as stored}
"""
    assert shown(show(RIG, lantern), "chorus") == {**CLIFF, "echo.time": "700 ms"}


def test_as_stored_drops_what_an_earlier_word_sets() -> None:
    lantern = """\
song: Lantern
base: {colour: dark, echo.patch: cliff}
scenes:
  verse: {echo.mix: as stored}
"""
    assert shown(show(RIG, lantern), "verse") == CLIFF


def test_a_word_may_say_as_stored() -> None:
    lantern = """\
song: Lantern
base: {echo: {patch: cliff, mix: 50 %}}
scenes:
  verse: {colour: plain}
"""
    assert shown(show(RIG, lantern), "verse") == CLIFF


def test_as_stored_follows_the_patch_of_the_child() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo.mix: as stored}
  chorus: {like: verse, echo.patch: cliff}
"""
    assert shown(show(RIG, lantern), "chorus") == CLIFF


def test_as_stored_for_a_control_that_is_not_stored_is_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.feed: as stored}\n"
    assert names(show(RIG, lantern)) == ["not-stored lantern.yaml:3"]


def test_as_stored_where_no_patch_is_chosen_is_an_error() -> None:
    rig = RIG.replace("engage: on, patch: slap, feed: 0 %", "engage: on, feed: 0 %, mix: 5 %, time: 10 ms")
    lantern = "song: Lantern\nscenes:\n  verse: {echo.mix: as stored}\n"
    found = names(show(rig, lantern))
    assert "as-stored-nothing lantern.yaml:3" in found


def test_home_gives_what_homes_own_line_says() -> None:
    lantern = """\
song: Lantern
base: {echo.feed: 40 %}
scenes:
  verse: {echo.feed: home}
"""
    assert shown(show(RIG, lantern), "verse") == HOME


def test_home_gives_what_a_word_of_home_says() -> None:
    lantern = """\
song: Lantern
base: {gate-1: {threshold: -60 dB, release: 200 ms}}
scenes:
  verse: {gate-1.threshold: home}
"""
    assert shown(show(RIG, lantern), "verse") == {**HOME, "gate-1.release": "200 ms"}


def test_a_word_may_say_home() -> None:
    lantern = """\
song: Lantern
base: {gate-1: {threshold: -60 dB, release: 200 ms}}
scenes:
  verse: {gate: eased}
"""
    assert shown(show(RIG, lantern), "verse") == {**HOME, "gate-1.release": "200 ms"}


def test_home_of_the_patch_is_the_patch_of_home_and_clears_edits() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo: {patch: cliff, mix: 50 %}}
  chorus: {like: verse, echo.patch: home}
"""
    assert shown(show(RIG, lantern), "chorus") == HOME


def test_home_gives_what_homes_patch_is_said_to_store() -> None:
    rig = RIG.replace("patch: slap, feed", "patch: cliff, feed")
    lantern = "song: Lantern\nscenes:\n  verse: {echo: {patch: slap, mix: home}}\n"
    assert shown(show(rig, lantern), "verse") == {**HOME, "echo.mix": "35 %"}


def test_home_where_homes_patch_is_not_said_to_store_the_control_is_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo: {patch: cliff, mix: home}}\n"
    assert names(show(RIG, lantern)) == ["home-gives-nothing lantern.yaml:3"]


def test_home_for_a_control_that_home_does_not_set_is_an_error() -> None:
    rig = RIG.replace("engage: on, patch: slap, feed: 0 %", "engage: on, patch: slap")
    found = names(show(rig, "song: Lantern\nscenes:\n  verse: {echo.feed: home}\n"))
    assert "home-gives-nothing lantern.yaml:3" in found


def test_home_for_an_entry_is_an_error() -> None:
    found = names(show(RIG, "song: Lantern\nscenes:\n  verse: {gate: home}\n"))
    assert [line.split()[1] for line in found] == ["lantern.yaml:3"]


def test_home_for_a_whole_device_is_an_error() -> None:
    judged = show(RIG, "song: Lantern\nscenes:\n  verse: {echo: home}\n")
    assert ([d.severity for d in judged.found], [d.span.line for d in judged.found]) == (["error"], [3])


def test_an_entry_that_names_a_control_takes_home_as_that_control_does_not() -> None:
    rig = RIG.replace("vocabulary:", "vocabulary:\n  send: echo.feed")
    found = names(show(rig, "song: Lantern\nscenes:\n  verse: {send: home}\n"))
    assert [line.split()[1] for line in found] == ["lantern.yaml:3"]
