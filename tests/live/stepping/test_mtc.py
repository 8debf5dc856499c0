"""MIDI Time Code followed. Pages are those of MMA RP-004/RP-008, MIDI Time Code 4.2.1."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from switchmatrix.live.stepping.cues import by_rate, early_us
from switchmatrix.live.stepping.inputs import Located, Reached
from switchmatrix.live.stepping.mtc import Follower, Said, due_us, follow, follower, shown
from switchmatrix.live.stepping.running import Cue, Pace
from switchmatrix.midi.timecode import RATES, TimeCode, frame_index
from switchmatrix.simulate.stream import heard
from tests.live.stepping.code import Message, full, label_at, listen, pieces, quarter_frames
from tests.live.stepping.kit import BRIDGE, CHORUS, SHOW, VERSE, VERSE_2

EVERY_RATE = pytest.mark.parametrize("label", RATES)
HOUR = {label: frame_index(TimeCode(1, 0, 0, 0), rate) for label, rate in RATES.items()}
STEADY_US = 310_000
"""At 25 frames the fourth set is whole after 310 ms: the first after a quarter of a second."""


def moment(label: str, frame: Fraction | int) -> Fraction:
    """A frame's place in the code, in microseconds."""
    return Fraction(frame) * 1_000_000 / RATES[label].frames_per_second


def cued(label: str, *frames: int, early: int = 0) -> Follower:
    """A follower with cues at frames after the first hour."""
    keys = (VERSE, CHORUS, VERSE_2)
    cues = tuple(
        Cue(moment(label, HOUR[label] + frame), early, key)
        for frame, key in zip(frames, keys[: len(frames)], strict=True)
    )
    return follower({label: cues})


# The code.


# The printed example, p. 4, and others worked out by the same table (p. 2).
@pytest.mark.parametrize(
    ("text", "label", "rate"),
    [
        ("F1 00 F1 11 F1 24 F1 33 F1 45 F1 52 F1 61 F1 76", TimeCode(1, 37, 52, 16), "30"),
        ("F1 00 F1 10 F1 20 F1 30 F1 40 F1 50 F1 60 F1 70", TimeCode(0, 0, 0, 0), "24"),
        ("F1 00 F1 10 F1 20 F1 30 F1 40 F1 50 F1 6A F1 72", TimeCode(10, 0, 0, 0), "25"),
        ("F1 0D F1 11 F1 2B F1 33 F1 4B F1 53 F1 67 F1 75", TimeCode(23, 59, 59, 29), "30 drop"),
    ],
)
def test_eight_quarter_frames_are_a_time_and_a_rate(text: str, label: TimeCode, rate: str) -> None:
    state = follower({})
    for event in heard(bytes.fromhex(text)):
        state, _ = follow(state, event, 0)
    assert (state.label, state.rate) == (label, RATES[rate])
    assert b"".join(pieces(label, RATES[rate])) == bytes.fromhex(text)


# Full messages, p. 3; the bytes are worked out from its table.
@pytest.mark.parametrize(
    ("text", "label", "rate"),
    [
        ("F0 7F 7F 01 01 61 25 34 10 F7", TimeCode(1, 37, 52, 16), "30"),
        ("F0 7F 7F 01 01 00 00 00 00 F7", TimeCode(0, 0, 0, 0), "24"),
        ("F0 7F 05 01 01 2A 00 00 00 F7", TimeCode(10, 0, 0, 0), "25"),
        ("F0 7F 7F 01 01 57 3B 3B 1D F7", TimeCode(23, 59, 59, 29), "30 drop"),
    ],
)
def test_a_full_message_locates(text: str, label: TimeCode, rate: str) -> None:
    state, said = listen(follower({}), [(0, bytes.fromhex(text))])
    assert (state.label, state.rate, said, due_us(state)) == (label, RATES[rate], [], None)


