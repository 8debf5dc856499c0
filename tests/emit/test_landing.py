"""A visit that lands on time in what is written: listing, table, rows and MIDI file.

A byte takes 320 microseconds (MIDI 1.0 Detailed Specification 4.2.1, p. 1).
"""

from __future__ import annotations

import csv
import io
import json

from switchmatrix.compile.plan import LegPlan
from switchmatrix.emit.listing import listing
from switchmatrix.emit.messages_csv import messages_csv
from switchmatrix.emit.messages_json import messages_json
from switchmatrix.emit.midi_files import song_files
from switchmatrix.pipeline import plan
from tests.outside.smf_readers import by_py_midicsv
from tests.support import findings, judged

LANTERN = """\
song: Lantern
tempo: 120
land: on time
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
  end: {at: bar 17, like: chorus}
"""


def on_time() -> LegPlan:
    """The plan of the base show with this song."""
    show = judged({"lantern.yaml": LANTERN})
    assert show.sound, findings(show)
    (leg,) = plan(show)
    return leg


def test_a_listing_says_what_lands_on_time_and_how_late_the_rest_is() -> None:
    leg = on_time()
    assert listing(leg, leg.songs[0]) == (
        """\
1. Lantern
tour, A rig
tempo 120 from bar 1

1. verse, bar 1
   3 messages, landed after 36.6 ms (bound 36.6 ms)
   lands 36.6 ms after its place
   +0.0 to +35.6 ms   echo recalls slap (panel 4)      rack ch 3  C2 03     rigs/a-rig.yaml:17
   +0.6 to +1.6 ms    gate-1 sets threshold to -38 dB  rack ch 2  B1 14 40  lantern.yaml:5
   +35.6 to +36.6 ms  echo sets engage to off          rack ch 3  B2 50 00  rigs/a-rig.yaml:17

2. chorus, bar 9
   2 messages, landed after 36.6 ms (bound 36.6 ms)
   lands on time
   -36.6 to -1.0 ms  echo recalls cliff (panel 17)  rack ch 3  C2 10     lantern.yaml:6
   -1.0 to +0.0 ms   echo sets engage to on         rack ch 3  B2 50 7F  lantern.yaml:6

3. end, bar 17
   nothing to send
"""
    )


def test_a_table_counts_microseconds_from_the_place_also_before_it() -> None:
    rows = list(csv.DictReader(io.StringIO(messages_csv(on_time()))))
    assert [(row["scene"], row["starts_us"], row["lands_us"], row["bytes_hex"]) for row in rows] == [
        ("verse", "0", "35640", "C2 03"),
        ("verse", "640", "1600", "B1 14 40"),
        ("verse", "35640", "36600", "B2 50 00"),
        ("chorus", "-36600", "-960", "C2 10"),
        ("chorus", "-960", "0", "B2 50 7F"),
    ]


def test_rows_count_microseconds_from_the_place_also_before_it() -> None:
    rows = json.loads(messages_json(on_time()))
    assert [(row["scene"], row["starts_us"], row["lands_us"]) for row in rows] == [
        ("verse", 0, 35640),
        ("verse", 640, 1600),
        ("verse", 35640, 36600),
        ("chorus", -36600, -960),
        ("chorus", -960, 0),
    ]


# Bar 9 is tick 30,720. The recall would stand 70.27 ticks of 520.83 microseconds before it, so at 30,650
# (rounded up), settled and followed 68.43 ticks later, at 30,719, out by 30,720.84: too late. A tick
# earlier it is out by 30,719.84. The marker stays at the place.
def test_in_a_file_a_visit_has_landed_at_its_marker() -> None:
    leg = on_time()
    (track,) = by_py_midicsv(song_files(leg.rig, leg.songs[0], 0)["01-lantern.mid"]).tracks
    assert [event for event in track if event[1] in ("marker", "program", "control")] == [
        (0, "marker", "verse"),
        (0, "program", 2, 3),
        (2, "control", 1, 20, 64),
        (69, "control", 2, 80, 0),
        (30649, "program", 2, 16),
        (30718, "control", 2, 80, 127),
        (30720, "marker", "chorus"),
        (61440, "marker", "end"),
    ]
