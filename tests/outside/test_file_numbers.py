"""Numbers in Standard MIDI Files against MMA RP-001 (revised February 1996)."""

from __future__ import annotations

from fractions import Fraction

import mido
import pytest

from switchmatrix.midi import smf
from switchmatrix.midi.timecode import RATES
from switchmatrix.model.song import BarPlace, TempoMark
from switchmatrix.source import Span
from switchmatrix.states.timeline import quarter_us
from tests.outside.worked_files import unhex

SPAN = Span("song.yaml", 1, 1, 1, 1)


# RP-001 p. 2, the table of variable-length quantities.
@pytest.mark.parametrize(
    ("number", "listed"),
    [
        (0x00000000, "00"),
        (0x00000040, "40"),
        (0x0000007F, "7F"),
        (0x00000080, "81 00"),
        (0x00002000, "C0 00"),
        (0x00003FFF, "FF 7F"),
        (0x00004000, "81 80 00"),
        (0x00100000, "C0 80 00"),
        (0x001FFFFF, "FF FF 7F"),
        (0x00200000, "81 80 80 00"),
        (0x08000000, "C0 80 80 00"),
        (0x0FFFFFFF, "FF FF FF 7F"),
    ],
)
def test_variable_length_is_that_of_the_table(number: int, listed: str) -> None:
    assert smf.variable_length(number) == bytes.fromhex(listed)


# RP-001 p. 6-7: the pauses of a system exclusive message that is sent in packets.
@pytest.mark.parametrize(("ticks", "listed"), [(200, "81 48"), (100, "64")])
def test_variable_length_is_that_of_the_packets(ticks: int, listed: str) -> None:
    assert smf.variable_length(ticks) == bytes.fromhex(listed)


# RP-001 p. 2: four bytes at most, so 0FFFFFFF is the largest.
@pytest.mark.parametrize("number", [0x10000000, -1])
def test_number_that_four_bytes_do_not_hold_is_refused(number: int) -> None:
    with pytest.raises(ValueError, match="does not fit four bytes"):
        smf.variable_length(number)


# Against mido 1.3.3, on both sides of each length's border.
@pytest.mark.parametrize("border", [0x80, 0x4000, 0x200000, 0x10000000])
def test_mido_writes_the_lengths_round_each_border_as_we_do(border: int) -> None:
    numbers = range(max(0, border - 300), min(border + 300, 0x10000000))
    assert [smf.variable_length(n) for n in numbers] == [
        bytes(mido.midifiles.meta.encode_variable_int(n)) for n in numbers
    ]


# 60,000,000 microseconds a minute over beats a minute, in 24 bits (RP-001 p. 9); 120 is printed there
# as 07 A1 20, the others are worked out, halves up, and mido's bpm2tempo gives the same integers.
TEMPOS = [
    (60, "0F 42 40"),
    (90, "0A 2C 2B"),
    (100, "09 27 C0"),
    (120, "07 A1 20"),
    (128, "07 27 0E"),
    (137, "06 AE C4"),
    (140, "06 8A 1B"),
    (174, "05 42 FC"),
]


@pytest.mark.parametrize(("bpm", "listed"), TEMPOS)
def test_tempo_is_whole_microseconds_a_quarter_note(bpm: int, listed: str) -> None:
    mark = TempoMark(BarPlace(1, 1, "bar 1", SPAN), Fraction(bpm), Fraction(1), SPAN)
    assert smf.tempo(quarter_us(mark)) == bytes.fromhex("FF 51 03" + listed)


def test_mido_rounds_every_whole_tempo_as_we_do() -> None:
    bar_1 = BarPlace(1, 1, "bar 1", SPAN)
    assert [quarter_us(TempoMark(bar_1, Fraction(bpm), Fraction(1), SPAN)) for bpm in range(4, 1001)] == [
        mido.bpm2tempo(bpm) for bpm in range(4, 1001)
    ]


# RP-001 p. 9: the event counts quarter notes, whatever the beat is. Worked out: 112 dotted quarters are
# 168 quarters, 60,000,000 / 168 = 357,142.86; 60 halves are 120 quarters; 50 eighths are 25 quarters.
@pytest.mark.parametrize(
    ("bpm", "beat", "microseconds"),
    [(112, Fraction(3, 2), 357_143), (60, Fraction(2), 500_000), (50, Fraction(1, 2), 2_400_000)],
)
def test_beat_that_is_no_quarter_note_is_counted_in_quarters(
    bpm: int, beat: Fraction, microseconds: int
) -> None:
    assert quarter_us(TempoMark(BarPlace(1, 1, "bar 1", SPAN), Fraction(bpm), beat, SPAN)) == microseconds


