"""Several devices on several ports."""

from __future__ import annotations

from switchmatrix.simulate.receiver import Told
from switchmatrix.simulate.rig import Acted, Stage, receivers
from switchmatrix.simulate.standing import UNKNOWN
from switchmatrix.simulate.stream import Voice, heard
from tests.simulate.boxes import rig

ECHO = "controls: {mix: {kind: level, cc: 21, range: [0, 127]}}"
GATE = (
    "controls: {depth: {kind: level, cc: 21, range: [0, 127]}, hold: {kind: level, cc: 22, range: [0, 127]}}"
)
DEVICES = """\
echo: {port: rack, channel: 1, definition: echo}
gate: {port: rack, channel: 1, definition: gate}
far: {port: shelf, channel: 1, definition: echo}"""


def test_every_device_on_the_port_hears_and_no_other() -> None:
    stage = Stage(receivers(rig(DEVICES, echo=ECHO, gate=GATE)))
    stage.feed("rack", bytes.fromhex("B0 15 40"))
    assert {name: at.controls for name, at in stage.now.items()} == {
        "echo": (0x40,),
        "gate": (0x40, UNKNOWN),
        "far": (UNKNOWN,),
    }


def test_each_message_says_what_each_device_did_with_it() -> None:
    stage = Stage(receivers(rig(DEVICES, echo=ECHO, gate=GATE)))
    first, then = Voice(0xB, 0, (0x15, 0x40)), Voice(0xB, 0, (0x16, 0x01))
    assert stage.feed("rack", bytes.fromhex("B0 15 40 16 01")) == (
        Acted("echo", Told(first, ("mix",), False)),
        Acted("gate", Told(first, ("depth",), False)),
        Acted("echo", Told(then, (), False)),
        Acted("gate", Told(then, ("hold",), False)),
    )


def test_message_goes_on_where_the_last_bytes_broke_off() -> None:
    stage = Stage(receivers(rig(DEVICES, echo=ECHO, gate=GATE)))
    stage.feed("shelf", bytes.fromhex("B0 15"))
    stage.feed("rack", bytes.fromhex("40"))
    stage.feed("shelf", bytes.fromhex("41"))
    assert {name: at.controls for name, at in stage.now.items()} == {
        "echo": (UNKNOWN,),
        "gate": (UNKNOWN, UNKNOWN),
        "far": (0x41,),
    }


def test_devices_start_where_they_are_said_to_stand() -> None:
    made = receivers(rig(DEVICES, echo=ECHO, gate=GATE))
    stage = Stage(made, {"far": made.devices[2].unit.start(controls=(7,))})
    assert [at.controls for at in stage.now.values()] == [(UNKNOWN,), (UNKNOWN, UNKNOWN), (7,)]


def test_devices_that_mind_a_message_are_found_before_it_is_sent() -> None:
    made = receivers(rig(DEVICES, echo=ECHO, gate=GATE))
    assert [
        made.minding("rack", heard(bytes.fromhex(sent))) for sent in ("B0 15 40", "B0 16 40", "C0 05")
    ] == [
        ("echo", "gate"),
        ("gate",),
        (),
    ]


def test_device_minds_the_parameter_numbers_of_another() -> None:
    one = "controls: {it: {kind: level, nrpn: [1, 8], data: 7, range: [0, 127]}}"
    other = one.replace("[1, 8]", "[1, 9]")
    devices = "a: {port: rack, channel: 1, definition: one}\nb: {port: rack, channel: 1, definition: other}"
    stage = Stage(receivers(rig(devices, one=one, other=other)))
    acted = stage.feed("rack", bytes.fromhex("B0 63 01 62 08 06 40"))
    assert [(a.device, a.told.moved, a.told.noted) for a in acted] == [
        ("a", (), True),
        ("b", (), True),
        ("a", (), True),
        ("b", (), True),
        ("a", ("it",), False),
        ("b", (), False),
    ]
