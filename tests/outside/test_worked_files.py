"""The judges and our own numbers against the worked files of MMA RP-001, p. 12-14."""

from __future__ import annotations

import hashlib
import io

import mido
import pytest

from switchmatrix.midi import smf
from tests.outside.smf_readers import READERS, Reader, Smf
from tests.outside.worked_files import FORMAT_0, FORMAT_1, unhex

AS_READ_0 = Smf(
    format=0,
    ticks_per_quarter=96,
    tracks=(
        (
            (0, "meter", 4, 2, 24, 8),
            (0, "tempo", 500000),
            (0, "program", 0, 5),
            (0, "program", 1, 46),
            (0, "program", 2, 70),
            (0, "note on", 2, 48, 96),
            (0, "note on", 2, 60, 96),
            (96, "note on", 1, 67, 64),
            (192, "note on", 0, 76, 32),
            (384, "note off", 2, 48, 64),
            (384, "note off", 2, 60, 64),
            (384, "note off", 1, 67, 64),
            (384, "note off", 0, 76, 64),
            (384, "end"),
        ),
    ),
)

AS_READ_1 = Smf(
    format=1,
    ticks_per_quarter=96,
    tracks=(
        ((0, "meter", 4, 2, 24, 8), (0, "tempo", 500000), (384, "end")),
        ((0, "program", 0, 5), (192, "note on", 0, 76, 32), (384, "note on", 0, 76, 0), (384, "end")),
        ((0, "program", 1, 46), (96, "note on", 1, 67, 64), (384, "note on", 1, 67, 0), (384, "end")),
        (
            (0, "program", 2, 70),
            (0, "note on", 2, 48, 96),
            (0, "note on", 2, 60, 96),
            (384, "note on", 2, 48, 0),
            (384, "note on", 2, 60, 0),
            (384, "end"),
        ),
    ),
)


# The sums are worked out from the listings, which were read in two copies of the document.
@pytest.mark.parametrize(
    ("listing", "length", "digest"),
    [
        (FORMAT_0, 81, "9c512dc6fc73b8bef93a39c93142b7e828cfe51bf5340b84fe0fc87f0b8536ed"),
        (FORMAT_1, 118, "83ba1f523c7d4591f9c190d76f5fc62e04c3eb0b4a87132e03067224061729c7"),
    ],
    ids=["format 0", "format 1"],
)
def test_worked_file_is_copied_without_a_slip(listing: str, length: int, digest: str) -> None:
    data = unhex(listing)
    assert (len(data), hashlib.sha256(data).hexdigest()) == (length, digest)


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize(
    ("listing", "wanted"), [(FORMAT_0, AS_READ_0), (FORMAT_1, AS_READ_1)], ids=["format 0", "format 1"]
)
def test_judge_reads_the_worked_file_as_the_standard_explains_it(
    read: Reader, listing: str, wanted: Smf
) -> None:
    assert read(unhex(listing)) == wanted


@pytest.mark.parametrize("listing", [FORMAT_0, FORMAT_1], ids=["format 0", "format 1"])
def test_mido_writes_the_worked_file_byte_for_byte(listing: str) -> None:
    again = io.BytesIO()
    mido.MidiFile(file=io.BytesIO(unhex(listing))).save(file=again)
    assert again.getvalue() == unhex(listing)


# The deltas that stand in the two listings, and what the text beside them says they are (p. 12-14).
@pytest.mark.parametrize(
    ("ticks", "listed"), [(0, "00"), (96, "60"), (192, "81 40"), (288, "82 20"), (384, "83 00")]
)
def test_our_deltas_are_those_of_the_worked_files(ticks: int, listed: str) -> None:
    assert smf.variable_length(ticks) == bytes.fromhex(listed)


def test_our_tempo_event_is_that_of_the_worked_files() -> None:
    assert smf.tempo(500_000) == bytes.fromhex("FF 51 03 07 A1 20")


def test_our_meter_event_is_that_of_the_worked_files() -> None:
    assert smf.meter(4, 4) == bytes.fromhex("FF 58 04 04 02 18 08")


def test_our_chunks_make_the_worked_tempo_track_and_header() -> None:
    # All but the delta before the end of track: a track of ours ends with its last event.
    track = smf.track([(0, smf.meter(4, 4)), (0, smf.tempo(500_000))])
    assert smf.file([track, b"", b"", b""], 96, 1) == unhex("""
        4D 54 68 64  00 00 00 06  00 01  00 04  00 60
        4D 54 72 6B  00 00 00 13
        00 FF 58 04 04 02 18 08
        00 FF 51 03 07 A1 20
        00 FF 2F 00
    """)


def test_our_track_makes_the_worked_format_0_track_but_for_running_status() -> None:
    events = [
        (0, smf.meter(4, 4)),
        (0, smf.tempo(500_000)),
        (0, bytes.fromhex("C0 05")),
        (0, bytes.fromhex("C1 2E")),
        (0, bytes.fromhex("C2 46")),
        (0, bytes.fromhex("92 30 60")),
        (0, bytes.fromhex("92 3C 60")),
        (96, bytes.fromhex("91 43 40")),
        (192, bytes.fromhex("90 4C 20")),
        (384, bytes.fromhex("82 30 40")),
        (384, bytes.fromhex("82 3C 40")),
        (384, bytes.fromhex("81 43 40")),
        (384, bytes.fromhex("80 4C 40")),
    ]
    assert smf.file([smf.track(events)], 96, 0) == unhex(
        # Two status bytes more: 61 bytes in the track instead of 59.
        FORMAT_0.replace("00 00 00 3B", "00 00 00 3D")
        .replace("00 3C 60  ", "00 92 3C 60  ")
        .replace("00 3C 40  ", "00 82 3C 40  ")
    )
