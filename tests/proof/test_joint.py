"""Devices that hear each other's messages are proved together, and reported apart."""

from __future__ import annotations

import pytest

from switchmatrix.model.rig import Device
from switchmatrix.proof.report import DeviceProof
from switchmatrix.proof.run import prove
from tests.proof.shown import SHOW, failed, run_of

SWIRL = "definition: swirl\ncontrols: {rate: {kind: level, nrpn: [1, 8], data: 14, range: [0, 16383]}}\n"
HALL = """\
definition: hall
controls:
  decay: {kind: level, nrpn: [1, 9], data: 14, range: [0, 16383]}
  mix: {kind: level, nrpn: [1, 10], data: 7, range: [0, 127]}
"""
GATE = "definition: gate\ncontrols: {release: {kind: level, cc: 20, range: [0, 127]}}\n"
SONG = """\
song: Lantern
scenes:
  verse: {}
  chorus: {swirl.rate: 300, hall.mix: 9}
  bridge: {hall: {decay: 5000, mix: 8}}
"""


def files(swirl: str, hall: str = "channel: 2") -> dict[str, str]:
    """Two boxes with parameters and a gate on one port; `swirl` and `hall` say which channels they hear."""
    return {
        "show.yaml": SHOW,
        "definitions/swirl.yaml": SWIRL,
        "definitions/hall.yaml": HALL,
        "definitions/gate.yaml": GATE,
        "rigs/a-rig.yaml": f"""\
rig: A rig
ports: {{rack: {{out: rack, speed: din}}}}
devices:
  swirl: {{port: rack, {swirl}, definition: swirl}}
  gate: {{port: rack, channel: 7, definition: gate}}
  hall: {{port: rack, {hall}, definition: hall}}
home: {{swirl.rate: 1, hall: {{decay: 2, mix: 3}}, gate.release: 60}}
""",
        "lantern.yaml": SONG,
    }


def test_devices_on_channels_of_their_own_are_proved_one_by_one() -> None:
    assert prove(run_of(files("channel: 1"))).devices == (
        DeviceProof(("swirl",), joint=False, states=2, pairs=6, failed=()),
        DeviceProof(("gate",), joint=False, states=1, pairs=2, failed=()),
        DeviceProof(("hall",), joint=False, states=3, pairs=12, failed=()),
    )


def test_devices_that_hear_each_others_parameter_numbers_are_proved_together_besides() -> None:
    assert prove(run_of(files("channel: 2"))).devices == (
        DeviceProof(("swirl",), joint=False, states=2, pairs=6, failed=()),
        DeviceProof(("gate",), joint=False, states=1, pairs=2, failed=()),
        DeviceProof(("hall",), joint=False, states=3, pairs=12, failed=()),
        DeviceProof(("swirl", "hall"), joint=True, states=3, pairs=12, failed=()),
    )


def numberless(_: Device, data: tuple[bytes, ...]) -> tuple[bytes, ...]:
    """The second parameter of the hall goes without its number's upper half: the first one has sent it."""
    number = bytes.fromhex("B1 63 01")
    if data.count(number) < 2:
        return data
    at = len(data) - 1 - data[::-1].index(number)
    return data[:at] + data[at + 1 :]


def test_what_leans_on_a_number_that_the_other_may_have_changed_is_caught_together() -> None:
    apart = files("channel: 1")
    shared = files("channel: 2") | {"definitions/swirl.yaml": SWIRL.replace("[1, 8]", "[4, 8]")}
    assert failed(run_of(apart), numberless) == []
    found = failed(run_of(shared), numberless)
    assert [one.partition(";")[0] for one in found] == [
        "from unknown to lantern verse: hall.mix",
        "from unknown (and from 1 more) to lantern chorus: hall.mix",
        "from unknown (and from 1 more) to lantern bridge: hall.mix",
    ]
    assert found[:1] == [
        "from unknown to lantern verse: hall.mix; wanted 3 (code 3); got    nobody knows what; "
        "bytes  B1 63 04, B1 62 08, B1 06 00, B1 26 01, B1 63 01, B1 62 09, B1 06 00, B1 26 02, B1 63 04, "
        "B1 62 08, B1 06 00, B1 26 01, B1 62 0A, B1 06 03, B1 63 04, B1 62 08, B1 06 00, B1 26 01"
    ]


def elsewhere(device: Device, data: tuple[bytes, ...]) -> tuple[bytes, ...]:
    """The gate's messages go to the hall's channel, and its data entry."""
    return tuple(bytes((0xB1, 6, m[2])) for m in data) if device.name == "gate" else data


def test_a_message_that_another_device_acts_on_is_caught_there_too() -> None:
    found = prove(run_of(files("channel: 1")), elsewhere)
    assert [(proof.devices, proof.joint, bool(proof.failed)) for proof in found.devices] == [
        (("swirl",), False, False),
        (("gate",), False, True),
        (("hall",), False, False),
        (("gate", "hall"), True, True),
    ]
    assert {counter.device for counter in found.devices[3].failed} == {"gate", "hall"}


# An omni box hears a number on any channel: the schedule lets nothing of its port into a unit.
@pytest.mark.parametrize("other", ["channel: 2", "channel: 3"])
def test_a_box_that_hears_all_channels_is_proved_together_with_the_others_of_its_port(other: str) -> None:
    run = run_of(files("channel: 1, omni: yes", other))
    together = prove(run).devices[3]
    assert (together.devices, together.joint, together.failed) == (("swirl", "hall"), True, ())
