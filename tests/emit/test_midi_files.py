"""The MIDI files of small songs, byte for byte (MMA RP-001, revised February 1996; RP-019)."""

from __future__ import annotations

from switchmatrix.emit.midi_files import song_files
from switchmatrix.pipeline import plan
from tests.outside.smf_readers import by_py_midicsv
from tests.outside.worked_files import unhex
from tests.support import findings, judged

SHOW = {
    "show.yaml": "show: Two boxes\nrigs: [a-rig]\nlegs: {tour: {rigs: [a-rig], setlist: [lantern]}}\n",
    "definitions/gate.yaml": """\
definition: gate
controls:
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100]}
""",
    "definitions/echo.yaml": """\
definition: echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
""",
    "rigs/a-rig.yaml": """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: gate}
  echo: {port: rack, channel: 3, definition: echo, patches: {slap: 4, cliff: 17}}
home: {gate-1.threshold: -38 dB, echo: {engage: off, patch: slap}}
""",
    "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1}
  chorus: {at: bar 9, echo: cliff}
""",
}


def written(files: dict[str, str], format: int = 1) -> dict[str, bytes]:
    """The MIDI files of the only song of the show with `files` laid over it."""
    show = judged(SHOW | files, base=None)
    assert show.sound, findings(show)
    (leg,) = plan(show)
    (song,) = leg.songs
    return song_files(leg.rig, song, format)


# At 120 and 960 ticks a quarter note a tick lasts 520.83 microseconds. From unknown: the echo's program
# at once; the gate when its two bytes are out, 640 microseconds, tick 1.23, so 2; the echo's switch when
# it has settled, 35.64 ms, tick 68.43, so 69. Bar 9 is tick 30,720, 30,651 after that: 81 EF 3B.
FORMAT_1 = """
    4D 54 68 64  00 00 00 06  ; MThd
    00 01  00 03  03 C0       ; format 1, three tracks, 960 ticks a quarter note
    4D 54 72 6B  00 00 00 33  ; MTrk, 51 bytes
    00 FF 03 07  4C 61 6E 74 65 72 6E  ; name: Lantern
    00 FF 58 04  04 02 18 08           ; 4/4
    00 FF 51 03  07 A1 20              ; 500,000 microseconds a quarter note
    00 FF 06 05  76 65 72 73 65        ; marker: verse
    81 F0 00 FF 06 06  63 68 6F 72 75 73  ; 30,720 ticks on: marker: chorus
    00 FF 2F 00
    4D 54 72 6B  00 00 00 1A  ; MTrk, 26 bytes
    00 FF 03 06  67 61 74 65 2D 31     ; name: gate-1
    00 FF 09 04  72 61 63 6B           ; device name: rack
    02 B1 14 40                        ; -38 dB is 32 of 50 dB: 64 of 100
    00 FF 2F 00
    4D 54 72 6B  00 00 00 24  ; MTrk, 36 bytes
    00 FF 03 04  65 63 68 6F           ; name: echo
    00 FF 09 04  72 61 63 6B           ; device name: rack
    00 C2 03                           ; panel 4 is program 3
    45 B2 50 00                        ; 69 ticks on: off
    81 EF 3B C2 10                     ; 30,651 ticks on: panel 17 is program 16
    45 B2 50 7F                        ; 69 ticks on: on
    00 FF 2F 00
"""

FORMAT_0 = """
    4D 54 68 64  00 00 00 06  ; MThd
    00 00  00 01  03 C0       ; format 0, one track, 960 ticks a quarter note
    4D 54 72 6B  00 00 00 4D  ; MTrk, 77 bytes
    00 FF 09 04  72 61 63 6B           ; device name: rack
    00 FF 03 07  4C 61 6E 74 65 72 6E  ; name: Lantern
    00 FF 58 04  04 02 18 08           ; 4/4
    00 FF 51 03  07 A1 20              ; 500,000 microseconds a quarter note
    00 FF 06 05  76 65 72 73 65        ; marker: verse
    00 C2 03                           ; panel 4 is program 3
    02 B1 14 40                        ; two ticks on: -38 dB
    43 B2 50 00                        ; 67 ticks on: off
    81 EF 3B FF 06 06  63 68 6F 72 75 73  ; 30,651 ticks on: marker: chorus
    00 C2 10                           ; panel 17 is program 16
    45 B2 50 7F                        ; 69 ticks on: on
    00 FF 2F 00
"""

CHORUS_FROM_UNKNOWN = """
    4D 54 68 64  00 00 00 06  00 00  00 01  03 C0
    4D 54 72 6B  00 00 00 3B  ; MTrk, 59 bytes
    00 FF 09 04  72 61 63 6B           ; device name: rack
    00 FF 03 07  4C 61 6E 74 65 72 6E  ; name: Lantern
    00 FF 58 04  04 02 18 08           ; 4/4
    00 FF 51 03  07 A1 20              ; 500,000 microseconds a quarter note
    00 FF 06 06  63 68 6F 72 75 73     ; marker: chorus
    00 C2 10                           ; panel 17 is program 16
    02 B1 14 40                        ; two ticks on: -38 dB
    43 B2 50 7F                        ; 67 ticks on: on
    00 FF 2F 00
"""


def test_song_in_format_1_is_a_conductor_track_and_a_track_a_device() -> None:
    assert written({})["01-lantern.mid"] == unhex(FORMAT_1)


def test_song_in_format_0_is_one_track() -> None:
    assert written({}, format=0)["01-lantern.mid"] == unhex(FORMAT_0)


def test_scenes_own_file_is_from_unknown_at_120() -> None:
    assert written({}, format=0)["01-lantern.scene-02-chorus.mid"] == unhex(CHORUS_FROM_UNKNOWN)


def test_song_gives_its_own_file_and_one_for_each_state() -> None:
    assert list(written({})) == [
        "01-lantern.mid",
        "01-lantern.scene-01-verse.mid",
        "01-lantern.scene-02-chorus.mid",
    ]


def test_song_without_places_gives_only_the_files_of_its_scenes() -> None:
    lantern = "song: Lantern\ntempo: 90\norder: [verse, chorus]\nscenes: {verse: {}, chorus: {echo: cliff}}\n"
    assert list(written({"lantern.yaml": lantern})) == [
        "01-lantern.scene-01-verse.mid",
        "01-lantern.scene-02-chorus.mid",
    ]


TWO_PORTS = """\
rig: A rig
ports:
  rack: {out: rack, speed: din}
  board: {out: long cable, speed: usb}
  spare: {out: spare, speed: din}
devices:
  gate-1: {port: rack, channel: 2, definition: gate}
  echo: {port: board, channel: 3, definition: echo, patches: {slap: 4, cliff: 17}}
home: {gate-1.threshold: -38 dB, echo: {engage: off, patch: slap}}
"""


def test_format_0_gives_each_port_that_has_devices_a_file() -> None:
    assert list(written({"rigs/a-rig.yaml": TWO_PORTS}, format=0)) == [
        "01-lantern.rack.mid",
        "01-lantern.board.mid",
        "01-lantern.scene-01-verse.rack.mid",
        "01-lantern.scene-01-verse.board.mid",
        "01-lantern.scene-02-chorus.rack.mid",
        "01-lantern.scene-02-chorus.board.mid",
    ]


# On a port of its own and over USB nothing waits but for the recall: 35 ms, tick 67.2, so 68.
def test_file_of_a_port_names_its_output_and_holds_its_devices_alone() -> None:
    data = written({"rigs/a-rig.yaml": TWO_PORTS}, format=0)["01-lantern.scene-01-verse.board.mid"]
    assert by_py_midicsv(data).tracks == (
        (
            (0, "device", "long cable"),
            (0, "name", "Lantern"),
            (0, "meter", 4, 2, 24, 8),
            (0, "tempo", 500000),
            (0, "marker", "verse"),
            (0, "program", 2, 3),
            (68, "control", 2, 80, 0),
            (68, "end"),
        ),
    )


# Two names that differ only where a file's name has a hyphen.
def test_format_0_gives_every_port_its_own_file_whatever_its_name() -> None:
    rig = TWO_PORTS.replace("rack:", "line 1:").replace("board:", "line-1:")
    rig = rig.replace("port: rack", "port: line 1").replace("port: board", "port: line-1")
    assert len(written({"rigs/a-rig.yaml": rig}, format=0)) == 6


# RP-001 p. 8-10: the tempo map is in the first track, each event at its place; 6/8 clicks each 36 clocks.
def test_conductor_has_every_tempo_and_meter_at_its_tick() -> None:
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 90}, {at: bar 3 beat 4, bpm: 100, beat: 1/4 dotted}]
meter: [{at: bar 1, meter: 4/4}, {at: bar 3, meter: 6/8}]
scenes: {verse: {at: bar 1}, chorus: {at: bar 3 beat 4, echo: cliff}}
"""
    conductor = by_py_midicsv(written({"lantern.yaml": lantern})["01-lantern.mid"]).tracks[0]
    assert conductor == (
        (0, "name", "Lantern"),
        (0, "meter", 4, 2, 24, 8),
        (0, "tempo", 666667),
        (0, "marker", "verse"),
        (7680, "meter", 6, 3, 36, 8),
        (9120, "tempo", 400000),
        (9120, "marker", "chorus"),
        (9120, "end"),
    )


# RP-001 p. 3-7: a file should state its tempo and meter even where they are the defaults.
def test_song_without_tempo_or_meter_says_120_and_4_4() -> None:
    lantern = "song: Lantern\nscenes: {verse: {at: bar 1}, chorus: {at: bar 9, echo: cliff}}\n"
    assert written({"lantern.yaml": lantern})["01-lantern.mid"] == unhex(FORMAT_1)


def test_device_that_is_sent_nothing_keeps_its_track() -> None:
    lantern = "song: Lantern\ntempo: 120\nscenes: {verse: {at: bar 2}}\n"
    silent = SHOW["rigs/a-rig.yaml"].replace("home: {gate-1.threshold: -38 dB, ", "home: {")
    tracks = by_py_midicsv(
        written({"lantern.yaml": lantern, "rigs/a-rig.yaml": silent})["01-lantern.mid"]
    ).tracks
    assert tracks[1] == ((0, "name", "gate-1"), (0, "device", "rack"), (0, "end"))


def test_title_is_written_in_latin_1() -> None:
    lantern = SHOW["lantern.yaml"].replace("song: Lantern", "song: Möwe")
    assert b"\xff\x03\x04M\xf6we" in written({"lantern.yaml": lantern})["01-lantern.mid"]


def test_distinct_states_of_one_scene_have_files_of_their_own() -> None:
    definition = SHOW["definitions/echo.yaml"] + "  time: {kind: time, cc: 22, range: [0 ms, 1270 ms]}\n"
    lantern = """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 100}]
scenes: {verse: {at: [bar 1, bar 5, bar 9], echo: {engage: on, time: 1/8}}}
"""
    files = {"lantern.yaml": lantern, "definitions/echo.yaml": definition}
    assert list(written(files)) == [
        "01-lantern.mid",
        "01-lantern.scene-01-verse.mid",
        "01-lantern.scene-01-verse@3.mid",
    ]


# RP-001 p. 2: a delta holds at most 0FFFFFFF ticks; bar 99,999 of 4/4 is tick 383,992,320.
def test_place_further_off_than_a_delta_reaches_is_still_a_file_or_a_finding() -> None:
    lantern = (
        "song: Lantern\ntempo: 120\nscenes: {verse: {at: bar 1}, chorus: {at: bar 99999, echo: cliff}}\n"
    )
    show = judged(SHOW | {"lantern.yaml": lantern}, base=None)
    files = [song_files(leg.rig, song, 1) for leg in plan(show) for song in leg.songs] if show.sound else []
    assert files or findings(show)
