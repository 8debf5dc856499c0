"""Places in a song, in ticks and microseconds.

960 ticks a quarter note; a tempo lasts whole microseconds a quarter note, as RP-001 p. 9 has it in the
file; milliseconds are ticks times that over 960,000 (RP-001 p. 14). The numbers are worked out by hand.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from switchmatrix.states.timeline import TICKS_PER_QUARTER
from tests.outside.song_clock import QUARTER, SongClock, bar_tick, rounded
from tests.support import judged, names, song


def ticks(head: str, places: str) -> list[int | None]:
    """The ticks of a scene's places in a song that begins with `head`, in running order."""
    lantern = f"song: Lantern\n{head}\nscenes: {{verse: {{at: [{places}], gate: tight}}}}\n"
    _, states = song(judged({"lantern.yaml": lantern}), "lantern")
    return [visit.tick for visit in states.visits]


def test_files_have_960_ticks_a_quarter_note() -> None:
    assert TICKS_PER_QUARTER == QUARTER


# A quarter is 960 ticks: a bar of 4/4 is 3840, of 3/4 2880, of 6/8 also 2880 (an eighth is 480),
# of 7/8 3360, of 2/2 3840 (a half is 1920), of 12/16 2880 (a sixteenth is 240).
@pytest.mark.parametrize(
    ("meter", "places", "wanted"),
    [
        ("4/4", "bar 1, bar 17, bar 17 beat 3, bar 18", [0, 61_440, 63_360, 65_280]),
        ("3/4", "bar 1, bar 5, bar 5 beat 3, bar 6", [0, 11_520, 13_440, 14_400]),
        ("6/8", "bar 1 beat 2, bar 5, bar 5 beat 4, bar 5 beat 6", [480, 11_520, 12_960, 13_920]),
        ("7/8", "bar 2, bar 3, bar 3 beat 7, bar 4", [3_360, 6_720, 9_600, 10_080]),
        ("2/2", "bar 2, bar 2 beat 2", [3_840, 5_760]),
        ("12/16", "bar 2, bar 2 beat 12", [2_880, 5_520]),
    ],
)
def test_bars_and_beats_stand_where_the_meter_puts_them(meter: str, places: str, wanted: list[int]) -> None:
    assert ticks(f"tempo: 96\nmeter: {meter}", places) == wanted


# 32 bars of 2880 are 92,160; 12 bars of 3840 and two beats more are 140,160; 32 bars of 3840 from 92,160
# end at 215,040; 24 bars of 2880 from there at 284,160.
def test_bars_are_counted_in_the_meter_that_each_has() -> None:
    head = "tempo: 72\nmeter: [{at: bar 1, meter: 3/4}, {at: bar 33, meter: 4/4}, {at: bar 65, meter: 3/4}]"
    places = "bar 32 beat 3, bar 33, bar 45 beat 3, bar 64 beat 4, bar 65, bar 89"
    assert ticks(head, places) == [91_200, 92_160, 140_160, 214_080, 215_040, 284_160]


# 4/4 for two bars (7680), 7/8 for one (3360: 11,040), 6/8 for three (8640: 19,680), then 3/4.
def test_eighths_and_quarters_may_follow_each_other() -> None:
    head = (
        "meter: [{at: bar 1, meter: 4/4}, {at: bar 3, meter: 7/8}, {at: bar 4, meter: 6/8}, "
        "{at: bar 7, meter: 3/4}]\ntempo: 100"
    )
    places = "bar 3, bar 3 beat 6, bar 4, bar 6 beat 4, bar 7, bar 8"
    assert ticks(head, places) == [7_680, 10_080, 11_040, 18_240, 19_680, 22_560]


