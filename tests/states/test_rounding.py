"""Values become the nearest code, halves up; a large miss is a warning, passing a limit an error."""

from __future__ import annotations

import pytest

from switchmatrix.definition.values import Quantity
from switchmatrix.states.state import Set
from tests.states.kit import code, show, shown
from tests.support import findings, names, song, value, visit

RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  box:
    port: rack
    channel: 2
    definition: plain-box
    patches: {one: 1, loud: {at: 2, stores: {store: 90 %}}}
home: {box: {fine: 0 %, steps: 0 %, loose: 0 %, trim: 0 dB, time: 10 ms, eased: 10 ms, mode: off, patch: one}}
"""

MORE = {
    "definitions/plain-box.yaml": """\
definition: plain box
programs: {count: 10, first: 1, settle: 10 ms, repeat: recalls}
controls:
  fine: {kind: level, cc: 20, range: [0 %, 100 %]}
  steps: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 20]}
  loose: {kind: level, cc: 22, range: [0 %, 100 %], codes: [0, 20], tolerance: 3 %}
  trim: {kind: level, cc: 23, range: [-40 dB, 10 dB], codes: [0, 100]}
  time: {kind: time, cc: 24, range: [0 ms, 1270 ms], codes: [0, 127]}
  eased: {kind: time, cc: 25, range: [0 ms, 1270 ms], codes: [0, 127], tolerance: 40 %}
  mode: {kind: choice, cc: 26, values: {off: 0-63, on: 64-127}}
  store: {kind: level, cc: 27, range: [0 %, 100 %], codes: [0, 100], stored: yes}
"""
}


def verse(lines: str, rig: str = RIG) -> tuple[list[str], dict[str, str]]:
    """The names of what is found, and the state, of a song whose verse has these lines."""
    judged = show(rig, f"song: Lantern\nscenes:\n  verse: {{{lines}}}\n", MORE)
    return names(judged), shown(judged, "verse")


def verse_code(lines: str, name: str) -> int | None:
    """The code of a control in a song whose verse has these lines."""
    return code(show(RIG, f"song: Lantern\nscenes:\n  verse: {{{lines}}}\n", MORE), "verse", name)


@pytest.mark.parametrize(
    ("lines", "name", "expected"),
    [
        ("box.fine: 50 %", "box.fine", 64),  # 63.5: halves up
        ("box.fine: 49.99 %", "box.fine", 63),
        ("box.fine: 40 %", "box.fine", 51),  # 50.8
        ("box.steps: 52.5 %", "box.steps", 11),  # 10.5: halves up
        ("box.trim: -0.25 dB", "box.trim", 80),  # 79.5: halves up
        ("box.trim: -0.75 dB", "box.trim", 79),  # 78.5: halves up, though that is away from -0.75's zero
        ("box.time: 485 ms", "box.time", 49),  # 48.5: halves up
        ("box.time: 0.484 s", "box.time", 48),
        ("box.mode: off", "box.mode", 32),  # the middle of 0-63 is 31.5: halves up
        ("box.mode: on", "box.mode", 96),  # the middle of 64-127 is 95.5: halves up
    ],
)
def test_a_value_becomes_the_nearest_code_and_halves_go_up(lines: str, name: str, expected: int) -> None:
    assert verse_code(lines, name) == expected


def test_a_state_holds_both_what_was_asked_and_what_the_device_does() -> None:
    _, states = song(show(RIG, "song: Lantern\nscenes:\n  verse: {box.time: 485 ms}\n", MORE), "lantern")
    given = value(visit(states, "verse").state, "box.time")
    assert isinstance(given, Set)
    assert (given.asked, given.code, given.gets) == (Quantity(485, "ms"), 49, Quantity(490, "ms"))


def test_a_level_that_misses_by_two_per_cent_of_its_range_is_no_warning() -> None:
    found, state = verse("box.steps: 52 %")
    assert (found, state["box.steps"]) == ([], "50 %")


def test_a_level_that_misses_by_more_than_two_per_cent_of_its_range_is_a_warning() -> None:
    found, state = verse("box.steps: 52.01 %")
    assert (found, state["box.steps"]) == (["rounded lantern.yaml:3"], "50 %")


def test_a_small_level_is_measured_by_its_range_and_not_by_itself() -> None:
    # 1 % asked, 0 % got: the whole value is missed, but only 1 % of the range.
    found, state = verse("box.steps: 1 %")
    assert (found, state["box.steps"]) == ([], "0 %")


def test_a_time_that_misses_by_less_than_two_per_cent_of_itself_is_no_warning() -> None:
    # Half a step, 5 ms, of 255 ms.
    found, state = verse("box.time: 255 ms")
    assert (found, state["box.time"]) == ([], "260 ms")


def test_a_time_that_misses_by_more_than_two_per_cent_of_itself_is_a_warning() -> None:
    # Half a step, 5 ms, of 245 ms.
    found, state = verse("box.time: 245 ms")
    assert (found, state["box.time"]) == (["rounded lantern.yaml:3"], "250 ms")


def test_a_controls_own_tolerance_counts_instead() -> None:
    assert verse("box.loose: 52.5 %")[0] == []
    assert verse("box.eased: 14 ms")[0] == []
    assert verse("box.eased: 5 ms")[0] == ["rounded lantern.yaml:3"]


def test_a_note_value_that_misses_is_a_warning_too() -> None:
    # A sixteenth at 250 is 60 ms; at 240 it is 62.5 ms and becomes 60 ms, 4 % less.
    lantern = "song: Lantern\ntempo: {}\nscenes:\n  verse: {{at: bar 1, box.time: 1/16}}\n"
    assert names(show(RIG, lantern.format(250), MORE)) == []
    assert names(show(RIG, lantern.format(240), MORE)) == ["rounded lantern.yaml:4"]


LIMITED = RIG + "limits: {box.trim: {least: -20.5 dB, most: 0 dB}, box.time: {most: 500 ms}}\n"


def test_a_value_at_its_limit_is_no_error() -> None:
    assert verse("box: {trim: 0 dB, time: 500 ms}", LIMITED)[0] == []
    assert verse("box.trim: -20.5 dB", LIMITED)[0] == []


@pytest.mark.parametrize("lines", ["box.trim: 0.5 dB", "box.trim: -21 dB", "box.time: 510 ms"])
def test_a_value_past_its_limit_is_an_error(lines: str) -> None:
    judged = show(LIMITED, f"song: Lantern\nscenes:\n  verse: {{{lines}}}\n", MORE)
    assert names(judged) == ["over-limit lantern.yaml:3"]


def test_a_value_asked_past_its_limit_is_an_error_though_its_code_is_not() -> None:
    # 0.2 dB becomes 0 dB.
    judged = show(LIMITED, "song: Lantern\nscenes:\n  verse: {box.trim: 0.2 dB}\n", MORE)
    assert names(judged) == ["over-limit lantern.yaml:3"]


def test_a_value_within_its_limit_is_an_error_where_the_device_goes_past_it() -> None:
    # 497 ms asked, the limit 498 ms: the nearest code is 500 ms.
    rig = LIMITED.replace("most: 500 ms", "most: 498 ms")
    judged = show(rig, "song: Lantern\nscenes:\n  verse: {box.time: 497 ms}\n", MORE)
    assert names(judged) == ["over-limit lantern.yaml:3"]


def test_a_note_value_past_its_limit_is_an_error_at_the_tempo_that_takes_it_there() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 100}]
scenes:
  verse: {at: bar 1, box.time: 1/4}
  chorus: {at: bar 9, box.time: 1/4}
"""
    assert names(show(LIMITED, lantern, MORE)) == ["over-limit lantern.yaml:5"]


