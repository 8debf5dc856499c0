"""How long each change takes, as text and as rows.

A byte takes 320 microseconds (MIDI 1.0 Detailed Specification 4.2.1, p. 1): the echo's recall of two bytes
640 and its settle 35,000; a control 960.
"""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.compile.plan import LegPlan
from switchmatrix.compile.schedule import schedule
from switchmatrix.compile.step import Role
from switchmatrix.emit.timing import quiet, timing, timing_row
from switchmatrix.model.show import Show
from switchmatrix.pipeline import plan
from tests.compile.cases import rig_of, unit
from tests.support import findings, judged

SHOW = """\
show: Tidewrack
rigs: [a-rig]
legs: {tour: {rigs: [a-rig], setlist: [lantern]}}
budget: 30 ms
"""
LANTERN = """\
song: Lantern
tempo: 120
scenes:
  verse: {at: [bar 1, bar 17], gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
  bridge: {at: bar 25, land: on time, like: verse, echo: cliff}
  coda: {at: "1:04.000", land: on time, like: verse, gate: loose, echo: slap}
  end: {at: bar 41, like: coda}
"""
# The gate is on a usb port, where its bytes take no time.
RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}, floor: {out: floor, speed: usb}}
devices:
  gate-1: {port: floor, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
"""


def planned(show: str = SHOW) -> tuple[LegPlan, Show]:
    """The plan of the song on the rig above."""
    made = judged({"show.yaml": show, "lantern.yaml": LANTERN, "rigs/a-rig.yaml": RIG})
    assert made.sound, findings(made)
    (leg,) = plan(made)
    return leg, made.worked_out.show


# 1:04 is bar 33, eight bars and 16 seconds after the bridge.
def test_text_has_each_visit_with_what_takes_its_time() -> None:
    assert timing(*planned()) == (
        """\
tour, A rig

01  Lantern
  1. verse, bar 1: from unknown, 36.6 ms (bound 36.6 ms), slowest echo
     quiet while they recall: echo 35 ms
  2. chorus, bar 9: 36.6 ms (bound 36.6 ms), slowest echo, 6.6 ms over its budget of 30 ms
     quiet while they recall: echo 35 ms
  3. verse, bar 17: 36.6 ms (bound 36.6 ms), slowest echo, 6.6 ms over its budget of 30 ms
     quiet while they recall: echo 35 ms
  4. bridge, bar 25: 36.6 ms (bound 36.6 ms), slowest echo, 6.6 ms over its budget of 30 ms
     lands on time
     quiet while they recall: echo 35 ms
  5. coda, 1:04.000: 35.6 ms (bound 35.6 ms), slowest echo, 5.64 ms over its budget of 30 ms
     lands on time
     quiet while they recall: echo 35 ms
  6. end, bar 41: nothing to send
"""
    )


def test_a_change_within_its_budget_says_so() -> None:
    text = timing(*planned(SHOW.replace("30 ms", "36.6 ms")))
    assert "  2. chorus, bar 9: 36.6 ms (bound 36.6 ms), slowest echo, within its budget of 36.6 ms\n" in text


def test_without_a_budget_none_is_said() -> None:
    text = timing(*planned(SHOW.replace("budget: 30 ms\n", "")))
    assert "  2. chorus, bar 9: 36.6 ms (bound 36.6 ms), slowest echo\n" in text


def test_a_visit_that_cannot_land_on_time_says_how_late_it_is() -> None:
    text = timing(*planned(SHOW + "land: on time\n"))
    assert text.splitlines()[3:6] == [
        "  1. verse, bar 1: from unknown, 36.6 ms (bound 36.6 ms), slowest echo",
        "     lands 36.6 ms after its place",
        "     quiet while they recall: echo 35 ms",
    ]


def test_a_row_has_microseconds() -> None:
    leg, show = planned()
    assert timing_row(leg.songs[0], leg.songs[0].visits[1], show) == {
        "song": "lantern",
        "visit": 2,
        "scene": "chorus",
        "place": "bar 9",
        "change_time_us": 36600,
        "bound_us": 36600,
        "slowest": "echo",
        "quiet_us": {"echo": 35000},
        "budget_us": 30000,
        "on_time": False,
        "late_us": None,
    }


def test_a_row_of_a_first_visit_is_held_to_no_budget_and_says_how_late_it_is() -> None:
    leg, show = planned(SHOW + "land: on time\n")
    assert timing_row(leg.songs[0], leg.songs[0].visits[0], show) == {
        "song": "lantern",
        "visit": 1,
        "scene": "verse",
        "place": "bar 1",
        "change_time_us": 36600,
        "bound_us": 36600,
        "slowest": "echo",
        "quiet_us": {"echo": 35000},
        "budget_us": None,
        "on_time": True,
        "late_us": 36600,
    }


def test_a_row_of_a_visit_that_sends_nothing_has_no_slowest_device() -> None:
    leg, show = planned()
    assert timing_row(leg.songs[0], leg.songs[0].visits[5], show) == {
        "song": "lantern",
        "visit": 6,
        "scene": "end",
        "place": "bar 41",
        "change_time_us": 0,
        "bound_us": 0,
        "slowest": None,
        "quiet_us": {},
        "budget_us": 30000,
        "on_time": False,
        "late_us": None,
    }


def test_a_row_of_a_visit_that_lands_on_time_is_late_by_nothing() -> None:
    leg, show = planned()
    rows = [timing_row(leg.songs[0], visit, show) for visit in leg.songs[0].visits[3:5]]
    assert [(row["on_time"], row["late_us"]) for row in rows] == [(True, 0), (True, 0)]


def test_only_recalls_that_settle_make_a_device_quiet() -> None:
    steps = (
        *unit("echo", 3, 2, settle_us=35000, role=Role.RECALL),
        *unit("hall", 2, channel=2, role=Role.RECALL),
        *unit("amp", 3, channel=3, settle_us=20000),
    )
    visit = replace(
        planned()[0].songs[0].visits[0], messages=schedule(rig_of({"rack": "din"}), steps).messages
    )
    assert quiet(visit) == [("echo", 35000)]
