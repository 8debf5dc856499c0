"""Parents: in the order named, each after its own parents and only once; what `like` brings and what not."""

from __future__ import annotations

from tests.states.kit import order, show, shown
from tests.support import names, song, visit

RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  delay: {port: rack, channel: 3, definition: plain-delay}
  bells: {port: rack, channel: 4, definition: bell-box}
vocabulary:
  bell: bells.bell
home: {gate-1: {threshold: -70 dB, release: 250 ms}, delay.time: 0 ms, bells.bed: off}
"""

DELAY = {
    "definitions/plain-delay.yaml": """\
definition: plain delay
controls:
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], codes: [0, 127]}
"""
}

HOME = {
    "gate-1.threshold": "-70 dB",
    "gate-1.release": "250 ms",
    "delay.time": "0 ms",
    "bells.bed": "off",
}

LEG = """\
show: Tidewrack
rigs: [a-rig]
legs:
  tour:
    rigs: [a-rig]
    setlist: [lantern]
    changes: {lantern: {scenes: {verse: {drop: yes}}}}
"""


def test_of_two_parents_the_one_named_later_decides() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate-1.threshold: -60 dB}
  chorus: {gate-1: {threshold: -40 dB, release: 90 ms}}
  one: {like: [verse, chorus]}
  two: {like: [chorus, verse]}
"""
    judged = show(RIG, lantern, DELAY)
    assert shown(judged, "one") == {**HOME, "gate-1.threshold": "-40 dB", "gate-1.release": "90 ms"}
    assert shown(judged, "two") == {**HOME, "gate-1.threshold": "-60 dB", "gate-1.release": "90 ms"}


def test_a_grandparent_that_two_parents_share_comes_only_once_before_both() -> None:
    lantern = """\
song: Lantern
scenes:
  root: {gate-1.threshold: -60 dB}
  left: {like: root, gate-1.threshold: -40 dB}
  right: {like: root, gate-1.release: 90 ms}
  finale: {like: [left, right]}
"""
    # Were the root laid again before `right`, its -60 dB would beat the -40 dB of `left`.
    expected = {**HOME, "gate-1.threshold": "-40 dB", "gate-1.release": "90 ms"}
    assert shown(show(RIG, lantern, DELAY), "finale") == expected


def test_a_later_parents_own_parent_comes_after_the_earlier_parent() -> None:
    lantern = """\
song: Lantern
scenes:
  first: {gate-1.threshold: -60 dB}
  root: {gate-1.threshold: -40 dB}
  second: {like: root, gate-1.release: 90 ms}
  finale: {like: [first, second]}
"""
    # The chain is first, root, second: the root's -40 dB is later than -60 dB.
    expected = {**HOME, "gate-1.threshold": "-40 dB", "gate-1.release": "90 ms"}
    assert shown(show(RIG, lantern, DELAY), "finale") == expected


def test_a_parent_named_before_one_that_it_is_like_is_a_warning_and_still_comes_after_it() -> None:
    lantern = """\
song: Lantern
scenes:
  root: {gate-1.threshold: -60 dB}
  child: {like: root, gate-1.threshold: -40 dB}
  finale: {like: [child, root], gate-1.release: 90 ms}
"""
    judged = show(RIG, lantern, DELAY)
    assert names(judged) == ["like-order lantern.yaml:5"]
    assert shown(judged, "finale") == {**HOME, "gate-1.threshold": "-40 dB", "gate-1.release": "90 ms"}


def test_a_parent_named_before_one_that_it_is_like_by_way_of_another_is_a_warning() -> None:
    lantern = """\
song: Lantern
scenes:
  root: {gate-1.threshold: -60 dB}
  child: {like: root, gate-1.threshold: -40 dB}
  grandchild: {like: child, bells.bed: on}
  finale: {like: [grandchild, root], gate-1.release: 90 ms}
"""
    judged = show(RIG, lantern, DELAY)
    assert names(judged) == ["like-order lantern.yaml:6"]
    expected = {**HOME, "gate-1.threshold": "-40 dB", "gate-1.release": "90 ms", "bells.bed": "on"}
    assert shown(judged, "finale") == expected


def test_a_parent_named_after_one_that_it_is_like_is_no_warning() -> None:
    lantern = """\
song: Lantern
scenes:
  root: {gate-1.threshold: -60 dB}
  child: {like: root, gate-1.threshold: -40 dB}
  finale: {like: [root, child], gate-1.release: 90 ms}
"""
    judged = show(RIG, lantern, DELAY)
    assert names(judged) == []
    assert shown(judged, "finale") == {**HOME, "gate-1.threshold": "-40 dB", "gate-1.release": "90 ms"}