# p. 2: the time is that of the frame at which piece 0 came, so after piece 7 it is nearly two frames old.
@EVERY_RATE
def test_when_a_set_is_whole_the_code_is_seven_quarters_of_a_frame_on(label: str) -> None:
    rate = RATES[label]
    sent = quarter_frames(rate, HOUR[label], 0.2)[:8]
    state, _ = listen(cued(label), sent)
    assert state.run.anchor == (moment(label, HOUR[label] + Fraction(7, 4)), sent[-1][0])
    assert state.run.began == moment(label, HOUR[label])


@pytest.mark.parametrize("text", ["F1 0F F1 11", "F1 00 F1 11 F1 2F F1 33 F1 4F F1 53 F1 6F F1 75"])
def test_what_is_no_time_is_passed_over(text: str) -> None:
    state, said = listen(follower({}), [(0, bytes.fromhex(text))])
    assert (state.label, said) == (None, [])


# Drop-frame counts no label 00 or 01 in a minute that is no tenth (MIDI Show Control 1.1.1, section 3.2.1).
def test_a_label_that_drop_frame_leaves_out_is_no_time() -> None:
    sent = b"".join(pieces(TimeCode(0, 1, 0, 0), RATES["30 drop"]))
    state, _ = listen(follower({}), [(0, sent)])
    assert state.label is None


# Visits at their moment.


@EVERY_RATE
def test_a_visit_fires_at_its_moment(label: str) -> None:
    rate = RATES[label]
    _, events = listen(cued(label, 50, 100), quarter_frames(rate, HOUR[label], 6))
    expected = [(round(moment(label, frame)), Reached(key)) for frame, key in ((50, VERSE), (100, CHORUS))]
    assert [event for _, event in events] == [event for _, event in expected]
    late = [came - at for (came, _), (at, _) in zip(events, expected, strict=True)]
    assert max(late) < 1_000
    assert min(late) >= 0


# 00:59:59;29 is followed by 01:00:00;00 and 01:00:59;29 by 01:01:00;02 in drop-frame.
def test_drop_frame_runs_on_over_the_labels_that_it_leaves_out() -> None:
    rate = RATES["30 drop"]
    minute = frame_index(TimeCode(1, 1, 0, 2), rate)
    assert (minute - 1, label_at(minute - 1, rate)) == (HOUR["30 drop"] + 1799, TimeCode(1, 0, 59, 29))
    cue = minute - HOUR["30 drop"] + 10
    _, events = listen(cued("30 drop", cue), quarter_frames(rate, minute - 41, 4))
    assert [event for _, event in events] == [Reached(VERSE)]
    assert 0 <= events[0][0] - round(moment("30 drop", 51)) < 1_000


def test_a_visit_between_two_quarter_frames_waits_for_its_moment() -> None:
    cue = Cue(moment("25", HOUR["25"] + 50) + 3_000, 0, VERSE)
    _, events = listen(follower({"25": (cue,)}), quarter_frames(RATES["25"], HOUR["25"], 3))
    assert events == [(2_003_000, Reached(VERSE))]


def test_a_visit_that_lands_on_time_is_due_early_by_its_change_time() -> None:
    _, events = listen(cued("25", 50, early=120_000), quarter_frames(RATES["25"], HOUR["25"], 3))
    assert events == [(1_880_000, Reached(VERSE))]


def test_a_locate_just_before_a_visit_reaches_it_when_the_code_has_run_steadily() -> None:
    rate, start = RATES["25"], HOUR["25"] + 48
    sent = [(0, full(label_at(start, rate), rate)), *quarter_frames(rate, start, 1, at_us=100_000)]
    _, events = listen(cued("25", 50), sent)
    assert events == [(100_000 + STEADY_US, Reached(VERSE))]


def test_a_visit_where_the_code_begins_is_reached_by_running() -> None:
    _, events = listen(cued("25", 0), quarter_frames(RATES["25"], HOUR["25"], 1))
    assert events == [(STEADY_US, Reached(VERSE))]


# Jumps and scrubs.


def test_a_start_in_the_middle_goes_to_the_scene_that_belongs_there_and_fires_nothing() -> None:
    _, events = listen(cued("25", 50, 100, 200), quarter_frames(RATES["25"], HOUR["25"] + 150, 1))
    assert events == [(STEADY_US, Located(CHORUS))]