# Worked out: at 512 a minute a quarter note lasts 117,187.5 microseconds; the other lasts 500,000.5.
@pytest.mark.parametrize(
    ("bpm", "microseconds"), [(Fraction(512), 117_188), (Fraction(120_000_000, 1_000_001), 500_001)]
)
def test_half_a_microsecond_rounds_up(bpm: Fraction, microseconds: int) -> None:
    assert quarter_us(TempoMark(BarPlace(1, 1, "bar 1", SPAN), bpm, Fraction(1), SPAN)) == microseconds


# RP-001 p. 9: 24 bits hold 16,777,215 microseconds and no more.
def test_slowest_tempo_event_is_all_ones() -> None:
    assert smf.tempo(16_777_215) == bytes.fromhex("FF 51 03 FF FF FF")


def test_tempo_past_24_bits_is_refused() -> None:
    with pytest.raises(OverflowError):
        smf.tempo(16_777_216)


# RP-001 p. 10: beats, the power of two of the unit, MIDI clocks a click (24 a quarter note), eight 32nds
# a quarter note. 4/4 and the 6/8 that clicks on three eighths are printed; the others are worked out.
@pytest.mark.parametrize(
    ("beats", "unit", "listed"),
    [
        (4, 4, "FF 58 04 04 02 18 08"),
        (6, 8, "FF 58 04 06 03 24 08"),
        (3, 4, "FF 58 04 03 02 18 08"),
        (2, 2, "FF 58 04 02 01 30 08"),
        (3, 8, "FF 58 04 03 03 0C 08"),
        (7, 8, "FF 58 04 07 03 0C 08"),
        (9, 8, "FF 58 04 09 03 24 08"),
        (12, 16, "FF 58 04 0C 04 12 08"),
        (4, 1, "FF 58 04 04 00 60 08"),
        (5, 32, "FF 58 04 05 05 03 08"),
    ],
)
def test_meter_is_its_numbers_and_its_click(beats: int, unit: int, listed: str) -> None:
    assert smf.meter(beats, unit) == bytes.fromhex(listed)


# RP-001 p. 3-7: type, length 6, format, number of tracks, division; 03 C0 is 960 ticks a quarter note.
def test_header_of_a_format_1_file_counts_its_tracks() -> None:
    empty = smf.track([])
    assert smf.file([empty, empty], 960, 1) == unhex("""
        4D 54 68 64  00 00 00 06  00 01  00 02  03 C0
        4D 54 72 6B  00 00 00 04  00 FF 2F 00
        4D 54 72 6B  00 00 00 04  00 FF 2F 00
    """)


# RP-001 p. 3-7: format 0 holds one track.
def test_format_0_with_two_tracks_is_refused() -> None:
    with pytest.raises(ValueError, match="one track"):
        smf.file([smf.track([]), smf.track([])], 960, 0)


# RP-001 p. 8: FF, the kind, the length as a variable-length quantity, the data.
def test_meta_event_of_128_bytes_has_a_length_of_two_bytes() -> None:
    assert smf.meta(0x01, b"x" * 128) == bytes.fromhex("FF 01 81 00") + b"x" * 128


# RP-001 p. 8-10 for all but the device name, which is MMA RP-019.
def test_meta_events_have_the_standards_numbers() -> None:
    assert (smf.TRACK_NAME, smf.MARKER, smf.END, smf.TEMPO, smf.METER, smf.DEVICE_NAME) == (
        0x03,
        0x06,
        0x2F,
        0x51,
        0x58,
        0x09,
    )


# RP-001 p. 3-7: where a file says nothing it goes at 120.
def test_default_tempo_is_120() -> None:
    assert mido.bpm2tempo(120) == smf.DEFAULT_QUARTER_US


# RP-001 p. 9 with MMA RP-004/RP-008 p. 1-5: a file's time code goes at one of four rates, and so do ours.
def test_time_code_goes_at_the_four_rates_of_the_standard() -> None:
    assert {label: rate.labels for label, rate in RATES.items()} == {
        "24": 24,
        "25": 25,
        "30 drop": 30,
        "30": 30,
    }