def test_a_legs_change_past_a_limit_is_an_error() -> None:
    leg = "legs:\n  tour:\n    rigs: [a-rig]\n    setlist: [lantern]\n"
    change = "    changes: {lantern: {scenes: {verse: {box.trim: 5 dB}}}}\n"
    shows = {"show.yaml": f"show: Tidewrack\nrigs: [a-rig]\n{leg}{change}"}
    judged = show(LIMITED, "song: Lantern\nscenes:\n  verse: {box.fine: 0 %}\n", {**MORE, **shows})
    assert names(judged) == ["over-limit show.yaml:7"]


def test_a_patch_that_is_said_to_store_a_value_past_a_limit_is_an_error() -> None:
    rig = RIG + "limits: {box.store: {most: 80 %}}\n"
    assert names(show(rig, "song: Lantern\nscenes:\n  verse: {}\n", MORE)) == ["over-limit rigs/a-rig.yaml:8"]


def test_a_patch_that_is_said_to_store_a_value_at_a_limit_is_no_error() -> None:
    rig = RIG + "limits: {box.store: {most: 90 %}}\n"
    assert names(show(rig, "song: Lantern\nscenes:\n  verse: {}\n", MORE)) == []


def test_home_past_a_limit_is_an_error() -> None:
    rig = LIMITED.replace("trim: 0 dB,", "trim: 1 dB,")
    assert names(show(rig, "song: Lantern\nscenes:\n  verse: {}\n", MORE)) == ["over-limit rigs/a-rig.yaml:9"]


def test_an_over_limit_finding_says_the_value_and_the_limit() -> None:
    (line,) = findings(show(LIMITED, "song: Lantern\nscenes:\n  verse: {box.trim: 5 dB}\n", MORE))
    assert ("5 dB" in line, "0 dB" in line) == (True, True)