def test_a_jump_in_running_code_goes_to_the_scene_that_belongs_there() -> None:
    rate, start = RATES["25"], HOUR["25"]
    sent = quarter_frames(rate, start + 60, 1) + quarter_frames(rate, start + 150, 1, at_us=1_000_000)
    _, events = listen(cued("25", 50, 100), sent)
    assert [event for _, event in events] == [Located(VERSE), Located(CHORUS)]
    assert events[1][0] - 1_000_000 == pytest.approx(STEADY_US, abs=10_000)


def test_before_the_first_visit_nothing_is_done() -> None:
    assert listen(cued("25", 100), quarter_frames(RATES["25"], HOUR["25"], 1))[1] == []


def test_a_full_message_alone_recalls_nothing() -> None:
    sent = [(n * 300_000, full(label_at(HOUR["25"] + 60 * n, RATES["25"]), RATES["25"])) for n in range(5)]
    assert listen(cued("25", 50, 100), sent, 9_000_000)[1] == []


@EVERY_RATE
@pytest.mark.parametrize("speed", [0.25, 0.5, 2.0, 8.0])
def test_a_scrub_recalls_nothing(label: str, speed: float) -> None:
    sent = quarter_frames(RATES[label], HOUR[label], 2, speed=speed)
    assert listen(cued(label, 10, 20, 30), sent, 9_000_000)[1] == []


# p. 2: backwards the pieces come 7 to 0.
@EVERY_RATE
def test_code_that_runs_backwards_recalls_nothing(label: str) -> None:
    forward = quarter_frames(RATES[label], HOUR[label], 3)
    last = forward[-1][0]
    backwards = [(last - moment, data) for moment, data in reversed(forward)]
    assert listen(cued(label, 10, 20, 30), backwards, 9_000_000)[1] == []


@given(
    moves=st.lists(
        st.tuples(st.integers(-200, 400), st.integers(1, 3), st.integers(0, 3)), min_size=1, max_size=12
    )
)
def test_whatever_way_it_is_scrubbed_one_scene_is_recalled_once_it_runs(
    moves: list[tuple[int, int, int]],
) -> None:
    rate, sent, now, end = RATES["25"], list[Message](), 0, 0
    for frames, sets, pause in moves:
        start = HOUR["25"] + 400 + 2 * frames
        # Where one piece goes on from another, the code has run steadily.
        assume(abs(start - end) >= 8)
        short = quarter_frames(rate, start, 2, at_us=now)[: 8 * sets]
        sent, now, end = sent + short, short[-1][0] + 10_000 + 20_000 * pause, start + 2 * sets
    sent += quarter_frames(rate, HOUR["25"] + 4_000, 1, at_us=now + 1_000)
    _, events = listen(cued("25", 50, 100, 200), sent)
    assert [event for _, event in events] == [Located(VERSE_2)]


# Drop-outs.


def broken_for(gap_us: int, cue: int = 500) -> list[tuple[int, object]]:
    """What comes of code at 25 frames that is silent for that long, from 1 second on, and then goes on."""
    sent = quarter_frames(RATES["25"], HOUR["25"], 4)
    last = max(at for at, _ in sent if at <= 1_000_000)
    kept = [(at, data) for at, data in sent if at <= last or at >= last + gap_us]
    return list(listen(cued("25", 10, cue), kept)[1])


def test_a_drop_out_under_half_a_second_is_run_through() -> None:
    assert broken_for(490_000) == [(400_000, Reached(VERSE))]


def test_a_visit_in_a_drop_out_comes_at_its_moment() -> None:
    assert broken_for(490_000, cue=30) == [(400_000, Reached(VERSE)), (1_200_000, Reached(CHORUS))]


