"""Visits that begin while the one before is still being sent.

A port sends one message at a time, 320 microseconds a byte (MIDI 1.0 Detailed Specification 4.2.1,
p. 1), in the order of the plan; no device is reached before it has settled.
"""

from __future__ import annotations

import pytest

from switchmatrix.compile.plan import LegPlan
from switchmatrix.emit.midi_files import song_files
from switchmatrix.pipeline import plan
from tests.outside.expected_files import Run, as_written, files, too_early
from tests.outside.smf_readers import by_py_midicsv
from tests.support import findings, judged

EIGHT = "{a: N, b: N, c: N, d: N, e: N, f: N, g: N, h: N}"
SHOW = {
    "show.yaml": "show: Two boxes\nrigs: [a-rig]\nlegs: {tour: {rigs: [a-rig], setlist: [lantern]}}\n",
    "definitions/mixer.yaml": """\
definition: mixer
controls:
  a: {kind: level, cc: 20, range: [0, 127]}
  b: {kind: level, cc: 21, range: [0, 127]}
  c: {kind: level, cc: 22, range: [0, 127]}
  d: {kind: level, cc: 23, range: [0, 127]}
  e: {kind: level, cc: 24, range: [0, 127]}
  f: {kind: level, cc: 25, range: [0, 127]}
  g: {kind: level, cc: 26, range: [0, 127]}
  h: {kind: level, cc: 27, range: [0, 127]}
""",
    "definitions/echo.yaml": """\
definition: echo
programs: {count: 128, first: 0, settle: 6 ms, repeat: recalls}
controls: {engage: {kind: switch, cc: 80}}
""",
    "rigs/a-rig.yaml": """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  mixer: {port: rack, channel: 1, definition: mixer}
  echo: {port: rack, channel: 2, definition: echo, patches: {slap: 3, cliff: 16}}
home: {mixer: EIGHT, echo: {patch: slap, engage: off}}
""".replace("EIGHT", EIGHT.replace("N", "0")),
}
# Eight messages of 960 microseconds each; the next visit begins within them.
SONG = """\
song: Lantern
tempo: TEMPO
scenes:
  verse: {at: "0:00", mixer: ONE}
  chorus: {at: "0:00.005", mixer: TWO, echo: {patch: cliff, engage: on}}
  bridge: {at: "0:00.021", mixer: ONE, echo: {patch: slap, engage: on}}
  coda: {at: "0:00.250", mixer: TWO, echo: {patch: cliff}}
""".replace("ONE", EIGHT.replace("N", "1")).replace("TWO", EIGHT.replace("N", "2"))
TEMPOS = [
    "60",
    "66",
    "75",
    "97",
    "120",
    "200",
    "333",
    "1000",
    "[{at: bar 1, bpm: 1000}, {at: bar 1 beat 2, bpm: 41}]",
]


def runs(leg: LegPlan) -> list[Run]:
    """The song's own file and those of its states: where each message stands."""
    return as_written(leg.rig, leg.songs[0], song_files(leg.rig, leg.songs[0], 0))


def close(tempo: str) -> LegPlan:
    """The plan of the song at a tempo."""
    show = judged(SHOW | {"lantern.yaml": SONG.replace("TEMPO", tempo)}, base=None)
    assert show.sound, findings(show)
    (leg,) = plan(show)
    return leg


@pytest.mark.parametrize("format", [1, 0])
@pytest.mark.parametrize("tempo", TEMPOS)
def test_close_visits_become_the_files_of_the_plan(tempo: str, format: int) -> None:
    leg = close(tempo)
    written = song_files(leg.rig, leg.songs[0], format)
    assert {name: by_py_midicsv(data) for name, data in written.items()} == files(leg.rig, leg.songs[0])[
        format
    ]


@pytest.mark.parametrize("tempo", TEMPOS)
def test_messages_of_close_visits_are_in_the_order_of_the_plan(tempo: str) -> None:
    leg = close(tempo)
    (track,) = by_py_midicsv(song_files(leg.rig, leg.songs[0], 0)["01-lantern.mid"]).tracks
    assert [event[2:] for event in track if event[1] in ("control", "program")] == [
        (m.step.data[0] & 0x0F, *m.step.data[1:]) for visit in leg.songs[0].visits for m in visit.messages
    ]


@pytest.mark.parametrize("tempo", TEMPOS)
def test_close_visits_reach_no_device_before_it_has_settled(tempo: str) -> None:
    leg = close(tempo)
    assert [early for run in runs(leg) for early in too_early(run)] == []


# The third visit's messages are out long before the fourth.
@pytest.mark.parametrize("tempo", TEMPOS)
def test_visit_after_a_pause_begins_at_its_tick(tempo: str) -> None:
    leg = close(tempo)
    visit = runs(leg)[0].visits[3]
    assert visit.messages[0][0] == visit.tick
