"""A patch clears what earlier layers set on stored controls; a word's patch spares other words."""

from __future__ import annotations

from tests.states.kit import show, shown
from tests.support import names

RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}, well: 30}
vocabulary:
  colour:
    dark: {echo.mix: 60 %}
    bright: {echo.mix: 25 %}
  space:
    near: {echo.patch: slap}
    far: {echo.patch: cliff}
    deep: {echo.patch: well, echo.time: 900 ms}
home: {echo: {engage: on, patch: slap, feed: 0 %}}
"""

HOME = {
    "echo.patch": "slap",
    "echo.engage": "on",
    "echo.feed": "0 %",
    "echo.mix": "as slap",
    "echo.time": "as slap",
}
CLIFF = {**HOME, "echo.patch": "cliff", "echo.mix": "as cliff: 35 %", "echo.time": "as cliff: 480 ms"}


def test_a_patch_clears_the_edits_of_earlier_layers() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo: {patch: cliff, mix: 50 %, time: 700 ms}}
  chorus: {like: verse, echo.patch: slap}
"""
    assert shown(show(RIG, lantern), "chorus") == HOME


def test_the_same_patch_chosen_again_clears_the_edits_of_earlier_layers() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo: {patch: cliff, mix: 50 %, time: 700 ms}}
  chorus: {like: verse, echo.patch: cliff}
"""
    assert shown(show(RIG, lantern), "chorus") == CLIFF


def test_an_edit_over_an_earlier_patch_stays() -> None:
    lantern = """\
song: Lantern
base: {echo.patch: cliff}
scenes:
  verse: {echo.mix: 50 %}
"""
    assert shown(show(RIG, lantern), "verse") == {**CLIFF, "echo.mix": "50 %"}


def test_an_edit_in_the_patchs_own_layer_stays_wherever_it_stands_in_the_block() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo.mix: 50 %, echo.patch: cliff}
  chorus: {echo: {mix: 50 %, patch: cliff}, echo.feed: 10 %}
"""
    judged = show(RIG, lantern)
    assert shown(judged, "verse") == {**CLIFF, "echo.mix": "50 %"}
    assert shown(judged, "chorus") == {**CLIFF, "echo.mix": "50 %", "echo.feed": "10 %"}


def test_a_patch_leaves_what_is_not_stored() -> None:
    lantern = """\
song: Lantern
base: {echo: {engage: off, feed: 45 %}}
scenes:
  verse: {echo.patch: cliff}
  chorus: {echo: on}
"""
    expected = {**CLIFF, "echo.engage": "off", "echo.feed": "45 %"}
    assert shown(show(RIG, lantern), "verse") == expected


def test_a_patch_clears_homes_edits() -> None:
    rig = RIG.replace("patch: slap, feed: 0 %", "patch: slap, feed: 0 %, mix: 80 %")
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: cliff}\n"
    assert shown(show(rig, lantern), "verse") == CLIFF


def test_a_patch_clears_another_devices_nothing() -> None:
    twin = "  twin: {port: rack, channel: 4, definition: two-tap-echo, patches: {slap: 4}}\nvocabulary:"
    rig = RIG.replace("vocabulary:", twin).replace(
        "home: {", "home: {twin: {engage: on, patch: slap, feed: 0 %}, "
    )
    lantern = "song: Lantern\nbase: {twin.mix: 70 %}\nscenes:\n  verse: {echo.patch: cliff}\n"
    twins = {
        "twin.patch": "slap",
        "twin.engage": "on",
        "twin.feed": "0 %",
        "twin.mix": "70 %",
        "twin.time": "as slap",
    }
    assert shown(show(rig, lantern), "verse") == {**CLIFF, **twins}


def test_a_patch_that_clears_only_outright_lines_is_no_warning() -> None:
    lantern = "song: Lantern\nbase: {echo.mix: 50 %}\nscenes:\n  verse: {echo.patch: cliff}\n"
    judged = show(RIG, lantern)
    assert (names(judged), shown(judged, "verse")) == ([], CLIFF)


def test_an_outright_patch_clears_an_earlier_word_with_a_warning() -> None:
    lantern = """\
song: Lantern
base: {colour: dark}
scenes:
  verse: {echo.patch: cliff}
"""
    judged = show(RIG, lantern)
    assert (names(judged), shown(judged, "verse")) == (["patch-undoes-word lantern.yaml:4"], CLIFF)


def test_an_outright_patch_that_clears_homes_word_is_a_warning() -> None:
    rig = RIG.replace("home: {", "home: {colour: bright, ")
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: cliff}\n"
    judged = show(rig, lantern)
    assert (names(judged), shown(judged, "verse")) == (["patch-undoes-word lantern.yaml:3"], CLIFF)


