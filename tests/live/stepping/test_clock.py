"""MIDI clock with song position. Pages are those of the MIDI 1.0 Detailed Specification 4.2.1."""

from __future__ import annotations

from fractions import Fraction

import pytest

from switchmatrix.live.stepping.clock import ClockFollower, clock_follower
from switchmatrix.live.stepping.cues import by_tick
from switchmatrix.live.stepping.inputs import Located, Reached
from switchmatrix.live.stepping.mtc import Said
from switchmatrix.live.stepping.running import Cue
from tests.live.stepping.code import Message, at, clocks, listen_to_clock
from tests.live.stepping.kit import BRIDGE, CHORUS, SHOW, VERSE, VERSE_2

START, CONTINUE, STOP = b"\xfa", b"\xfb", b"\xfc"
BAR = 4 * 960
"""A bar of 4/4 in ticks."""


def cued(*bars: int, early: int = 0) -> ClockFollower:
    """A follower with visits at the beginnings of bars."""
    keys = (VERSE, CHORUS, VERSE_2)
    return clock_follower(
        tuple(
            Cue(Fraction((bar - 1) * BAR), early, key)
            for bar, key in zip(bars, keys[: len(bars)], strict=True)
        )
    )


def position(sixteenths: int) -> bytes:
    """Song position, least significant byte first (p. 27)."""
    return bytes([0xF2, sixteenths % 128, sixteenths // 128])


def started(bpm: float, bars: int, at_us: int = 1_000, start: bytes = START) -> list[Message]:
    """A start, and the clocks of so many bars; the first of them is the song's first (p. 30)."""
    return [(at_us - 1_000, start), *clocks(bpm, 96 * bars, at_us)]


# Song position counts sixteenths, six clocks each (p. 27); the bytes are worked out from that.
@pytest.mark.parametrize(
    ("text", "tick"),
    [
        ("F2 00 00", 0),
        ("F2 04 00", 960),
        ("F2 0A 00", 2_400),
        ("F2 10 00", BAR),
        ("F2 7F 00", 30_480),
        ("F2 00 01", 8 * BAR),
        ("F2 7F 7F", 16_383 * 240),
    ],
)
def test_song_position_is_a_place(text: str, tick: int) -> None:
    state, events = listen_to_clock(cued(1), [(0, bytes.fromhex(text))])
    assert (state.tick, events) == (tick, [])


# Printed example, p. 28: position 4, continue, and 3 clocks: the song is at clock 27.
def test_clocks_after_a_continue_count_from_the_song_position() -> None:
    state, _ = listen_to_clock(cued(), [(0, position(4)), (0, CONTINUE), *clocks(120, 3, 1_000)])
    assert state.tick == 27 * 40


@pytest.mark.parametrize("bpm", [60, 120, 137, 174])
def test_a_visit_fires_at_its_clock(bpm: float) -> None:
    _, events = listen_to_clock(cued(1, 2, 3), started(bpm, 3))
    bar_us = 240_000_000 / bpm
    assert [event for _, event in events] == [Reached(VERSE), Reached(CHORUS), Reached(VERSE_2)]
    assert [moment for moment, _ in events[1:]] == pytest.approx(
        [1_000 + bar_us, 1_000 + 2 * bar_us], abs=1_500
    )


def test_a_visit_that_lands_on_time_is_due_early_by_its_change_time() -> None:
    _, events = listen_to_clock(cued(2, early=150_000), started(120, 2))
    assert [event for _, event in events] == [Reached(VERSE)]
    assert events[0][0] == pytest.approx(2_001_000 - 150_000, abs=1_000)


def test_song_position_goes_to_the_scene_that_belongs_there_once_the_clock_runs_steadily() -> None:
    sent = [(0, position(64 + 4)), *at(started(120, 1, start=CONTINUE), 500_000)]
    _, events = listen_to_clock(cued(1, 3, 5), sent)
    assert [event for _, event in events] == [Located(VERSE_2)]
    assert events[0][0] == pytest.approx(751_000, abs=25_000)


def test_song_position_at_a_visit_reaches_it_by_running() -> None:
    sent = [(0, position(32)), *at(started(120, 1, start=CONTINUE), 500_000)]
    assert [event for _, event in listen_to_clock(cued(1, 3), sent)[1]] == [Reached(CHORUS)]


def test_positions_while_it_is_stopped_recall_nothing() -> None:
    sent = [*clocks(120, 96)] + [(1_000_000 + n * 10_000, position(4 * n)) for n in range(60)]
    assert listen_to_clock(cued(1, 3, 5), sent, 9_000_000)[1] == []


# Clocks may go on while nothing runs (p. 30).
def test_clocks_before_the_start_are_no_time() -> None:
    sent = [*clocks(120, 480), *at(started(120, 2), 10_000_000)]
    _, events = listen_to_clock(cued(1, 2), sent)
    assert [event for _, event in events] == [Reached(VERSE), Reached(CHORUS)]
    assert events[1][0] == pytest.approx(12_001_000, abs=1_500)


def test_a_stop_is_said_and_keeps_the_place() -> None:
    sent = [*started(120, 1), (3_000_000, STOP), *at(started(120, 1, start=CONTINUE), 9_000_000)]
    _, events = listen_to_clock(cued(1, 2), sent[:96] + sent[96:])
    assert [event for _, event in events if isinstance(event, Said)] == [Said("the clock no longer comes")]


def test_a_stop_at_once_is_said_at_once_and_nothing_comes_after_it() -> None:
    sent = [*started(120, 1), (1_990_000, STOP)]
    _, events = listen_to_clock(cued(1, 2), sent, 60_000_000)
    assert events[1:] == [(1_990_000, Said("the clock has stopped"))]


def broken_for(gap_us: int) -> list[tuple[int, object]]:
    """What comes of a clock at 120 that is silent for that long from 1 second on, and then goes on."""
    sent = started(120, 4)
    last = max(moment for moment, _ in sent if moment <= 1_000_000)
    kept = [(moment, data) for moment, data in sent if moment <= last or moment >= last + gap_us]
    return list(listen_to_clock(cued(1, 3), kept)[1])


def test_a_drop_out_under_half_a_second_is_run_through_and_costs_no_time() -> None:
    events = broken_for(470_000)
    assert [event for _, event in events] == [Reached(VERSE), Reached(CHORUS)]
    assert events[1][0] == pytest.approx(4_001_000, abs=1_500)


def test_a_longer_drop_out_stops_and_says_so() -> None:
    events = broken_for(520_000)
    assert [event for _, event in events][:2] == [Reached(VERSE), Said("the clock no longer comes")]


def test_a_tempo_that_falls_to_a_fifth_is_followed_from_the_second_clock_on() -> None:
    fast, slow = started(150, 1), clocks(30, 96, 1_601_000)
    _, events = listen_to_clock(cued(1, 2), [*fast, *slow])
    assert [event for _, event in events] == [Reached(VERSE), Reached(CHORUS)]


def test_a_songs_visits_are_cued_by_their_bars() -> None:
    assert [(int(cue.at), cue.key) for cue in by_tick(SHOW, ("a-rig",), 1)] == [
        (0, VERSE),
        (2 * BAR, CHORUS),
        (4 * BAR, VERSE_2),
        (6 * BAR, BRIDGE),
    ]
