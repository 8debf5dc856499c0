"""Bytes back to codes."""

from __future__ import annotations

from switchmatrix.midi.numbers import WireChannel
from switchmatrix.simulate.reader import codes_heard
from tests.simulate.boxes import rig

BOX = """\
programs: {count: 128, first: 0, settle: 1 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, toggle: {press: 127, release: 0}}
  time: {kind: level, cc14: [12, 44], range: [0, 16383], stored: yes}
  depth: {kind: level, nrpn: [1, 8], data: 14, range: [0, 16383], channel: far}
  bell: {kind: trigger, note: 60}
  level: {kind: level, range: [0, 127], sysex: {body: [0x7D, id, value]}}"""
RIG = rig("box: {port: rack, channels: {main: 1, far: 2}, id: 5, definition: box}", box=BOX)
DEVICE = RIG.devices[0]


def test_codes_come_in_the_order_of_their_last_message() -> None:
    sent = "B3 0C 03 B3 63 01 62 08 06 03 26 54 B3 2C 55"
    assert codes_heard(DEVICE.definition, WireChannel(3), bytes.fromhex(sent)) == (
        ("depth", 468),
        ("time", 469),
    )


def test_device_listens_where_the_rig_has_it() -> None:
    sent = "B0 0C 03 2C 54 B1 63 01 62 08 06 00 26 01"
    assert codes_heard(DEVICE, WireChannel(9), bytes.fromhex(sent)) == (("time", 468), ("depth", 1))


def test_toggle_comes_on_from_off() -> None:
    assert codes_heard(DEVICE.definition, WireChannel(0), bytes.fromhex("B0 50 7F 50 00")) == (("engage", 1),)


def test_trigger_has_the_code_that_it_went_off_at() -> None:
    assert codes_heard(DEVICE.definition, WireChannel(0), bytes.fromhex("90 3C 7F")) == (("bell", 127),)


def test_exclusive_is_read_with_the_id_that_is_given() -> None:
    sent = bytes.fromhex("F0 7D 02 40 F7")
    assert [codes_heard(DEVICE.definition, WireChannel(0), sent, id=id) for id in (2, 3)] == [
        (("level", 0x40),),
        (),
    ]


def test_what_has_no_code_is_left_out() -> None:
    assert codes_heard(DEVICE.definition, WireChannel(0), bytes.fromhex("C0 05 B0 2C 54")) == ()