# At 63 a quarter lasts 952,381 microseconds: 34.25 s is 34,524.0 ticks, 62.5 s 63,000.0, 220 s 221,759.99.
# At 125 it lasts 480,000, a tick 500: 250 microseconds are half a tick, which counts up; 249 are less.
# With 120 for two bars (4 s, 7680 ticks) and 60 from there, 6 s is 1920 ticks past them.
@pytest.mark.parametrize(
    ("tempo", "places", "wanted"),
    [
        ("63", '"0:00", "0:34.250", "1:02.500", "3:40"', [0, 34_524, 63_000, 221_760]),
        ("125", '"0:00.000249", "0:00.000250", "0:00.000750", "0:01"', [0, 1, 2, 2_000]),
        (
            "[{at: bar 1, bpm: 120}, {at: bar 3, bpm: 60}]",
            '"0:02", "0:04", "0:06", "0:07.5"',
            [3_840, 7_680, 9_600, 11_040],
        ),
        ("120", '"100:00"', [11_520_000]),
    ],
)
def test_minutes_and_seconds_stand_at_the_nearest_tick(tempo: str, places: str, wanted: list[int]) -> None:
    assert ticks(f"tempo: {tempo}", places) == wanted


# At 120 a second is 1920 ticks. 10 s and 12 frames of 24, 25, 30: 10.5, 10.48 (20,121.6 ticks) and 10.4 s.
# Drop-frame: 00:01:00;02 is frame 1800, 60.06 s (MIDI Show Control 1.1.1, 3.2.1, p. 7), 115,315.2 ticks;
# frame 300 is 10.01 s, 19,219.2 ticks. One frame before the hour is 33.37 ms, 64.06 ticks.
@pytest.mark.parametrize(
    ("rate", "start", "places", "wanted"),
    [
        ("24", "1:00:00:00", '"1:00:00:00", "1:00:10:12"', [0, 20_160]),
        ("25", "10:00:00:00", '"10:00:00:00", "10:00:10:12"', [0, 20_122]),
        ("30", "1:00:00:00", '"1:00:00:00", "1:00:10:12"', [0, 19_968]),
        ("30 drop", "1:00:00:00", '"1:00:10:00", "1:01:00:02"', [19_219, 115_315]),
        ("30 drop", "0:59:59;29", '"1:00:00;00", "1:00:10;00"', [64, 19_283]),
    ],
)
def test_time_code_stands_at_its_real_time_after_the_start(
    rate: str, start: str, places: str, wanted: list[int]
) -> None:
    assert ticks(f'tempo: 120\nstart: "{start}"\nrate: {rate}', places) == wanted


@pytest.mark.parametrize("place", ["1:01:00:00", "1:01:00:01", "1:00:00:30", "0:59:59:29"])
def test_time_code_that_no_frame_after_the_start_has_is_no_place(place: str) -> None:
    lantern = f"""\
song: Lantern
tempo: 120
start: "1:00:00:00"
rate: 30 drop
scenes: {{verse: {{at: "{place}", gate: tight}}}}
"""
    assert names(judged({"lantern.yaml": lantern})) == ["bad-place lantern.yaml:5"]


def test_start_that_drop_frame_leaves_out_is_no_start() -> None:
    lantern = (
        'song: Lantern\ntempo: 120\nstart: "1:01:00:00"\nrate: 30 drop\nscenes: {verse: {gate: tight}}\n'
    )
    assert names(judged({"lantern.yaml": lantern})) == ["bad-place lantern.yaml:3"]


# Worked out: at 168 a quarter lasts 357,143 microseconds (357,142.86); 46,080 ticks are 48 quarters.
# At 189 it lasts 317,460 (317,460.32); at 138 434,783 (434,782.6).
def test_moments_are_summed_over_the_tempos() -> None:
    lantern = """\
song: Lantern
tempo:
  - {at: bar 1, bpm: 112, beat: 1/4 dotted}
  - {at: bar 17, bpm: 126, beat: 1/4 dotted}
  - {at: bar 33, bpm: 92, beat: 1/4 dotted}
meter: 6/8
scenes: {verse: {at: [bar 1, bar 17, bar 33, bar 49], gate: tight}}
"""
    _, states = song(judged({"lantern.yaml": lantern}), "lantern")
    assert [
        (visit.tick, Fraction(states.timeline.moment(visit.tick or 0), 960)) for visit in states.visits
    ] == [
        (0, Fraction(0)),
        (46_080, Fraction(48 * 357_143)),
        (92_160, Fraction(48 * 357_143 + 48 * 317_460)),
        (138_240, Fraction(48 * 357_143 + 48 * 317_460 + 48 * 434_783)),
    ]


