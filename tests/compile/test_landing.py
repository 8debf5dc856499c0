"""`land: on time`: a visit is sent so early that it has landed at its place.

At 120 a minute in 4/4 a bar lasts two seconds. A byte takes 320 microseconds (MIDI 1.0 Detailed
Specification 4.2.1, p. 1): a recall of two bytes and 35 ms lands after 35,640.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from switchmatrix.compile.plan import PlannedVisit, land
from switchmatrix.compile.schedule import Busy, schedule
from switchmatrix.pipeline import Judged, plan
from tests.compile.cases import drawn, rig_of, unit
from tests.compile.drawn import Dice
from tests.compile.rules import broken
from tests.support import findings, judged

HALL = """
definition: hall
programs: {count: 8, first: 1, settle: 35 ms, repeat: recalls}
controls: {mix: {kind: level, cc: 30, range: [0, 127]}}
"""
RIG = """
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices: {hall-1: {port: rack, channel: 1, definition: hall, patches: {small: 1, large: 2}}}
home: {hall-1: {patch: small, mix: 5}}
"""
SHOW = "show: Tidewrack\nrigs: [a-rig]\nlegs: {tour: {rigs: [a-rig], setlist: [lantern]}}\n"


def show_of(scenes: str, song: str = "", show: str = "", rig: str = RIG) -> Judged:
    """A rig of one hall, with lines of the show, lines of the song, and its scenes at 120."""
    return judged(
        {
            "show.yaml": SHOW + show,
            "rigs/a-rig.yaml": rig,
            "definitions/hall.yaml": HALL,
            "lantern.yaml": f"song: Lantern\ntempo: 120\n{song}scenes:\n{scenes}",
        }
    )


def visits(show: Judged) -> tuple[PlannedVisit, ...]:
    """The visits of the only song."""
    assert show.sound, findings(show)
    return plan(show)[0].songs[0].visits


def starts(show: Judged) -> list[list[int]]:
    """When each visit's messages start, in microseconds from its place."""
    return [[m.starts_us for m in visit.messages] for visit in visits(show)]


FAR = """
  verse: {at: bar 1}
  chorus: {at: bar 2, LAND hall-1: {patch: large, mix: 9}}
  coda: {at: bar 3, hall-1: {patch: small, mix: 9}}
"""
# Recall, settle, control: 640 + 35,000 + 960.
AS_SENT, ON_TIME = [0, 35640], [-36600, -960]


@pytest.mark.parametrize(
    ("show", "song", "scene", "chorus", "coda"),
    [
        ("", "", "", AS_SENT, [0]),
        ("", "", "land: on time,", ON_TIME, [0]),
        ("", "land: on time\n", "", ON_TIME, [-35640]),
        ("land: on time\n", "", "", ON_TIME, [-35640]),
        ("land: on time\n", "land: as sent\n", "", AS_SENT, [0]),
        ("land: on time\n", "", "land: as sent,", AS_SENT, [-35640]),
        ("land: as sent\n", "land: on time\n", "land: as sent,", AS_SENT, [-35640]),
        ("", "land: as sent\n", "land: on time,", ON_TIME, [0]),
    ],
)
def test_the_narrowest_word_on_landing_wins(
    show: str, song: str, scene: str, chorus: list[int], coda: list[int]
) -> None:
    assert starts(show_of(FAR.replace("LAND", scene), song, show))[1:] == [chorus, coda]


def test_a_visit_on_time_has_landed_at_its_place() -> None:
    chorus = visits(show_of(FAR.replace("LAND", "land: on time,")))[1]
    assert (chorus.on_time, chorus.late_us, chorus.change_time_us) == (True, 0, 36600)


def test_a_first_visit_at_the_start_begins_there_and_is_late_by_its_change_time() -> None:
    verse = visits(show_of("  verse: {at: bar 1, land: on time}\n"))[0]
    assert ([m.starts_us for m in verse.messages], verse.late_us) == ([0, 35640], 36600)


# 10 ms is tick 19 (19.2) at 120: 9,895.83 microseconds.
def test_a_visit_too_near_the_start_begins_with_the_song() -> None:
    verse = visits(show_of('  verse: {at: "0:00.010", land: on time}\n'))[0]
    assert ([m.starts_us for m in verse.messages], verse.late_us) == ([-9896, 25744], 26704)


def test_a_first_visit_far_from_the_start_lands_on_time_too() -> None:
    verse = visits(show_of("  verse: {at: bar 2, land: on time}\n"))[0]
    assert ([m.starts_us for m in verse.messages], verse.late_us) == ([-36600, -960], 0)


# The verse stands at tick 0; the chorus 20 ms later cannot begin before it has sent its last, at 35,640.
def test_a_visit_never_overtakes_the_one_before() -> None:
    scenes = (
        '  verse: {at: "0:00"}\n  chorus: {at: "0:00.020", land: on time, hall-1: {patch: large, mix: 9}}\n'
    )
    _, chorus = visits(show_of(scenes))
    place = 36600 - chorus.messages[0].starts_us
    assert 19_000 < place < 21_000
    assert [m.starts_us + place for m in chorus.messages] == [36600, 72240]
    assert chorus.late_us + place == 73200


TWO = """
rig: A rig
ports: {rack: {out: rack, speed: din}, floor: {out: floor, speed: din}}
devices:
  hall-1: {port: rack, channel: 1, definition: hall, patches: {small: 1, large: 2}}
  hall-2: {port: floor, channel: 1, definition: hall, patches: {small: 1, large: 2}}
home: {hall-1: {patch: small, mix: 5}, hall-2: {patch: small, mix: 5}}
"""


