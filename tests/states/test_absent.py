"""Devices that songs name and this rig has not got: handed on, translated by rows, done without."""

from __future__ import annotations

from tests.states.kit import code, show, shown
from tests.support import names

RIG = """\
rig: B rig
ports: {spare: {out: spare, speed: din}}
devices:
  multi:
    port: spare
    channel: 2
    definition: multi-effect
    patches: {C2: 18, C3: {at: 19, stores: {gate: -60 dB, time: 480 ms}}, D4: 28}
absent: {echo: two-tap-echo, phaser: swirl}
vocabulary:
  gate:
    tight: {multi.gate: -40 dB}
    loose: {multi.gate: -55 dB}
  sparkle:
    on top: {multi.section-5: on}
    gone: {multi.section-5: off}
  space:
    far: {echo: {engage: on, patch: cliff}}
  colour:
    dark: {echo.mix: 60 %}
  echo.engage: multi.section-4
  echo.patch: {slap: {multi.patch: C2}, cliff: {multi: {patch: C3, section-5: on}}, well: {multi.mix: 20 %}}
  echo.time: multi.time
  echo.mix: multi.mix
  phaser: nothing
home: {gate: loose, echo: {engage: off, patch: slap}, multi.section-5: off}
"""

MORE = {
    "definitions/multi-effect.yaml": """\
definition: multi-effect
programs: {count: 128, first: 1, settle: 20 ms, repeat: recalls}
controls:
  section-4: {kind: switch, cc: 84}
  section-5: {kind: switch, cc: 85}
  gate: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 635 ms], codes: [0, 127], stored: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], stored: yes}
""",
    "definitions/swirl.yaml": """\
definition: swirl
programs: {count: 10, first: 1, settle: 20 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  rate: {kind: time, cc: 22, range: [0.1 Hz, 10 Hz], stored: yes}
""",
}

HOME = {
    "multi.patch": "C2",
    "multi.section-4": "off",
    "multi.section-5": "off",
    "multi.gate": "-55 dB",
    "multi.time": "as C2",
    "multi.mix": "as C2",
}
CLIFF = {
    **HOME,
    "multi.patch": "C3",
    "multi.section-5": "on",
    "multi.time": "as C3: 480 ms",
    "multi.mix": "as C3",
}


def state(lantern: str, scene: str = "verse", rig: str = RIG) -> dict[str, str]:
    """The scene on the B rig."""
    return shown(show(rig, lantern, MORE), scene)


def test_home_may_name_absent_devices() -> None:
    assert state("song: Lantern\nscenes:\n  verse: {}\n") == HOME


def test_a_switch_is_handed_on() -> None:
    assert state("song: Lantern\nscenes:\n  verse: {echo: on}\n") == {**HOME, "multi.section-4": "on"}


def test_an_absent_device_named_alone_hands_on_its_main_switch() -> None:
    rig = RIG.replace("  echo.engage: multi.section-4", "  echo: multi.section-4")
    lantern = "song: Lantern\nscenes:\n  verse: {echo.engage: on}\n"
    assert state(lantern, rig=rig) == {**HOME, "multi.section-4": "on"}


def test_a_row_stands_for_an_absent_devices_patch() -> None:
    assert state("song: Lantern\nscenes:\n  verse: {echo.patch: cliff}\n") == CLIFF


def test_a_patch_named_for_an_absent_device_turns_its_main_switch_on_too() -> None:
    assert state("song: Lantern\nscenes:\n  verse: {echo: cliff}\n") == {**CLIFF, "multi.section-4": "on"}


def test_what_is_done_without_brings_nothing_and_is_no_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {phaser: {engage: on, patch: slow, rate: 2 Hz}, echo: on}\n"
    judged = show(RIG, lantern, MORE)
    assert (names(judged), shown(judged, "verse")) == ([], {**HOME, "multi.section-4": "on"})


def test_a_row_may_be_nothing() -> None:
    rig = RIG.replace("well: {multi.mix: 20 %}", "well: nothing").replace(
        "multi.section-5: off}", "multi: {section-5: off, patch: D4, mix: 5 %, time: 5 ms}}"
    )
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: well}\n"
    assert state(lantern, rig=rig) == {
        **HOME,
        "multi.patch": "D4",
        "multi.mix": "4.724 %",
        "multi.time": "5 ms",
    }


def test_a_name_of_an_absent_device_without_a_translation_is_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.feed: 20 %}\n"
    assert names(show(RIG, lantern, MORE)) == ["not-translated lantern.yaml:3"]


def test_a_patch_of_an_absent_device_without_a_row_is_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: cavern}\n"
    assert names(show(RIG, lantern, MORE)) == ["missing-patch lantern.yaml:3"]