# RP-001 p. 3-7: a file that says no tempo goes at 120.
def test_song_without_a_tempo_goes_at_120() -> None:
    assert ticks("meter: 3/4", 'bar 2, "0:02"') == [2_880, 3_840]


METERS = st.sampled_from([(4, 4), (3, 4), (6, 8), (7, 8), (5, 4), (12, 8), (2, 2), (9, 16)])
BEATS = {"1/4": Fraction(1), "1/4 dotted": Fraction(3, 2), "1/8": Fraction(1, 2), "1/2": Fraction(2)}


@st.composite
def songs(draw: st.DrawFn) -> tuple[str, SongClock, list[tuple[int, int]]]:
    """A song's text, its clock worked out here, and its places as bar and beat, in order."""
    bars = [1, *sorted(draw(st.sets(st.integers(2, 60), max_size=4)))]
    meters = tuple((bar, *draw(METERS)) for bar in bars)

    def beats_of(bar: int) -> int:
        return [beats for at, beats, _ in meters if at <= bar][-1]

    def places(least: int) -> list[tuple[int, int]]:
        chosen = sorted(draw(st.sets(st.integers(2, 80), min_size=least, max_size=5)))
        return [(bar, draw(st.integers(1, beats_of(bar)))) for bar in chosen]

    marks = [
        (at, draw(st.integers(400, 3000)), draw(st.sampled_from(list(BEATS)))) for at in [(1, 1), *places(0)]
    ]
    tempos = tuple(
        (bar_tick(meters, *at), rounded(60_000_000 / (Fraction(tenths, 10) * BEATS[beat])))
        for at, tenths, beat in marks
    )
    visits = places(1)
    text = "song: Lantern\ntempo:\n"
    text += "".join(
        f"  - {{at: bar {bar} beat {n}, bpm: {tenths / 10}, beat: {beat}}}\n"
        for (bar, n), tenths, beat in marks
    )
    text += "meter:\n" + "".join(f"  - {{at: bar {bar}, meter: {n}/{unit}}}\n" for bar, n, unit in meters)
    at = ", ".join(f"bar {bar} beat {beat}" for bar, beat in visits)
    return text + f"scenes: {{verse: {{at: [{at}], gate: tight}}}}\n", SongClock(meters, tempos), visits


@settings(max_examples=30)
@given(songs())
def test_any_song_stands_where_counting_bar_by_bar_puts_it(
    case: tuple[str, SongClock, list[tuple[int, int]]],
) -> None:
    text, clock, places = case
    wanted = [bar_tick(clock.meters, bar, beat) for bar, beat in places]
    _, states = song(judged({"lantern.yaml": text}), "lantern")
    assert [(v.tick, Fraction(states.timeline.moment(v.tick or 0), 960)) for v in states.visits] == [
        (tick, clock.moment(tick)) for tick in wanted
    ]


@settings(max_examples=30)
@given(songs(), st.integers(0, 400_000))
def test_any_moment_is_found_again_at_its_tick(
    case: tuple[str, SongClock, list[tuple[int, int]]], tick: int
) -> None:
    text, clock, _ = case
    _, states = song(judged({"lantern.yaml": text}), "lantern")
    moment = clock.moment(tick) * 960
    assert moment.denominator == 1
    assert [states.timeline.tick_not_before(int(moment) + shift) for shift in (0, 1)] == [tick, tick + 1]
    assert states.timeline.nearest_tick(clock.moment(tick) / 1_000_000) == tick
