"""Time code against MIDI Show Control 1.1.1 (MMA RP-002/RP-014) and MIDI Time Code (MMA RP-004/RP-008)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from switchmatrix.midi.timecode import RATES, TimeCode, frame_index, label_exists, seconds

DROP, FULL = RATES["30 drop"], RATES["30"]


def code(text: str) -> TimeCode:
    """`01:37:52;16`."""
    return TimeCode(*map(int, text.replace(";", ":").split(":")))


# MIDI Show Control 1.1.1, 3.2.1, p. 7: drop-frame 00:22:00:02 less the 40 numbers dropped until then is
# non-drop 00:21:58:22.
def test_drop_frame_label_is_the_frame_that_show_control_works_out() -> None:
    assert frame_index(code("00:22:00;02"), DROP) == frame_index(code("00:21:58:22"), FULL)


# The same page: 00:22:00:00 is a number that does not exist, and 00:22:00:02 is the next valid one.
def test_label_that_drop_frame_leaves_out_is_no_label() -> None:
    assert [label_exists(code(f"00:22:00;0{frames}"), DROP) for frames in (0, 1, 2)] == [False, False, True]


def test_label_that_drop_frame_leaves_out_has_no_index() -> None:
    with pytest.raises(ValueError, match="is no label at 30 drop frames"):
        frame_index(code("00:22:00;00"), DROP)


# Worked out from the rule of the same page (two numbers skipped at each minute but every tenth), at
# 30,000/1001 frames a second; seconds to six decimals.
@pytest.mark.parametrize(
    ("label", "index", "moment"),
    [
        ("00:00:00;00", 0, "0.000000"),
        ("00:00:59;29", 1799, "60.026633"),
        ("00:01:00;02", 1800, "60.060000"),
        ("00:01:59;29", 3597, "120.019900"),
        ("00:02:00;02", 3598, "120.053267"),
        ("00:09:59;29", 17981, "599.966033"),
        ("00:10:00;00", 17982, "599.999400"),
        ("00:11:00;02", 19782, "660.059400"),
        ("00:22:00;02", 39562, "1320.052067"),
        ("01:00:00;00", 107892, "3599.996400"),
        ("01:37:52;16", 176000, "5872.533333"),
        ("23:59:59;29", 2589407, "86399.880233"),
    ],
)
def test_drop_frame_label_stands_at_its_real_time(label: str, index: int, moment: str) -> None:
    at = seconds(code(label), DROP)
    assert (frame_index(code(label), DROP), f"{float(at):.6f}") == (index, moment)


# Worked out: 24 hours of non-drop labels are 2,592,000 frames; 1440 minutes, 144 of them tenths, drop
# 2 * 1296 of them.
def test_day_of_drop_frame_has_2_589_408_frames() -> None:
    assert frame_index(code("23:59:59;29"), DROP) + 1 == 2_592_000 - 2 * 1296


def test_drop_frame_labels_of_two_hours_are_counted_without_a_gap() -> None:
    labels = [TimeCode(h, m, s, f) for h in (0, 1) for m in range(60) for s in range(60) for f in range(30)]
    counted = [frame_index(label, DROP) for label in labels if label_exists(label, DROP)]
    assert counted == list(range(2 * 107892))


# MIDI Time Code, p. 1-5: the rates. A label's moment is its frames over the rate, worked out.
@pytest.mark.parametrize(
    ("rate", "label", "moment"),
    [
        ("24", "00:00:01:12", Fraction(3, 2)),
        ("25", "10:00:21:08", 36021 + Fraction(8, 25)),
        ("30", "01:37:52:16", 5872 + Fraction(16, 30)),
        ("30 drop", "00:00:01;00", Fraction(1001, 1000)),
    ],
)
def test_label_stands_at_its_frames_over_the_rate(rate: str, label: str, moment: Fraction) -> None:
    assert seconds(code(label), RATES[rate]) == moment


# MIDI Time Code, p. 1-5: frames run to one less than the rate, minutes and seconds to 59, hours to 23.
@pytest.mark.parametrize(
    ("rate", "label"),
    [
        ("24", "00:00:00:24"),
        ("25", "00:00:00:25"),
        ("30", "00:00:00:30"),
        ("30 drop", "00:00:00;30"),
        ("25", "24:00:00:00"),
        ("25", "00:60:00:00"),
        ("25", "00:00:60:00"),
    ],
)
def test_label_past_its_rate_or_the_clock_is_none(rate: str, label: str) -> None:
    assert not label_exists(code(label), RATES[rate])


@pytest.mark.parametrize(
    ("rate", "label"),
    [
        ("24", "00:00:00:23"),
        ("25", "23:59:59:24"),
        ("30", "00:01:00:00"),
        ("30 drop", "00:10:00;00"),
        ("30 drop", "00:01:01;00"),
    ],
)
def test_last_frame_and_undropped_minute_are_labels(rate: str, label: str) -> None:
    assert label_exists(code(label), RATES[rate])
