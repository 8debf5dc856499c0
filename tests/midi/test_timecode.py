"""Time code labels and frames."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.midi.timecode import RATES, Rate, TimeCode, frame_index, label_exists, seconds


def next_label(code: TimeCode, rate: Rate) -> TimeCode:
    """The next label that the rate counts, by counting up as a clock does."""
    frames = ((code.hours * 60 + code.minutes) * 60 + code.seconds) * rate.labels + code.frames + 1
    rest, frame = divmod(frames, rate.labels)
    rest, second = divmod(rest, 60)
    hour, minute = divmod(rest, 60)
    found = TimeCode(hour, minute, second, frame)
    return found if label_exists(found, rate) else next_label(found, rate)


labels = st.builds(TimeCode, st.integers(0, 22), st.integers(0, 59), st.integers(0, 59), st.integers(0, 23))
edges = st.builds(
    TimeCode, st.integers(0, 22), st.integers(0, 59), st.just(59), st.sampled_from([23, 24, 29])
)


@given(st.sampled_from(list(RATES.values())), labels | edges)
def test_next_label_is_the_next_frame(rate: Rate, code: TimeCode) -> None:
    known = code if label_exists(code, rate) else TimeCode(code.hours, code.minutes, code.seconds, 2)
    assert frame_index(next_label(known, rate), rate) == frame_index(known, rate) + 1


@pytest.mark.parametrize("rate", RATES.values(), ids=RATES)
def test_day_begins_at_frame_0_and_second_0(rate: Rate) -> None:
    start = TimeCode(0, 0, 0, 0)
    assert (frame_index(start, rate), seconds(start, rate)) == (0, Fraction(0))


@pytest.mark.parametrize("code", [TimeCode(-1, 0, 0, 0), TimeCode(0, 0, 0, -1), TimeCode(0, -1, 0, 5)])
def test_negative_label_is_none(code: TimeCode) -> None:
    assert not label_exists(code, RATES["25"])