def test_a_control_that_the_absent_devices_definition_lacks_is_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.wobble: 20 %}\n"
    found = names(show(RIG, lantern, MORE))
    assert [line.split()[0] for line in found] == ["unknown-name"]


def test_the_targets_own_scale_holds_a_value_that_is_handed_on() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo: {engage: on, mix: 40 %, time: 0.25 s}}\n"
    judged = show(RIG, lantern, MORE)
    # 40 % of 0-127 is 50.8; 250 ms of 0-635 ms in steps of 5 ms is 50.
    assert (code(judged, "verse", "multi.mix"), code(judged, "verse", "multi.time")) == (51, 50)


def test_a_value_that_the_target_cannot_hold_is_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.time: 900 ms}\n"
    found = names(show(RIG, lantern, MORE))
    assert [line.split()[0] for line in found] == ["out-of-range"]


def test_a_note_value_is_handed_on_at_the_visits_tempo() -> None:
    lantern = "song: Lantern\ntempo: 120\nscenes:\n  verse: {at: bar 1, echo.time: 1/8}\n"
    assert state(lantern) == {**HOME, "multi.time": "250 ms"}


def test_words_may_name_absent_devices() -> None:
    assert state("song: Lantern\nscenes:\n  verse: {space: far}\n") == {**CLIFF, "multi.section-4": "on"}


def test_two_words_of_one_layer_that_disagree_about_an_absent_device_are_an_error() -> None:
    rig = RIG.replace("  colour:", "  depth:\n    shallow: {echo.patch: slap}\n  colour:")
    lantern = "song: Lantern\nscenes:\n  verse: {space: far, depth: shallow}\n"
    assert names(show(rig, lantern, MORE)) == ["words-disagree lantern.yaml:3"]


def test_two_words_whose_values_for_an_absent_device_round_to_one_code_agree() -> None:
    rig = RIG.replace("  colour:", "  depth:\n    deep: {echo.mix: 60.2 %}\n  colour:")
    lantern = "song: Lantern\nscenes:\n  verse: {colour: dark, depth: deep}\n"
    # Both are code 60 of the echo's own scale, and code 76 of the unit's.
    judged = show(rig, lantern, MORE)
    assert (names(judged), shown(judged, "verse")) == ([], {**HOME, "multi.mix": "59.843 %"})


def test_two_words_of_one_layer_may_disagree_about_an_absent_device_where_its_own_line_decides() -> None:
    rig = RIG.replace("  colour:", "  depth:\n    shallow: {echo.patch: slap}\n  colour:")
    lantern = "song: Lantern\nscenes:\n  verse: {space: far, depth: shallow, echo.patch: cliff}\n"
    judged = show(rig, lantern, MORE)
    assert (names(judged), shown(judged, "verse")) == ([], {**CLIFF, "multi.section-4": "on"})


def test_edits_of_an_absent_device_lie_over_its_patchs_row() -> None:
    rig = RIG.replace("cliff: {multi: {patch: C3,", "cliff: {multi: {patch: C3, mix: 10 %, time: 100 ms,")
    lantern = "song: Lantern\nscenes:\n  verse: {echo: {time: 300 ms, patch: cliff}}\n"
    assert state(lantern, rig=rig) == {**CLIFF, "multi.mix": "10.236 %", "multi.time": "300 ms"}


def test_a_words_edit_of_an_absent_device_lies_over_the_row_of_a_later_words_patch() -> None:
    rig = RIG.replace("cliff: {multi: {patch: C3,", "cliff: {multi: {patch: C3, mix: 10 %,")
    lantern = """\
song: Lantern
base: {colour: dark}
scenes:
  verse: {space: far}
"""
    # Had the rig an echo, the word's patch would leave the other word's mix: so it does here.
    expected = {**CLIFF, "multi.section-4": "on", "multi.mix": "59.843 %"}
    assert state(lantern, rig=rig) == expected


def test_an_edit_that_is_not_stored_lies_over_the_row_of_a_later_patch() -> None:
    rig = RIG.replace("  echo.time:", "  echo.feed: multi.mix\n  echo.time:")
    lantern = """\
song: Lantern
base: {echo.feed: 50 %}
scenes:
  verse: {echo.patch: well}
"""
    # Had the rig an echo, its patch would leave the feed, which is not stored: so it does here.
    rig = rig.replace("multi.section-5: off}", "multi: {patch: D4, section-5: off, time: 5 ms}}")
    expected = {**HOME, "multi.patch": "D4", "multi.time": "5 ms", "multi.mix": "50.394 %"}
    assert state(lantern, rig=rig) == expected


