"""Note values use the tempo at their visit's place; a scene has one state for each tempo it is visited at."""

from __future__ import annotations

import pytest

from tests.states.kit import labels, show, shown
from tests.support import names

RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  delay: {port: rack, channel: 2, definition: plain-delay}
vocabulary:
  echo:
    eighths: {delay.time: 1/8}
home: {delay: {time: 0 ms, mix: 0 %}}
"""

MORE = {
    "definitions/plain-delay.yaml": """\
definition: plain delay
controls:
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], codes: [0, 127], tolerance: 4 %}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]}
"""
}


def times(lantern: str, *scenes: str) -> list[str]:
    """The delay's time in each visit."""
    judged = show(RIG, lantern, MORE)
    return [shown(judged, scene)["delay.time"] for scene in scenes]


def found(lantern: str, rig: str = RIG) -> list[str]:
    """The names of what is wrong."""
    return names(show(rig, lantern, MORE))


@pytest.mark.parametrize(
    ("note", "expected"),
    [
        ("1/4", "500 ms"),
        ("1/8", "250 ms"),
        ("1/8 dotted", "380 ms"),  # 375 ms is a half code: up
        ("1/8 triplet", "170 ms"),  # 166 2/3 ms
        ("1/2", "1000 ms"),
        ("1/4 triplet", "330 ms"),  # 333 1/3 ms
    ],
)
def test_a_note_value_is_worked_out_from_the_tempo(note: str, expected: str) -> None:
    lantern = f"song: Lantern\ntempo: 120\nscenes:\n  verse: {{at: bar 1, delay.time: {note}}}\n"
    assert times(lantern, "verse") == [expected]


def test_a_note_value_uses_the_tempo_at_its_visits_place() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]
scenes:
  verse: {at: bar 1, delay.time: 1/4}
  chorus: {at: bar 17, delay.time: 1/4}
"""
    assert times(lantern, "verse", "chorus") == ["500 ms", "1000 ms"]


def test_a_visit_where_the_tempo_changes_uses_the_new_one() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]
scenes:
  verse: {at: bar 1, delay.time: 1/4}
  chorus: {at: bar 9, delay.time: 1/4}
"""
    # And the change at the chorus is not inside the verse.
    assert (times(lantern, "chorus"), found(lantern)) == (["1000 ms"], [])


def test_a_visit_at_a_clock_time_uses_the_tempo_that_has_been_reached_by_then() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]
scenes:
  verse: {at: "0:15.999", delay.time: 1/8}
  verse 2: {at: "0:16", delay.time: 1/8}
"""
    # Eight bars of four at 120 are 16 seconds.
    assert times(lantern, "verse", "verse 2") == ["250 ms", "500 ms"]


def test_a_child_uses_the_tempo_of_its_own_visit() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]
scenes:
  verse: {at: bar 1, delay.time: 1/4}
  chorus: {at: bar 9, like: verse, delay.mix: 20 %}
"""
    assert times(lantern, "verse", "chorus") == ["500 ms", "1000 ms"]


def test_a_note_value_in_a_word_uses_the_visits_tempo() -> None:
    lantern = "song: Lantern\ntempo: 60\nscenes:\n  verse: {at: bar 1, echo: eighths}\n"
    assert times(lantern, "verse") == ["500 ms"]


def test_a_scene_visited_at_two_tempos_has_two_states() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 17, bpm: 60}, {at: bar 33, bpm: 120}]
scenes:
  verse: {at: [bar 1, bar 17, bar 33], delay.time: 1/4}
  chorus: {at: [bar 9, bar 25], delay.mix: 20 %}
"""
    assert times(lantern, "verse", "verse@2", "verse@3") == ["500 ms", "1000 ms", "500 ms"]
    assert labels(show(RIG, lantern, MORE)) == ["verse", "verse@2", "chorus"]


def test_a_later_state_goes_by_its_first_visit() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 17, bpm: 60}]
scenes:
  verse: {at: [bar 1, bar 9, bar 17, bar 25], delay.time: 1/4}
"""
    assert labels(show(RIG, lantern, MORE)) == ["verse", "verse@3"]


def test_two_tempos_that_give_the_same_codes_are_one_state() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 120.1}]
scenes:
  verse: {at: [bar 1, bar 9], delay.time: 1/4}