def test_a_drop_out_of_half_a_second_stops_and_says_so_and_the_scene_that_belongs_comes_once_steady() -> None:
    said, back = Said("time code has stopped at 1:00:00:22"), broken_for(500_000)
    assert back[:2] == [(400_000, Reached(VERSE)), (1_500_000, said)]
    assert [event for _, event in back[2:]] == [Located(VERSE)]


@pytest.mark.parametrize(("free", "stops"), [(300_000, True), (2_000_000, False)])
def test_how_long_a_drop_out_may_be_can_be_set(free: int, stops: bool) -> None:
    sent = quarter_frames(RATES["25"], HOUR["25"], 1)
    state = follower({"25": (Cue(moment("25", HOUR["25"] + 10), 0, VERSE),)}, Pace(free_us=free))
    _, events = listen(state, sent, 2_000_000)
    assert any(isinstance(event, Said) for _, event in events) is stops


def test_after_code_has_stopped_no_visit_comes() -> None:
    _, events = listen(cued("25", 10, 60), quarter_frames(RATES["25"], HOUR["25"], 1), 60_000_000)
    assert [event for _, event in events] == [Reached(VERSE), Said("time code has stopped at 1:00:00:22")]


def test_code_that_stops_before_it_was_steady_is_not_spoken_of() -> None:
    assert listen(cued("25", 0), quarter_frames(RATES["25"], HOUR["25"], 0.2), 9_000_000)[1] == []


@given(lost=st.sets(st.integers(0, 399), max_size=40))
def test_single_quarter_frames_that_are_lost_lose_no_visit(lost: set[int]) -> None:
    sent = [
        one
        for n, one in enumerate(quarter_frames(RATES["25"], HOUR["25"], 6))
        if n < 64 or n not in {x + 64 for x in lost}
    ]
    _, events = listen(cued("25", 60, 100, 140), sent)
    assert [event for _, event in events] == [Reached(VERSE), Reached(CHORUS), Reached(VERSE_2)]


@EVERY_RATE
@given(begins=st.integers(1_000_000, 1_090_000), gap=st.integers(20_000, 480_000))
def test_whenever_a_shorter_drop_out_comes_no_visit_is_lost_late_or_told_of(
    label: str, begins: int, gap: int
) -> None:
    sent = quarter_frames(RATES[label], HOUR[label], 4)
    kept = [(at, data) for at, data in sent if not begins < at < begins + gap]
    _, events = listen(cued(label, 20, 32, 60), kept)
    assert [event for _, event in events] == [Reached(VERSE), Reached(CHORUS), Reached(VERSE_2)]
    late = [at - moment(label, frame) for (at, _), frame in zip(events, (20, 32, 60), strict=True)]
    assert max(late) < 1_000


# Shows.


def test_code_of_another_rate_than_the_songs_is_not_followed_and_that_is_said_once() -> None:
    _, events = listen(cued("25", 10), quarter_frames(RATES["24"], HOUR["24"], 3))
    assert [event for _, event in events] == [
        Said("time code comes at 24 frames, and the songs have 25: not followed")
    ]


def test_a_songs_visits_are_cued_from_its_start() -> None:
    hour, early = Fraction(3_600_000_000), early_us(SHOW, ("a-rig",), SHOW.by_key[BRIDGE])
    assert by_rate(SHOW, ("a-rig",), 1) == {
        "25": (
            Cue(hour, 0, VERSE),
            Cue(hour + 4_000_000, 0, CHORUS),
            Cue(hour + 8_000_000, 0, VERSE_2),
            Cue(hour + 12_000_000, early, BRIDGE),
        )
    }
    assert 0 < early < 100_000


def test_the_show_is_walked_by_its_time_code() -> None:
    state = follower(by_rate(SHOW, ("a-rig",), 1))
    _, events = listen(state, quarter_frames(RATES["25"], HOUR["25"], 13))
    assert [event for _, event in events] == [
        Reached(VERSE),
        Reached(CHORUS),
        Reached(VERSE_2),
        Reached(BRIDGE),
    ]


def test_a_time_is_shown_as_songs_write_it() -> None:
    assert shown(TimeCode(1, 0, 12, 5)) == "1:00:12:05"
