"""The running order: visits in order of place, the order list, file order, and what disagrees."""

from __future__ import annotations

from tests.states.kit import labels, order, show
from tests.support import names, song

RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
home: {gate-1: {threshold: -70 dB, release: 250 ms}}
"""

DROP_CHORUS = """\
show: Tidewrack
rigs: [a-rig]
legs:
  tour:
    rigs: [a-rig]
    setlist: [lantern]
    changes: {lantern: {scenes: {chorus: {drop: yes}}}}
"""


def visits(lantern: str) -> list[str]:
    """The running order of the song."""
    return order(show(RIG, lantern))


def found(lantern: str) -> list[str]:
    """The names of what is wrong."""
    return names(show(RIG, lantern))


def test_visits_come_in_the_order_of_their_places_and_not_of_the_file() -> None:
    lantern = """\
song: Lantern
tempo: 120
scenes:
  chorus: {at: [bar 17, bar 49], gate-1.release: 10 ms}
  verse: {at: [bar 1, bar 33], gate-1.release: 20 ms}
"""
    assert visits(lantern) == ["verse", "chorus", "verse@2", "chorus@2"]


def test_bars_beats_and_clock_times_stand_in_one_order() -> None:
    lantern = """\
song: Lantern
tempo: 120
scenes:
  third: {at: bar 9 beat 3, gate-1.release: 10 ms}
  fourth: {at: "0:17.5", gate-1.release: 20 ms}
  second: {at: "0:16.5", gate-1.release: 30 ms}
  first: {at: bar 9, gate-1.release: 40 ms}
"""
    # At 120 in four, bar 9 is at 16 seconds and its third beat at 17.
    assert visits(lantern) == ["first", "second", "third", "fourth"]


def test_a_place_in_time_code_counts_from_the_songs_start() -> None:
    lantern = """\
song: Lantern
tempo: 120
start: "1:00:00:00"
rate: 25
scenes:
  second: {at: "1:00:16:12", gate-1.release: 10 ms}
  first: {at: bar 9, gate-1.release: 20 ms}
  third: {at: "0:16.5", gate-1.release: 30 ms}
"""
    # Frame 12 of 25 is 0.48 seconds.
    assert visits(lantern) == ["first", "second", "third"]


def test_a_song_without_places_goes_by_its_order_list() -> None:
    lantern = """\
song: Lantern
order: [verse, chorus, verse, chorus]
scenes:
  chorus: {gate-1.release: 10 ms}
  verse: {gate-1.release: 20 ms}
"""
    assert visits(lantern) == ["verse", "chorus", "verse@2", "chorus@2"]


def test_a_song_without_places_and_order_goes_by_its_file() -> None:
    lantern = """\
song: Lantern
scenes:
  zephyr: {gate-1.release: 10 ms}
  anchor: {gate-1.release: 20 ms}
  mast: {gate-1.release: 30 ms}
"""
    assert visits(lantern) == ["zephyr", "anchor", "mast"]


def test_visits_without_places_have_no_tick() -> None:
    lantern = "song: Lantern\norder: [verse, verse]\nscenes:\n  verse: {gate-1.release: 10 ms}\n"
    _, states = song(show(RIG, lantern), "lantern")
    assert [(v.number, v.nth, v.tick, v.place) for v in states.visits] == [(1, 1, None, ""), (2, 2, None, "")]


def test_places_and_an_order_list_that_agree_are_no_error() -> None:
    lantern = """\
song: Lantern
tempo: 120
order: [verse, chorus, verse]
scenes:
  chorus: {at: bar 17, gate-1.release: 10 ms}
  verse: {at: [bar 1, bar 33], gate-1.release: 20 ms}
"""
    assert (found(lantern), visits(lantern)) == ([], ["verse", "chorus", "verse@2"])


def test_places_and_an_order_list_that_disagree_are_an_error() -> None:
    lantern = """\
song: Lantern
tempo: 120
order: [chorus, verse]
scenes:
  verse: {at: bar 1, gate-1.release: 20 ms}
  chorus: {at: bar 17, gate-1.release: 10 ms}
"""
    assert found(lantern) == ["order-disagrees lantern.yaml:3"]


def test_an_order_list_that_ends_before_the_places_do_is_an_error() -> None:
    lantern = """\
song: Lantern
tempo: 120
order: [verse]
scenes:
  verse: {at: bar 1, gate-1.release: 20 ms}
  chorus: {at: bar 17, gate-1.release: 10 ms}
"""
    assert found(lantern) == ["order-disagrees lantern.yaml:3"]


def test_an_order_list_that_goes_on_after_the_places_end_is_an_error() -> None:
    lantern = """\
song: Lantern
tempo: 120
order: [verse, chorus, verse]
scenes:
  verse: {at: bar 1, gate-1.release: 20 ms}
  chorus: {at: bar 17, gate-1.release: 10 ms}
"""
    assert found(lantern) == ["order-disagrees lantern.yaml:3"]


def test_an_order_list_with_a_scene_that_is_not_there_is_an_error() -> None:
    lantern = "song: Lantern\norder: [verse, coda]\nscenes:\n  verse: {gate-1.release: 20 ms}\n"
    assert [line.split()[0] for line in found(lantern)] == ["unknown-name"]


def test_two_scenes_at_one_place_are_an_error() -> None:
    lantern = """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate-1.release: 20 ms}
  chorus: {at: "0:00", gate-1.release: 10 ms}
"""
    assert [line.split()[0] for line in found(lantern)] == ["places-out-of-order"]


def test_a_dropped_scene_is_left_out_of_the_order_list() -> None:
    lantern = """\
song: Lantern
order: [verse, chorus, verse, bridge]
scenes:
  verse: {gate-1.release: 20 ms}
  chorus: {gate-1.release: 10 ms}
  bridge: {gate-1.release: 30 ms}
"""
    judged = show(RIG, lantern, {"show.yaml": DROP_CHORUS})
    assert (names(judged), order(judged)) == ([], ["verse", "verse@2", "bridge"])


def test_a_dropped_scene_is_left_out_of_order_list_and_places_alike() -> None:
    lantern = """\
song: Lantern
tempo: 120
order: [verse, chorus, verse]
scenes:
  verse: {at: [bar 1, bar 33], gate-1.release: 20 ms}
  chorus: {at: bar 17, gate-1.release: 10 ms}
"""
    judged = show(RIG, lantern, {"show.yaml": DROP_CHORUS})
    assert (names(judged), order(judged)) == ([], ["verse", "verse@2"])


def test_a_dropped_scenes_state_is_no_state_of_the_song() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate-1.release: 20 ms}\n  chorus: {gate-1.release: 10 ms}\n"
    assert labels(show(RIG, lantern, {"show.yaml": DROP_CHORUS})) == ["verse"]


def test_a_scene_without_a_place_in_a_song_with_places_is_not_visited_but_has_its_state() -> None:
    lantern = """\
song: Lantern
tempo: 120
scenes:
  bed: {gate-1.release: 10 ms}
  verse: {at: bar 1, like: bed, gate-1.threshold: -60 dB}
"""
    judged = show(RIG, lantern)
    assert (order(judged), labels(judged)) == (["verse"], ["bed", "verse"])
