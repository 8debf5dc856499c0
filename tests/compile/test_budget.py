"""`budget`: a change that takes longer is a warning.

A byte takes 320 microseconds (MIDI 1.0 Detailed Specification 4.2.1, p. 1): a recall of two bytes that
settles for 35 ms and a control change of three take 640 + 35,000 + 960 microseconds, 36.6 ms.
"""

from __future__ import annotations

import pytest

from switchmatrix.diagnostics import names as known
from switchmatrix.diagnostics.diagnostic import Related
from switchmatrix.pipeline import Judged
from switchmatrix.source import Span
from tests.support import findings, judged

SHOW = "show: Tidewrack\nrigs: [a-rig]\nlegs: {tour: {rigs: [a-rig], setlist: [lantern]}}\n"
SONG = """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, SCENE like: verse, echo: cliff}
"""


def show_of(scene: str = "", song: str = "", show: str = "", text: str = SONG) -> Judged:
    """The base show with these lines of the chorus, of the song and of the show."""
    text = text.replace("SCENE ", scene)
    return judged({"show.yaml": SHOW + show, "lantern.yaml": text + song})


OVER = "the change to `chorus` of `lantern` at bar 9 takes 36.6 ms on `a-rig` in `tour`; its budget is "
HELP = "see what takes the time with `switchmatrix timing`; change less there, or give it more time"


def test_a_finding_points_at_the_scene_and_at_the_budget() -> None:
    assert show_of(scene="budget: 20 ms, ").found == [
        known.OVER_BUDGET.at(
            Span("lantern.yaml", 5, 3, 5, 9),
            OVER + "20 ms",
            HELP,
            (Related(Span("lantern.yaml", 5, 31, 5, 36), "the budget"),),
        )
    ]


@pytest.mark.parametrize("budget", ["36.6 ms", "37 ms", "1 s"])
def test_a_change_within_its_budget_is_no_finding(budget: str) -> None:
    assert findings(show_of(scene=f"budget: {budget}, ")) == []


def test_a_change_is_over_its_budget_by_a_microsecond() -> None:
    assert findings(show_of(scene="budget: 36.599 ms, ")) == [
        f"lantern.yaml:5:3: warning over-budget: {OVER}36.599 ms"
    ]


@pytest.mark.parametrize(
    ("scene", "song", "show", "budget"),
    [
        ("budget: 20 ms, ", "", "", ["20 ms"]),
        ("", "budget: 21 ms\n", "", ["21 ms"]),
        ("", "", "budget: 22 ms\n", ["22 ms"]),
        ("budget: 20 ms, ", "budget: 21 ms\n", "budget: 22 ms\n", ["20 ms"]),
        ("", "budget: 21 ms\n", "budget: 22 ms\n", ["21 ms"]),
        ("budget: 40 ms, ", "budget: 21 ms\n", "", []),
        ("", "budget: 40 ms\n", "budget: 22 ms\n", []),
        ("", "", "budget: 40 ms\n", []),
        ("budget: 20 ms, ", "budget: 40 ms\n", "budget: 50 ms\n", ["20 ms"]),
        ("", "", "", []),
    ],
)
def test_the_narrowest_budget_wins(scene: str, song: str, show: str, budget: list[str]) -> None:
    assert findings(show_of(scene, song, show)) == [
        f"lantern.yaml:5:3: warning over-budget: {OVER}{most}" for most in budget
    ]


# From unknown the verse takes 36.6 ms too.
def test_the_first_visit_of_a_song_is_not_judged() -> None:
    text = "song: Lantern\ntempo: 120\nbudget: 1 ms\nscenes:\n  verse: {at: bar 1, gate: tight}\n"
    assert findings(show_of(text=text)) == []


def test_a_scene_that_comes_first_and_again_is_judged_where_it_comes_again() -> None:
    text = SONG.replace("at: bar 1", "at: [bar 1, bar 17]").replace("verse: {", "verse: {budget: 30 ms, ")
    assert findings(show_of(text=text)) == [
        "lantern.yaml:4:3: warning over-budget: the change to `verse` of `lantern` at bar 17 takes 36.6 ms "
        "on `a-rig` in `tour`; its budget is 30 ms"
    ]


# The verse comes twice again, each time from a chorus, with a recall and the switch behind it; the chorus
# sends three controls.
LONGEST = """\
song: Lantern
tempo: 120
budget: 1 ms
scenes:
  verse: {at: [bar 1, bar 17, bar 33], gate: tight}
  chorus: {at: [bar 9, bar 25], like: verse, gate: loose, echo: {engage: on, mix: 40 %}}
"""


def test_of_a_scenes_visits_the_longest_is_named_and_the_first_of_those() -> None:
    found = findings(show_of(text=LONGEST))
    assert [line.partition("the change to ")[2] for line in found] == [
        "`verse` of `lantern` at bar 17 takes 36.6 ms on `a-rig` in `tour`; its budget is 1 ms",
        "`chorus` of `lantern` at bar 9 takes 2.88 ms on `a-rig` in `tour`; its budget is 1 ms",
    ]


def test_a_song_without_places_is_judged_in_its_order() -> None:
    scenes = "  verse: {gate: tight}\n  chorus: {budget: 20 ms, like: verse, echo: cliff}\n"
    text = f"song: Lantern\nscenes:\n{scenes}"
    assert findings(show_of(text=text)) == [
        "lantern.yaml:4:3: warning over-budget: the change to `chorus` of `lantern` takes 36.6 ms on `a-rig` "
        "in `tour`; its budget is 20 ms"
    ]


def test_landing_on_time_makes_no_change_shorter() -> None:
    assert findings(show_of(scene="budget: 20 ms, land: on time, ")) == [
        f"lantern.yaml:5:3: warning over-budget: {OVER}20 ms"
    ]


def test_a_budget_is_a_time() -> None:
    assert findings(show_of(scene="budget: 20 %, ")) == [
        "lantern.yaml:5:31: error bad-value: `20 %` is no time for `budget`"
    ]