# The chorus would need 35,640 and has 10 ms: it goes with the verse's place, and not before it, though
# its own port has nothing to do.
def test_a_visit_does_not_begin_before_the_place_of_the_one_before() -> None:
    scenes = """
  intro: {at: bar 1}
  verse: {at: "0:02.000", hall-1.mix: 6}
  chorus: {at: "0:02.010", land: on time, hall-1.mix: 6, hall-2.patch: large}
"""
    chorus = visits(show_of(scenes, rig=TWO))[2]
    assert ([m.starts_us for m in chorus.messages], chorus.late_us) == ([-9896], 25744)


def test_a_visit_on_time_may_begin_within_the_one_before() -> None:
    scenes = """
  intro: {at: bar 1}
  verse: {at: "0:02.000", hall-1.patch: large}
  chorus: {at: "0:02.100", land: on time, hall-1.patch: large, hall-2.patch: large}
"""
    assert starts(show_of(scenes, rig=TWO))[2] == [-35640]


def test_a_song_without_places_has_nothing_to_land_on() -> None:
    show = show_of("  verse: {}\n  chorus: {land: on time, hall-1.patch: large}\n")
    assert [(visit.on_time, visit.messages[0].starts_us) for visit in visits(show)] == [
        (False, 0),
        (False, 0),
    ]


def test_a_visit_that_sends_nothing_lands_on_time() -> None:
    show = show_of("  verse: {at: bar 1}\n  chorus: {at: bar 2, land: on time}\n")
    assert (visits(show)[1].messages, visits(show)[1].late_us) == ((), 0)


RACK = rig_of({"rack": "din", "floor": "din"})
RECALL = tuple(unit("echo", 2, settle_us=35000))


def test_a_change_lands_at_the_moment_where_nothing_is_going_on() -> None:
    assert [m.starts_us for m in land(RACK, RECALL, 100_000, Busy(), 0).messages] == [64360]


def test_a_change_begins_earlier_where_what_is_going_on_makes_it_longer() -> None:
    steps = (*unit("echo", 3), *unit("gate", 3), *unit("gate", 3))
    busy = Busy(devices={"echo": 98_000})
    assert [m.starts_us for m in land(RACK, steps, 100_000, busy, 0).messages] == [97120, 98080, 99040]


# The echo is busy until 110 ms: nothing brings it to land sooner, and the gate is on time all the same.
def test_what_is_not_held_up_lands_on_time_beside_what_is() -> None:
    steps = (*unit("echo", 3), *unit("gate", 3, port="floor", settle_us=5000))
    timed = land(RACK, steps, 100_000, Busy(devices={"echo": 110_000}), 0)
    assert [(m.step.device, m.starts_us, m.lands_us) for m in timed.messages] == [
        ("gate", 89_040, 95_000),
        ("echo", 110_000, 110_960),
    ]


@settings(max_examples=200, deadline=None)
@given(st.binary(min_size=160, max_size=160), st.sampled_from([0, 5000, 40_000, 500_000]))
def test_a_change_that_lands_breaks_no_rule_and_is_late_only_from_the_earliest_start(
    data: bytes, moment: int
) -> None:
    case = drawn(Dice(data), devices=5, most=12)
    timed = land(case.rig, case.steps, moment, Busy(), 0)
    landed = max((m.lands_us for m in timed.messages), default=moment)
    first = min((m.starts_us for m in timed.messages), default=moment)
    assert broken(case.rig, case.steps, timed.messages, at_us=min(0, first)) == []
    at_rest = schedule(case.rig, case.steps).change_time_us()
    assert (first, landed) == (max(0, moment - at_rest), max(moment, at_rest))


# From 0 the alder would still settle until 3,960, and the birch's pair would be under way by then.
def test_an_earlier_beginning_that_lands_later_is_not_taken() -> None:
    rig = rig_of({"rack": "din", "floor": "din"})
    steps = (
        *unit("birch", 2, gap_us=2000),
        *unit("birch", 3, 3, gap_us=2000),
        *unit("alder", 3, settle_us=5000),
    )
    busy = Busy(ports={"floor": 960}, devices={"alder": 3960})
    assert land(rig, steps, 5000, busy, 0) == schedule(rig, steps, 5000, busy)
    assert [m.lands_us for m in land(rig, steps, 5000, busy, 0).messages] == [5640, 11600, 8600, 11560]
    assert max(m.lands_us for m in schedule(rig, steps, 0, busy).messages) == 12520


# 11,460 late from 20,000 on, and from 8,540 on another order is the longest way first.
def test_a_change_that_has_landed_before_its_place_is_not_put_off_again() -> None:
    rig = rig_of({"rack": "din"})
    steps = (
        *unit("cedar", 2),
        *unit("alder", 3, settle_us=5000),
        *unit("birch", 9, settle_us=1000, channel=2),
        *unit("alder", 3, 3, settle_us=700),
        *unit("birch", 9, settle_us=3000, channel=2),
    )
    busy = Busy(ports={"rack": 6600}, devices={"birch": 9600})
    timed = land(rig, steps, 20_000, busy, 0)
    assert timed == schedule(rig, steps, 8540, busy)
    assert max(m.lands_us for m in timed.messages) == 19_900
