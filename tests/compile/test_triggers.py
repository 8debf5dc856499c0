"""Triggers fire when their scene is reached, and never on the way to a scene from anywhere else."""

from __future__ import annotations

from switchmatrix.pipeline import Judged
from tests.compile.shown import in_file, midi_files, visits, wire
from tests.support import judged

RIG = """
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  bell: {port: rack, channel: 1, definition: bell-box}
vocabulary:
  call:
    lost: {bell.ring: now, bell.level: 20}
home: {bell.level: 7}
"""
BELL = """
definition: bell box
controls:
  level: {kind: level, cc: 51, range: [0, 127]}
  ring: {kind: trigger, cc: 50, codes: {fire: 90}}
"""
RING = "B0 32 5A"


def song(text: str) -> Judged:
    """The rig above with this song."""
    files = {"rigs/a-rig.yaml": RIG, "definitions/bell-box.yaml": BELL}
    return judged({**files, "lantern.yaml": "song: Lantern\ntempo: 120\n" + text})


TOLL = """
scenes:
  verse: {at: bar 1}
  toll: {at: [bar 3, bar 7], bell.ring: now}
  hush: {at: bar 5, bell.level: 0}
"""


def test_a_trigger_fires_at_each_visit_of_its_scene() -> None:
    assert visits(song(TOLL)) == [
        ["bell B0 33 07"],
        ["bell B0 32 5A"],
        ["bell B0 33 00"],
        ["bell B0 33 07", "bell B0 32 5A"],
    ]


def test_a_trigger_fires_in_the_songs_file_where_its_scene_comes() -> None:
    assert in_file(midi_files(song(TOLL))["01-lantern.mid"]) == [
        "B0 33 07",
        RING,
        "B0 33 00",
        "B0 33 07",
        RING,
    ]


def test_a_trigger_is_not_in_its_scenes_own_file() -> None:
    assert in_file(midi_files(song(TOLL))["01-lantern.scene-02-toll.mid"]) == ["B0 33 07"]


def test_a_trigger_is_not_sent_from_unknown() -> None:
    assert wire(song(TOLL), "toll") == ["bell B0 33 07"]


def test_a_trigger_is_no_part_of_the_way_from_one_state_to_another() -> None:
    assert wire(song(TOLL), "toll", after="hush") == ["bell B0 33 07"]


def test_a_scene_that_is_reached_by_running_time_at_the_songs_start_fires_its_trigger() -> None:
    show = song("scenes: {toll: {at: bar 1, bell.ring: now}}")
    assert in_file(midi_files(show)["01-lantern.mid"]) == ["B0 33 07", RING]
    assert in_file(midi_files(show)["01-lantern.scene-01-toll.mid"]) == ["B0 33 07"]


def test_a_scene_does_not_fire_the_trigger_of_one_that_it_is_like() -> None:
    show = song("scenes: {toll: {at: bar 1, bell.ring: now, bell.level: 9}, after: {at: bar 3, like: toll}}")
    assert visits(show) == [["bell B0 33 09", "bell B0 32 5A"], []]


def test_a_scene_that_is_like_another_takes_a_words_setting_but_not_its_trigger() -> None:
    show = song("scenes: {plain: {at: bar 1}, toll: {at: bar 3, call: lost}, after: {at: bar 5, like: toll}}")
    assert visits(show) == [["bell B0 33 07"], ["bell B0 33 14", "bell B0 32 5A"], []]
    assert wire(show, "after") == ["bell B0 33 14"]


def test_a_scene_that_only_fires_is_still_reached_from_its_own_state() -> None:
    show = song("order: [toll, toll]\nscenes: {toll: {bell.ring: now}}")
    assert visits(show) == [["bell B0 33 07", "bell B0 32 5A"], ["bell B0 32 5A"]]
