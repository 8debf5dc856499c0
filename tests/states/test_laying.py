"""Laying down: words first, then outright lines, layer by layer; two words of one layer that disagree."""

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
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB, gate-1.release: 60 ms}
    nearly: {gate-1.threshold: -38.1 dB}
  drive:
    grit: {gate-1.threshold: -50 dB}
    even: {gate-1.threshold: -38 dB, echo.feed: 40 %}
  colour:
    dark: {echo.mix: 60 %}
    cave: {echo.patch: cliff}
  space:
    wide: {echo.mix: 20 %}
    near: {echo.patch: slap}
    far: {echo.patch: cliff}
  send: echo.feed
home: {gate-1: {threshold: -70 dB, release: 250 ms}, echo: {engage: on, patch: slap, feed: 0 %}}
"""

HOME = {
    "gate-1.threshold": "-70 dB",
    "gate-1.release": "250 ms",
    "echo.patch": "slap",
    "echo.engage": "on",
    "echo.feed": "0 %",
    "echo.mix": "as slap",
    "echo.time": "as slap",
}


def test_an_outright_line_beats_a_word_of_its_own_layer() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate-1.threshold: -60 dB, gate: tight}\n"
    expected = {**HOME, "gate-1.threshold": "-60 dB", "gate-1.release": "60 ms"}
    assert shown(show(RIG, lantern), "verse") == expected


def test_a_word_of_a_later_layer_beats_an_outright_line_of_an_earlier_one() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate-1.threshold: -60 dB}
  chorus: {like: verse, gate: tight}
"""
    expected = {**HOME, "gate-1.threshold": "-38 dB", "gate-1.release": "60 ms"}
    assert shown(show(RIG, lantern), "chorus") == expected


def test_an_outright_line_of_a_later_layer_beats_only_its_control_of_an_earlier_word() -> None:
    lantern = """\
song: Lantern
base: {gate: tight}
scenes:
  verse: {gate-1.release: 90 ms}
"""
    expected = {**HOME, "gate-1.threshold": "-38 dB", "gate-1.release": "90 ms"}
    assert shown(show(RIG, lantern), "verse") == expected


def test_a_name_counts_in_the_layer_of_its_last_line() -> None:
    lantern = """\
song: Lantern
base: {gate: nearly}
scenes:
  verse: {gate-1.threshold: -60 dB}
  chorus: {like: verse, gate: tight}
"""
    expected = {**HOME, "gate-1.threshold": "-38 dB", "gate-1.release": "60 ms"}
    assert shown(show(RIG, lantern), "chorus") == expected


def test_of_two_entries_that_set_one_control_the_later_layers_counts() -> None:
    lantern = """\
song: Lantern
base: {drive: grit}
scenes:
  verse: {gate: tight}
  chorus: {like: verse, drive: even, gate-1.threshold: -45 dB}
  bridge: {like: verse, gate: nearly}
  finale: {like: chorus, drive: grit}
"""
    judged = show(RIG, lantern)
    thresholds = {s: shown(judged, s)["gate-1.threshold"] for s in ("verse", "chorus", "bridge", "finale")}
    # The finale's `grit` is later than the chorus's outright -45 dB.
    assert thresholds == {"verse": "-38 dB", "chorus": "-45 dB", "bridge": "-38 dB", "finale": "-50 dB"}


def test_an_entry_that_names_a_control_is_beaten_by_that_controls_outright_line() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.feed: 20 %, send: 70 %}\n"
    assert shown(show(RIG, lantern), "verse") == {**HOME, "echo.feed": "20 %"}


def test_an_entry_that_names_a_control_takes_that_controls_value() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {send: 70 %}\n"
    assert shown(show(RIG, lantern), "verse") == {**HOME, "echo.feed": "70 %"}


def test_two_words_of_one_layer_that_bring_different_codes_are_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight, drive: grit}\n"
    assert names(show(RIG, lantern)) == ["words-disagree lantern.yaml:3"]