"""
    assert labels(show(RIG, lantern, MORE)) == ["verse"]


def test_a_scene_without_note_values_has_one_state_at_any_tempo() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]
scenes:
  verse: {at: [bar 1, bar 9], delay.mix: 20 %}
"""
    assert labels(show(RIG, lantern, MORE)) == ["verse"]


def test_a_scene_without_a_place_uses_its_own_tempo() -> None:
    lantern = "song: Lantern\ntempo: 60\nscenes:\n  verse: {tempo: 120, delay.time: 1/4}\n"
    assert times(lantern, "verse") == ["500 ms"]


def test_a_scene_without_a_place_uses_the_songs_only_tempo() -> None:
    lantern = "song: Lantern\ntempo: 60\nscenes:\n  verse: {delay.time: 1/4}\n"
    assert times(lantern, "verse") == ["1000 ms"]


def test_a_scene_without_a_place_in_a_song_of_two_tempos_is_an_error() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]
scenes:
  verse: {delay.time: 1/4}
"""
    assert found(lantern) == ["no-tempo lantern.yaml:4"]


def test_a_scene_without_a_place_in_a_song_of_two_tempos_may_say_its_own() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]
scenes:
  verse: {tempo: 100, delay.time: 1/4}
"""
    assert (found(lantern), times(lantern, "verse")) == ([], ["600 ms"])


def test_a_note_value_in_a_song_without_tempo_is_an_error() -> None:
    assert found("song: Lantern\nscenes:\n  verse: {delay.time: 1/4}\n") == ["no-tempo lantern.yaml:3"]


def test_a_note_value_that_no_scene_keeps_needs_no_tempo() -> None:
    lantern = "song: Lantern\nbase: {delay.time: 1/4}\nscenes:\n  verse: {delay.time: 300 ms}\n"
    assert (found(lantern), times(lantern, "verse")) == ([], ["300 ms"])


def test_a_scenes_tempo_beside_its_place_is_an_error() -> None:
    lantern = "song: Lantern\ntempo: 60\nscenes:\n  verse: {at: bar 1, tempo: 120, delay.time: 1/4}\n"
    assert found(lantern) == ["tempo-beside-place lantern.yaml:4"]


def test_a_tempo_change_inside_a_scene_is_a_warning() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]
scenes:
  verse: {at: bar 1, delay.time: 1/4}
  chorus: {at: bar 17, delay.time: 100 ms}
"""
    assert (found(lantern), times(lantern, "verse")) == (["tempo-changes-inside lantern.yaml:4"], ["500 ms"])


def test_a_tempo_change_inside_the_last_scene_is_a_warning() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]
scenes:
  verse: {at: bar 1, delay.time: 1/4}
"""
    assert found(lantern) == ["tempo-changes-inside lantern.yaml:4"]


def test_the_same_scene_again_at_the_change_answers_the_warning() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]
scenes:
  verse: {at: [bar 1, bar 9], delay.time: 1/4}
"""
    assert found(lantern) == []


def test_bpm_counts_quarter_notes_where_no_beat_is_given_whatever_the_meter() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}]
meter: 6/8
scenes:
  verse: {at: bar 1, delay.time: 1/8}
"""
    assert times(lantern, "verse") == ["250 ms"]


def test_bpm_counts_dotted_quarters_where_the_beat_says_so() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 80, beat: 1/4 dotted}]
meter: 6/8
scenes:
  verse: {at: bar 1, delay.time: 1/8}
  chorus: {at: bar 9, delay.time: 1/4 dotted}
"""
    # 80 dotted quarters a minute: each 750 ms, an eighth 250 ms.
    assert times(lantern, "verse", "chorus") == ["250 ms", "750 ms"]


def test_bpm_may_count_eighths_and_halves() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 240, beat: 1/8}, {at: bar 9, bpm: 30, beat: 1/2}]
scenes:
  verse: {at: bar 1, delay.time: 1/4}
  chorus: {at: bar 9, delay.time: 1/4}
"""
    assert times(lantern, "verse", "chorus") == ["500 ms", "1000 ms"]


def test_bars_of_six_eight_are_three_quarters_long_for_clock_times() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 60}, {at: bar 3, bpm: 120}]
meter: 6/8
scenes:
  verse: {at: "0:05.999", delay.time: 1/8}
  chorus: {at: "0:06", delay.time: 1/8}
"""
    # Two bars of three quarters at 60 are 6 seconds.
    assert times(lantern, "verse", "chorus") == ["500 ms", "250 ms"]