def test_no_warning_where_the_patchs_own_layer_sets_the_control_again() -> None:
    lantern = """\
song: Lantern
base: {colour: dark}
scenes:
  verse: {echo: {patch: cliff, mix: 20 %}}
"""
    judged = show(RIG, lantern)
    assert (names(judged), shown(judged, "verse")) == ([], {**CLIFF, "echo.mix": "20 %"})


def test_an_outright_patch_leaves_what_a_word_of_its_own_layer_sets() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {colour: dark, echo.patch: cliff}\n"
    judged = show(RIG, lantern)
    assert (names(judged), shown(judged, "verse")) == ([], {**CLIFF, "echo.mix": "60 %"})


def test_a_words_patch_leaves_what_another_word_of_an_earlier_layer_set() -> None:
    lantern = """\
song: Lantern
base: {colour: dark}
scenes:
  verse: {space: far}
"""
    judged = show(RIG, lantern)
    assert (names(judged), shown(judged, "verse")) == ([], {**CLIFF, "echo.mix": "60 %"})


def test_a_words_patch_leaves_what_homes_word_set() -> None:
    rig = RIG.replace("home: {", "home: {colour: bright, ")
    lantern = "song: Lantern\nscenes:\n  verse: {space: far}\n"
    judged = show(rig, lantern)
    assert (names(judged), shown(judged, "verse")) == ([], {**CLIFF, "echo.mix": "25 %"})


def test_a_words_patch_leaves_what_another_word_of_its_own_layer_sets() -> None:
    lantern = (
        "song: Lantern\nscenes:\n  verse: {space: far, colour: dark}\n  chorus: {colour: dark, space: far}\n"
    )
    judged = show(RIG, lantern)
    expected = {**CLIFF, "echo.mix": "60 %"}
    assert (shown(judged, "verse"), shown(judged, "chorus")) == (expected, expected)


def test_a_words_patch_clears_what_an_outright_line_of_an_earlier_layer_set() -> None:
    lantern = """\
song: Lantern
base: {echo: {mix: 50 %, time: 700 ms}}
scenes:
  verse: {space: far}
"""
    assert shown(show(RIG, lantern), "verse") == CLIFF


def test_a_words_patch_clears_what_homes_word_of_the_same_entry_set() -> None:
    rig = RIG.replace("    near: {echo.patch: slap}", "    near: {echo.patch: slap, echo.mix: 15 %}")
    rig = rig.replace("home: {", "home: {space: near, ")
    lantern = "song: Lantern\nscenes:\n  verse: {space: far}\n"
    # Home's `near` stays under `far`, but its mix was an edit of the patch that `far` replaces.
    judged = show(rig, lantern)
    assert (names(judged), shown(judged, "verse")) == ([], CLIFF)


def test_a_words_own_edits_count_over_its_patch() -> None:
    lantern = """\
song: Lantern
base: {echo: {mix: 50 %, time: 700 ms}}
scenes:
  verse: {space: deep}
"""
    expected = {**HOME, "echo.patch": "well", "echo.mix": "as well", "echo.time": "900 ms"}
    assert shown(show(RIG, lantern), "verse") == expected


def test_an_outright_line_over_a_words_setting_is_cleared_by_a_later_words_patch_and_uncovers_nothing() -> (
    None
):
    lantern = """\
song: Lantern
base: {colour: dark}
scenes:
  verse: {echo.mix: 50 %}
  chorus: {like: verse, space: far}
"""
    # Later beats earlier for good: the verse's 50 % had replaced the word's 60 % before the patch cleared it.
    assert shown(show(RIG, lantern), "chorus") == CLIFF


def test_what_a_patch_cleared_does_not_come_back_when_a_later_layer_chooses_another() -> None:
    lantern = """\
song: Lantern
base: {echo.mix: 50 %}
scenes:
  verse: {echo.patch: cliff}
  chorus: {like: verse, space: near}
"""
    assert shown(show(RIG, lantern), "chorus") == HOME


def test_a_words_patch_that_goes_with_its_line_has_cleared_nothing() -> None:
    rig = RIG.replace("    near:", "    away: {echo.engage: off}\n    near:")
    lantern = """\
song: Lantern
base: {echo.mix: 50 %}
scenes:
  verse: {space: far}
  chorus: {like: verse, space: away}
"""
    judged = show(rig, lantern)
    assert shown(judged, "verse") == CLIFF
    assert shown(judged, "chorus") == {**HOME, "echo.engage": "off", "echo.mix": "50 %"}
