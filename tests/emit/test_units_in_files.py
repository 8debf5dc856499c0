"""Units and system exclusive in MIDI files, byte for byte, and as readers that are not ours see them.

System exclusive in a file is F0, the length of what follows, and that, F7 included (MMA RP-001 p. 6).
"""

from __future__ import annotations

import io

import mido
import pytest

from switchmatrix.emit.midi_files import song_files
from switchmatrix.pipeline import plan
from tests.outside.smf_readers import READERS, Reader
from tests.outside.worked_files import unhex
from tests.support import findings, judged

BOX = """\
definition: box
programs: {count: 1000, first: 0, bank: both, bank-when: always, settle: 10 ms, repeat: recalls}
controls:
  depth: {kind: level, cc14: [12, 44], range: [0, 16383]}
  rate: {kind: level, nrpn: [1, 8], data: 7, range: [0, 127]}
  tune: {kind: level, rpn: [0, 1], data: 14, range: [0, 16383]}
  size:
    kind: level
    range: [0, 16383]
    sysex: {body: [0x7D, id, 0x12, value-msb, value-lsb, checksum], checksum: [3, 5]}
  hold: {kind: switch, note: 60, codes: {on: 100, off: 1}, release: yes}
  bend: {kind: level, pitch-bend: yes, range: [0, 16383]}
  push: {kind: level, channel-pressure: yes, range: [0, 127]}
"""
RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: SPEED}}
devices: {box: {port: rack, channel: 1, id: 2, definition: box, patches: {far: 300}}}
home: {box: {patch: far, depth: 300, rate: 5, tune: 8192, size: 200, hold: on, bend: 8192, push: 9}}
"""


def scene_file(speed: str) -> bytes:
    """The file of the only scene, from unknown, in one track."""
    show = judged(
        {
            "definitions/box.yaml": BOX,
            "rigs/a-rig.yaml": RIG.replace("SPEED", speed),
            "lantern.yaml": "song: Lantern\nscenes: {verse: {}}\n",
        }
    )
    assert show.sound, findings(show)
    (leg,) = plan(show)
    return song_files(leg.rig, leg.songs[0], 0)["01-lantern.scene-01-verse.mid"]


# Program 300 is 2 times 128 and 44: bank 2 as its upper seven bits 0 and its lower seven 2. On a usb port
# only the settle takes time: 10 ms, 19.2 ticks of 520.83 microseconds, so 20.
# 300 is 2 and 44; 8192 is 64 and 0; 200 is 1 and 72. The checksum over 12, 01 and 48 (5B) is 25 (80 - 5B).
# Bank select and RPN null: MIDI 1.0 Detailed Specification 4.2.1, p. 13 and p. 18.
EVERY_UNIT = """
    4D 54 68 64  00 00 00 06  00 00  00 01  03 C0
    4D 54 72 6B  00 00 00 7F  ; MTrk, 127 bytes
    00 FF 09 04  72 61 63 6B           ; device name: rack
    00 FF 03 07  4C 61 6E 74 65 72 6E  ; name: Lantern
    00 FF 58 04  04 02 18 08           ; 4/4
    00 FF 51 03  07 A1 20              ; 500,000 microseconds a quarter note
    00 FF 06 05  76 65 72 73 65        ; marker: verse
    00 B0 00 00  00 B0 20 02  00 C0 2C ; bank 0, 2; program 44
    14 B0 0C 02  00 B0 2C 2C           ; 20 ticks on: depth 300
    00 B0 63 01  00 B0 62 08  00 B0 06 05  ; NRPN 1, 8 is 5
    00 B0 65 00  00 B0 64 01  00 B0 06 40  00 B0 26 00  00 B0 65 7F  00 B0 64 7F  ; RPN 0, 1; null
    00 F0 07 7D 02 12 01 48 25 F7      ; seven bytes follow F0
    00 90 3C 64  00 80 3C 40           ; struck and let go
    00 E0 00 40                        ; bender: the centre
    00 D0 09
    00 FF 2F 00
"""


def test_every_unit_stands_whole_in_a_scenes_file() -> None:
    assert scene_file("usb") == unhex(EVERY_UNIT)


@pytest.mark.parametrize("read", READERS)
def test_readers_see_system_exclusive(read: Reader) -> None:
    (track,) = read(scene_file("usb")).tracks
    assert [event for event in track if event[1] == "exclusive"] == [
        (20, "exclusive", 7, 0x7D, 2, 0x12, 1, 0x48, 0x25, 0xF7)
    ]


def test_mido_reads_every_message() -> None:
    (track,) = mido.MidiFile(file=io.BytesIO(scene_file("usb"))).tracks
    assert [bytes(message.bytes()).hex(" ").upper() for message in track if not message.is_meta] == [
        *("B0 00 00", "B0 20 02", "C0 2C"),
        *("B0 0C 02", "B0 2C 2C"),
        *("B0 63 01", "B0 62 08", "B0 06 05"),
        *("B0 65 00", "B0 64 01", "B0 06 40", "B0 26 00", "B0 65 7F", "B0 64 7F"),
        "F0 7D 02 12 01 48 25 F7",
        *("90 3C 64", "80 3C 40"),
        "E0 00 40",
        "D0 09",
    ]


# At 0, 960 and 1,920 microseconds bank select and program, ticks 0, 1.84 and 3.69; the program is out when
# two bytes have followed tick 4, and has settled at 12,723, tick 24.43. The next was due at 13,520, tick
# 25.96: at 26 it waits in the port for the one before it.
def test_on_a_din_port_a_unit_takes_its_time() -> None:
    (track,) = mido.MidiFile(file=io.BytesIO(scene_file("din"))).tracks
    ticks, now = [], 0
    for message in track:
        now += message.time
        ticks += [] if message.is_meta else [now]
    assert ticks[:5] == [0, 2, 4, 25, 26]