def test_two_words_of_one_layer_that_bring_different_patches_are_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {space: near, colour: cave}\n"
    assert names(show(RIG, lantern)) == ["words-disagree lantern.yaml:3"]


def test_two_words_of_one_layer_that_bring_the_same_code_agree() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight, drive: even}\n"
    judged = show(RIG, lantern)
    expected = {**HOME, "gate-1.threshold": "-38 dB", "gate-1.release": "60 ms", "echo.feed": "40 %"}
    assert (names(judged), shown(judged, "verse")) == ([], expected)


def test_words_whose_values_round_to_one_code_agree() -> None:
    # Steps of 0.5 dB: -38.1 dB becomes the code of -38 dB.
    lantern = "song: Lantern\nscenes:\n  verse: {gate: nearly, drive: even}\n"
    judged = show(RIG, lantern)
    expected = {**HOME, "gate-1.threshold": "-38 dB", "echo.feed": "40 %"}
    assert (names(judged), shown(judged, "verse")) == ([], expected)


def test_a_word_in_note_values_and_one_in_milliseconds_disagree_though_one_tempo_makes_them_one() -> None:
    rig = RIG.replace("dark: {echo.mix: 60 %}", "dark: {echo.time: 250 ms}")
    rig = rig.replace("wide: {echo.mix: 20 %}", "wide: {echo.time: 1/8}")
    lantern = "song: Lantern\ntempo: 120\nscenes:\n  verse: {at: bar 1, colour: dark, space: wide}\n"
    assert names(show(rig, lantern)) == ["words-disagree lantern.yaml:4"]


def test_words_may_disagree_where_an_outright_line_of_their_layer_decides() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight, drive: grit, gate-1.threshold: -45 dB}\n"
    judged = show(RIG, lantern)
    expected = {**HOME, "gate-1.threshold": "-45 dB", "gate-1.release": "60 ms"}
    assert (names(judged), shown(judged, "verse")) == ([], expected)


def test_words_of_the_base_may_disagree_where_every_scene_decides() -> None:
    lantern = """\
song: Lantern
base: {gate: tight, drive: grit}
scenes:
  verse: {gate-1.threshold: -45 dB}
  chorus: {gate: nearly}
"""
    judged = show(RIG, lantern)
    assert names(judged) == []
    assert shown(judged, "verse")["gate-1.threshold"] == "-45 dB"
    assert shown(judged, "chorus")["gate-1.threshold"] == "-38 dB"


def test_words_of_the_base_that_disagree_are_an_error_for_the_one_scene_that_keeps_it() -> None:
    lantern = """\
song: Lantern
base:
  gate: tight
  drive: grit
scenes:
  verse: {gate-1.threshold: -45 dB}
  chorus: {echo.feed: 10 %}
"""
    found = names(show(RIG, lantern))
    assert [line.split()[0] for line in found] == ["words-disagree"]


def test_words_may_disagree_about_what_a_later_patch_clears() -> None:
    lantern = """\
song: Lantern
base: {colour: dark, space: wide}
scenes:
  verse: {echo: {patch: cliff, mix: 30 %}}
"""
    judged = show(RIG, lantern)
    expected = {**HOME, "echo.patch": "cliff", "echo.mix": "30 %", "echo.time": "as cliff: 480 ms"}
    assert (names(judged), shown(judged, "verse")) == ([], expected)


def test_words_of_a_dropped_parent_may_disagree_where_its_children_decide() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate: tight, drive: grit}
  chorus: {like: verse, gate-1.threshold: -45 dB}
"""
    leg = "show: Tidewrack\nrigs: [a-rig]\nlegs:\n  tour:\n    rigs: [a-rig]\n    setlist: [lantern]\n"
    drop = "    changes: {lantern: {scenes: {verse: {drop: yes}}}}\n"
    judged = show(RIG, lantern, {"show.yaml": leg + drop})
    expected = {**HOME, "gate-1.threshold": "-45 dB", "gate-1.release": "60 ms"}
    assert (names(judged), shown(judged, "chorus")) == ([], expected)