def test_an_absent_devices_patch_clears_its_own_earlier_edits() -> None:
    lantern = """\
song: Lantern
base: {echo: {patch: slap, mix: 50 %, time: 300 ms}}
scenes:
  verse: {echo.patch: cliff}
"""
    assert state(lantern) == CLIFF


def test_an_absent_devices_earlier_patch_leaves_nothing_of_its_row() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo.patch: cliff}
  chorus: {like: verse, echo.patch: well}
"""
    # Neither C3 nor its section 5 is left, nor home's C2: `well` gives no patch at all.
    rig = RIG.replace("multi.section-5: off}", "multi: {patch: D4, section-5: off, time: 5 ms}}")
    expected = {**HOME, "multi.patch": "D4", "multi.mix": "19.685 %", "multi.time": "5 ms"}
    assert state(lantern, "chorus", rig) == expected


def test_a_translated_patch_does_not_wipe_another_devices_word() -> None:
    lantern = """\
song: Lantern
base: {gate: tight}
scenes:
  verse: {echo.patch: cliff}
"""
    # The patch C3 stores -60 dB; the gate stays as the word says.
    judged = show(RIG, lantern, MORE)
    assert (names(judged), shown(judged, "verse")) == ([], {**CLIFF, "multi.gate": "-40 dB"})


def test_a_translated_patch_does_not_wipe_outright_lines_of_earlier_layers() -> None:
    rig = RIG + "changes: {lantern: {base: {multi: {gate: -45 dB, mix: 80 %}}}}\n"
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: cliff}\n"
    assert state(lantern, rig=rig) == {**CLIFF, "multi.gate": "-45 dB", "multi.mix": "80.315 %"}


def test_a_translation_beats_an_outright_line_of_an_earlier_layer() -> None:
    rig = RIG + "changes: {lantern: {base: {multi.section-5: off, multi.section-4: off}}}\n"
    lantern = "song: Lantern\nscenes:\n  verse: {echo: cliff}\n"
    assert state(lantern, rig=rig) == {**CLIFF, "multi.section-4": "on"}


def test_a_translation_beats_a_word_of_its_own_layer() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {sparkle: gone, echo.patch: cliff}\n"
    assert state(lantern) == CLIFF


def test_a_translation_is_beaten_by_an_outright_line_of_its_own_layer() -> None:
    rig = RIG.replace("home: {", "home: {multi.section-4: on, ")
    assert state("song: Lantern\nscenes:\n  verse: {}\n", rig=rig) == {**HOME, "multi.section-4": "on"}


def test_a_translation_is_beaten_by_a_word_of_a_later_layer() -> None:
    lantern = """\
song: Lantern
base: {echo.patch: cliff}
scenes:
  verse: {sparkle: gone}
"""
    assert state(lantern) == {**CLIFF, "multi.section-5": "off"}


def test_a_patch_of_the_rigs_own_clears_what_was_translated_in_earlier_layers() -> None:
    rig = RIG + "changes: {lantern: {scenes: {verse: {multi.patch: D4}}}}\n"
    lantern = """\
song: Lantern
base: {echo: {engage: on, time: 300 ms}}
scenes:
  verse: {}
"""
    expected = {"multi.patch": "D4", "multi.section-4": "on", "multi.gate": "as D4"}
    assert state(lantern, rig=rig) == {**HOME, **expected, "multi.time": "as D4", "multi.mix": "as D4"}


def test_as_stored_drops_an_edit_of_an_absent_device() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo: {patch: cliff, time: 300 ms}}
  chorus: {like: verse, echo.time: as stored}
"""
    assert state(lantern, "chorus") == CLIFF


def test_home_of_an_absent_devices_control_is_what_the_rigs_home_says_of_it() -> None:
    rig = RIG.replace("patch: slap}", "patch: slap, mix: 0 %}")
    lantern = """\
song: Lantern
scenes:
  verse: {echo: {engage: on, mix: 100 %}}
  chorus: {like: verse, echo.mix: home, echo.engage: home}
"""
    assert state(lantern, "chorus", rig) == {**HOME, "multi.mix": "0 %"}


def test_home_of_an_absent_devices_patch_is_the_patch_of_the_rigs_home() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {echo.patch: cliff}
  chorus: {like: verse, echo.patch: home}
"""
    assert state(lantern, "chorus") == HOME


def test_home_of_an_absent_devices_control_that_home_does_not_give_is_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.mix: home}\n"
    assert names(show(RIG, lantern, MORE)) == ["home-gives-nothing lantern.yaml:3"]