def test_a_circle_of_parents_is_an_error() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {like: bridge, gate-1.threshold: -60 dB}
  chorus: {like: verse, gate-1.threshold: -50 dB}
  bridge: {like: chorus, gate-1.threshold: -40 dB}
"""
    found = names(show(RIG, lantern, DELAY))
    assert [line.split()[0] for line in found] == ["like-circle"]


def test_a_scene_like_itself_is_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {like: verse, gate-1.threshold: -60 dB}\n"
    assert names(show(RIG, lantern, DELAY)) == ["like-circle lantern.yaml:3"]


def test_a_scene_written_as_a_name_is_like_that_scene() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate-1.threshold: -60 dB}\n  verse 2: verse\n"
    judged = show(RIG, lantern, DELAY)
    assert (names(judged), shown(judged, "verse 2")) == ([], {**HOME, "gate-1.threshold": "-60 dB"})


def test_like_does_not_bring_the_place() -> None:
    lantern = """\
song: Lantern
tempo: 120
scenes:
  verse: {at: [bar 1, bar 17], gate-1.threshold: -60 dB}
  chorus: {at: bar 9, like: verse, gate-1.release: 90 ms}
"""
    assert order(show(RIG, lantern, DELAY)) == ["verse", "chorus", "verse@2"]


def test_like_does_not_bring_the_remark() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate-1.threshold: -60 dB, remark: stand still}
  chorus: {like: verse, gate-1.release: 90 ms}
"""
    _, states = song(show(RIG, lantern, DELAY), "lantern")
    assert (visit(states, "verse").remark, visit(states, "chorus").remark) == ("stand still", None)


def test_like_does_not_bring_the_tempo() -> None:
    lantern = """\
song: Lantern
tempo: 60
scenes:
  verse: {tempo: 120, delay.time: 1/4}
  chorus: {like: verse, gate-1.release: 90 ms}
"""
    judged = show(RIG, lantern, DELAY)
    # A quarter note is 500 ms at 120 and 1000 ms at 60.
    assert shown(judged, "verse") == {**HOME, "delay.time": "500 ms"}
    assert shown(judged, "chorus") == {**HOME, "gate-1.release": "90 ms", "delay.time": "1000 ms"}


def test_like_does_not_bring_triggers() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate-1.threshold: -60 dB, bell: now}
  chorus: {like: verse, gate-1.release: 90 ms}
"""
    _, states = song(show(RIG, lantern, DELAY), "lantern")
    fired = {v.scene: [t.control for t in v.triggers] for v in states.visits}
    assert fired == {"verse": ["bell"], "chorus": []}


def test_a_child_may_fire_the_trigger_of_its_parent_again() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate-1.threshold: -60 dB, bell: now}
  chorus: {like: verse, bells.bell: now}
"""
    _, states = song(show(RIG, lantern, DELAY), "lantern")
    fired = {v.scene: [t.control for t in v.triggers] for v in states.visits}
    assert fired == {"verse": ["bell"], "chorus": ["bell"]}


def test_a_dropped_scene_is_not_visited_and_may_still_be_a_parent() -> None:
    lantern = """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate-1.threshold: -60 dB}
  chorus: {at: bar 9, like: verse, gate-1.release: 90 ms}
"""
    judged = show(RIG, lantern, {**DELAY, "show.yaml": LEG})
    assert (names(judged), order(judged)) == ([], ["chorus"])
    expected = {**HOME, "gate-1.threshold": "-60 dB", "gate-1.release": "90 ms"}
    assert shown(judged, "chorus") == expected


def test_a_dropped_parent_still_brings_its_instrument() -> None:
    rig = RIG + "instruments:\n  mandola: {tuning: C G D A, sets: {gate-1.release: 120 ms}}\n"
    lantern = """\
song: Lantern
scenes:
  verse: {instrument: mandola, gate-1.threshold: -60 dB}
  chorus: {like: verse, bells.bed: on}
"""
    expected = {**HOME, "gate-1.threshold": "-60 dB", "gate-1.release": "120 ms", "bells.bed": "on"}
    assert shown(show(rig, lantern, {**DELAY, "show.yaml": LEG}), "chorus") == expected


def test_a_change_to_a_dropped_parent_reaches_its_children() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate-1.threshold: -60 dB}
  chorus: {like: verse, gate-1.release: 90 ms}
"""
    rig = RIG + "changes: {lantern: {scenes: {verse: {gate-1.threshold: -30 dB}}}}\n"
    expected = {**HOME, "gate-1.threshold": "-30 dB", "gate-1.release": "90 ms"}
    assert shown(show(rig, lantern, {**DELAY, "show.yaml": LEG}), "chorus") == expected
