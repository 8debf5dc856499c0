"""MIDI clock beside a rehearsal: at the tempo of the scene, none twice, none left out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import pairwise

from switchmatrix.compile.known import nothing_known
from switchmatrix.compile.schedule import Busy, Timed
from switchmatrix.live.records import MS, Due
from switchmatrix.live.rehearsing.beating import AHEAD_NS, LEFT_NS, Beating, quarter_at
from switchmatrix.live.stepping.moves import in_time
from switchmatrix.live.stepping.prepared import SILENCE, Prepared
from switchmatrix.live.stepping.stops import HOME, Key
from tests.live.rehearsing.hall import WITH_FEET
from tests.live.stepping.kit import BRIDGE, CHANGEOVER, CHORUS, MARKET, SHOW, VERSE, ready, show_of

RIG = WITH_FEET.rigs["a-rig"].rig
FASTER = ready(
    show_of(
        {
            "definitions/echo-box.yaml": ("controls:", "clock: yes\ncontrols:"),
            "bell.yaml": ("instrument: baritone", "tempo: 125\ninstrument: baritone"),
        }
    )
)
"""The same with a tempo for the second song: a clock each 20 ms there, each 20.833 in the first."""


def run(
    beating: Beating, from_ms: int, until_ms: int, pending: Sequence[Timed] = (), every_ms: int = 5
) -> list[Due]:
    """The clocks of the rack that are handed over in that time."""
    out: list[Due] = []
    for ms in range(from_ms, until_ms, every_ms):
        given: Mapping[str, tuple[Due, ...]] = beating.due(RIG, ms * MS, pending)
        assert set(given) <= {"rack"}
        out += given.get("rack", ())
    return out


def at(show: Prepared, key: Key | None, ms: int = 0) -> Beating:
    """Clocks of a rig in that stop."""
    beating = Beating()
    beating.follow(show, key, ms * MS)
    return beating


def gaps_ms(clocks: Sequence[Due]) -> list[float]:
    """What lies between one clock and the next, to the microsecond."""
    moments = [clock.moment_ns for clock in clocks]
    return [round((b - a) / MS, 3) for a, b in pairwise(moments)]


def test_quarter_note_of_a_stop_is_its_songs() -> None:
    keys = (VERSE, CHORUS, MARKET, SILENCE, HOME, CHANGEOVER)
    assert [quarter_at(SHOW, key) for key in keys] == [Fraction(500), Fraction(500), None, None, None, None]


def test_clocks_of_ten_minutes_are_all_there_and_none_twice() -> None:
    clocks = run(at(WITH_FEET, VERSE), 0, 600_000)
    step = Fraction(500 * MS, 24)
    expected = [(n * step).__floor__() for n in range(len(clocks))]
    assert [clock.moment_ns for clock in clocks] == expected
    assert 599_995 * MS + LEFT_NS <= clocks[-1].moment_ns + step < 599_995 * MS + AHEAD_NS + step
    assert {clock.data for clock in clocks} == {b"\xf8"}


def test_clocks_are_handed_over_before_they_are_due() -> None:
    beating = at(WITH_FEET, VERSE)
    handed_ns = 0
    for ms in range(0, 2_000, 5):
        clocks = beating.due(RIG, ms * MS, ()).get("rack", ())
        assert [clock for clock in clocks if clock.moment_ns < ms * MS] == []
        handed_ns = max([handed_ns, *(clock.moment_ns for clock in clocks)])
        assert handed_ns >= ms * MS


def test_after_a_pause_of_the_program_clocks_go_on_in_time_and_late_ones_are_left_out() -> None:
    beating = at(WITH_FEET, VERSE)
    run(beating, 0, 100)
    after = run(beating, 1_000, 1_005)
    step = Fraction(500 * MS, 24)
    assert [clock.moment_ns for clock in after] == [(n * step).__floor__() for n in (48, 49, 50, 51)]


def test_clocks_run_on_into_a_stop_of_the_same_tempo() -> None:
    beating = at(WITH_FEET, VERSE)
    clocks = run(beating, 0, 103)
    beating.follow(WITH_FEET, BRIDGE, 103 * MS)
    clocks += run(beating, 103, 1_000)
    assert set(gaps_ms(clocks)) == {20.833}


def test_another_tempo_goes_on_an_interval_after_the_last_clock_that_was_handed_over() -> None:
    beating = at(FASTER, VERSE)
    clocks = run(beating, 0, 100)
    beating.follow(FASTER, MARKET, 102 * MS)
    before = len(clocks)
    clocks += run(beating, 100, 1_000)
    gaps = gaps_ms(clocks)
    assert set(gaps[: before - 1]) == {20.833}
    assert set(gaps[before - 1 :]) == {20.0}


def test_clocks_of_a_stop_without_tempo_end() -> None:
    beating = at(WITH_FEET, VERSE)
    run(beating, 0, 100)
    beating.follow(WITH_FEET, MARKET, 100 * MS)
    assert run(beating, 100, 1_000) == []


def test_tempo_that_comes_back_at_once_doubles_no_clock() -> None:
    beating = at(WITH_FEET, VERSE)
    clocks = run(beating, 0, 100)
    beating.follow(WITH_FEET, MARKET, 100 * MS)
    beating.follow(WITH_FEET, CHORUS, 110 * MS)
    clocks += run(beating, 110, 1_000)
    assert set(gaps_ms(clocks)) == {20.833}


def test_stopped_clocks_are_no_more_and_begin_anew_where_what_was_handed_over_was_dropped() -> None:
    beating = at(WITH_FEET, VERSE)
    run(beating, 0, 100)
    stopped = [beating.stop(dropped=True), beating.stop(dropped=True)]
    silent = run(beating, 100, 200)
    beating.follow(WITH_FEET, VERSE, 201 * MS)
    again = run(beating, 200, 205)
    assert (stopped, silent) == ([True, False], [])
    assert [clock.moment_ns / MS for clock in again][:1] == [201]


def test_rig_that_is_nowhere_gets_no_clocks() -> None:
    assert run(at(WITH_FEET, None), 0, 1_000) == []


def test_rig_without_a_device_that_wants_them_gets_no_clocks() -> None:
    assert at(SHOW, VERSE).due(SHOW.rigs["a-rig"].rig, 0, ()) == {}


def test_port_whose_device_that_wants_them_is_out_gets_no_clocks() -> None:
    beating = at(WITH_FEET, VERSE)
    assert beating.due(RIG, 0, (), {"echo"}) == {}


def test_clocks_keep_clear_of_the_messages_of_their_port() -> None:
    ready_rig = WITH_FEET.rigs["a-rig"]
    move = ready_rig.moves.move(nothing_known(ready_rig.rig), VERSE, ready_rig.states[VERSE])
    sent = in_time(ready_rig.moves.spaced, move, 100_000, Busy()).messages
    clocks = run(at(WITH_FEET, VERSE), 0, 1_000, sent)
    rack = [m for m in sent if m.step.port == "rack"]
    # A byte takes 320 microseconds at 31,250 bits a second (MIDI 1.0 Detailed Specification 4.2.1, p. 1).
    met = [
        (clock.moment_ns, m.starts_us)
        for clock in clocks
        for m in rack
        if m.starts_us * 1000 - 320_000 < clock.moment_ns < (m.starts_us + 320 * len(m.step.data)) * 1000
    ]
    assert len(rack) > 5
    assert (met, len(clocks)) == ([], 52)
