"""Layers, later over earlier: home, the instrument, the song's base, then the scene's own chain."""

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
  baritone: {tuning: B standard, sets: {gate-1: {threshold: -50 dB, release: 300 ms}}}
  mandola: {tuning: C G D A, sets: {gate-1.release: 120 ms}}
  upright: {tuning: E A D G, sets: {gate-1.release: 700 ms}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB, gate-1.release: 60 ms}
    loose: {gate-1.threshold: -55 dB}
home: {gate-1: {threshold: -70 dB, release: 250 ms}, echo: {engage: off, patch: slap, feed: 0 %}}
"""

HOME = {
    "gate-1.threshold": "-70 dB",
    "gate-1.release": "250 ms",
    "echo.patch": "slap",
    "echo.engage": "off",
    "echo.feed": "0 %",
    "echo.mix": "as slap",
    "echo.time": "as slap",
}


def test_a_scene_that_says_nothing_is_the_rig_at_home() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {}\n"
    assert shown(show(RIG, lantern), "verse") == HOME


def test_the_instrument_lies_over_home() -> None:
    lantern = "song: Lantern\ninstrument: mandola\nscenes:\n  verse: {}\n"
    assert shown(show(RIG, lantern), "verse") == {**HOME, "gate-1.release": "120 ms"}


def test_the_base_lies_over_the_instrument() -> None:
    lantern = """\
song: Lantern
instrument: baritone
base: {gate-1.release: 90 ms}
scenes:
  verse: {}
"""
    expected = {**HOME, "gate-1.threshold": "-50 dB", "gate-1.release": "90 ms"}
    assert shown(show(RIG, lantern), "verse") == expected


def test_the_scene_lies_over_the_base() -> None:
    lantern = """\
song: Lantern
base: {gate-1: {threshold: -45 dB, release: 90 ms}}
scenes:
  verse: {gate-1.release: 30 ms}
"""
    expected = {**HOME, "gate-1.threshold": "-45 dB", "gate-1.release": "30 ms"}
    assert shown(show(RIG, lantern), "verse") == expected


def test_own_lines_lie_over_those_of_the_scene_it_is_like() -> None:
    lantern = """\
song: Lantern
scenes:
  chorus: {like: verse, gate-1.release: 30 ms}
  verse: {gate-1: {threshold: -45 dB, release: 90 ms}}
"""
    expected = {**HOME, "gate-1.threshold": "-45 dB", "gate-1.release": "30 ms"}
    assert shown(show(RIG, lantern), "chorus") == expected


def test_a_scenes_instrument_leaves_nothing_of_the_songs_instrument() -> None:
    lantern = """\
song: Lantern
instrument: baritone
scenes:
  verse: {instrument: mandola}
"""
    assert shown(show(RIG, lantern), "verse") == {**HOME, "gate-1.release": "120 ms"}


def test_a_scenes_instrument_still_lies_under_the_base() -> None:
    lantern = """\
song: Lantern
instrument: baritone
base: {gate-1.release: 90 ms}
scenes:
  verse: {instrument: mandola}
"""
    assert shown(show(RIG, lantern), "verse") == {**HOME, "gate-1.release": "90 ms"}


def test_like_brings_the_instrument() -> None:
    lantern = """\
song: Lantern
instrument: baritone
scenes:
  verse: {instrument: mandola}
  chorus: {like: verse}
"""
    assert shown(show(RIG, lantern), "chorus") == {**HOME, "gate-1.release": "120 ms"}


def test_a_scenes_own_instrument_replaces_the_one_that_like_brings() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {instrument: baritone}
  chorus: {like: verse, instrument: upright}
"""
    assert shown(show(RIG, lantern), "chorus") == {**HOME, "gate-1.release": "700 ms"}


def test_of_two_parents_instruments_the_later_counts() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {instrument: mandola}
  chorus: {instrument: upright}
  finale: {like: [verse, chorus]}
"""
    assert shown(show(RIG, lantern), "finale") == {**HOME, "gate-1.release": "700 ms"}


def test_a_later_parent_without_an_instrument_leaves_the_earlier_ones() -> None:
    lantern = """\
song: Lantern
instrument: baritone
scenes:
  verse: {instrument: mandola}
  chorus: {echo: cliff}
  finale: {like: [verse, chorus], echo: off}
"""
    assert shown(show(RIG, lantern), "finale") == {
        **HOME,
        "gate-1.release": "120 ms",
        "echo.patch": "cliff",
        "echo.mix": "as cliff: 35 %",
        "echo.time": "as cliff: 480 ms",
    }


def test_a_standing_scene_is_made_from_home_and_its_parents() -> None:
    rig = RIG + "standing:\n  silence: {echo.feed: 50 %}\n  changeover: {like: silence, gate: loose}\n"
    lantern = "song: Lantern\nscenes:\n  verse: {}\n"
    expected = {**HOME, "echo.feed": "50 %", "gate-1.threshold": "-55 dB"}
    assert shown(show(rig, lantern), "changeover", song_id="standing") == expected
