"""What is known of a rig before anything has been sent, and once nothing can be trusted any more."""

from __future__ import annotations

import pytest

from switchmatrix.compile.known import (
    UNKNOWN,
    DeviceKnown,
    Known,
    Reach,
    all_in_doubt,
    nothing_known,
    reach,
    set_by_hand,
    settled_rig,
)
from switchmatrix.model.rig import Rig
from tests.compile.rigs import rig_show
from tests.support import song, visit

FUZZ = """
programs: {count: 8, first: 1, bank: cc0, bank-when: change, bank-size: 4, repeat: recalls}
controls:
  gain: {kind: level, cc: 31, range: [0, 127]}
  boost: {kind: switch, cc: 79, toggle: {press: 127, release: 0}, powers-up: on}
  relay: {kind: switch, cc: 78, toggle: {press: 127, release: 0}, powers-up: on, hazard: mains relay}
  engage: {kind: switch, cc: 80, toggle: {press: 127, release: 0}, powers-up: off}
  hum: {kind: switch, cc: 81, toggle: {press: 127, release: 0}}
"""
ECHO = """
programs: {count: 8, first: 1, repeat: recalls}
controls:
  boost: {kind: switch, cc: 79, toggle: {press: 127, release: 0}, powers-up: on}
"""
DEVICES = """
fuzz: {port: rack, channel: 1, definition: fuzz}
gate: {port: rack, channel: 2, definition: gate}
echo: {port: rack, channel: 3, definition: echo, powers-up: {boost: off}}
"""


def rig() -> Rig:
    """A fuzz with banks, a gate without programs, an echo without banks."""
    gate = "controls: {depth: {kind: level, cc: 20, range: [0, 127]}}"
    show = rig_show(DEVICES, {"fuzz": FUZZ, "echo": ECHO, "gate": gate}, "  verse: {}\n")
    assert show.states is not None
    return show.states.rigs[0]


def test_a_rig_is_found_with_its_switches_as_they_power_up_and_all_else_unknown() -> None:
    assert nothing_known(rig()) == Known(
        (
            DeviceKnown(UNKNOWN, UNKNOWN, (UNKNOWN, 1, 1, 0, UNKNOWN)),
            DeviceKnown(UNKNOWN, None, (UNKNOWN,)),
            DeviceKnown(UNKNOWN, None, (0,)),
        )
    )


def test_of_a_rig_in_doubt_nothing_is_known() -> None:
    assert all_in_doubt(rig()) == Known(
        (
            DeviceKnown(UNKNOWN, UNKNOWN, (UNKNOWN,) * 5),
            DeviceKnown(UNKNOWN, None, (UNKNOWN,)),
            DeviceKnown(UNKNOWN, None, (UNKNOWN,)),
        )
    )


def test_each_switch_that_can_only_be_flipped_is_set_by_hand_but_a_hazard() -> None:
    assert set_by_hand(rig()) == [
        ("fuzz", "boost", "on"),
        ("fuzz", "engage", "off"),
        ("echo", "boost", "off"),
    ]


HALL = """
programs: {count: 8, first: 1, bank: cc0, bank-when: change, repeat: recalls, channel: calls}
controls:
  scene: {kind: choice, program: yes, bank: 1, values: {a: 4, b: 5}, channel: loops}
"""


@pytest.mark.parametrize(("channel", "bank"), [(1, False), (5, True), (6, True), (7, False)])
def test_bank_select_reaches_a_box_on_each_channel_where_it_hears_programs(channel: int, bank: bool) -> None:
    show = rig_show(
        "hall: {port: rack, channels: {main: 1, calls: 5, loops: 6}, definition: hall, patches: {a: 1}}",
        {"hall": HALL},
        "  verse: {hall.patch: a, hall.scene: a}\n",
        f"controllers: {{floor: {{port: rack, channel: {channel}, sends: {{cc: [0]}}}}}}",
    )
    assert show.states is not None
    rig = show.states.rigs[0]
    assert reach(rig, rig.devices[0]) == Reach(patch=False, bank=bank, controls=frozenset())


FEET = """
controllers:
  loft-feet: {port: loft, channel: 5, sends: {programs: yes, cc: [0]}}
  feet: {port: rack, channel: 5, sends: {programs: yes, cc: [0, 21]}}
  hand: {port: rack, channel: 5, sends: {cc: [90]}}
"""
HEARS = "programs: {count: 8, first: 1, %srepeat: recalls, channel: calls}\ncontrols:\n"
MIX = "  mix: {kind: level, cc: 21, range: [0, 127], stored: yes, channel: calls}\n"


@pytest.mark.parametrize(("bank", "reached"), [("bank: cc0, bank-when: change, ", True), ("", False)])
def test_what_any_controller_of_the_port_reaches_is_reached(bank: str, reached: bool) -> None:
    show = rig_show(
        "hall: {port: rack, channels: {main: 1, calls: 5}, definition: hall, patches: {a: 1}}",
        {"hall": HEARS % bank + MIX},
        "  verse: {hall.patch: a}\n",
        FEET,
    )
    assert show.states is not None
    rig = show.states.rigs[0]
    assert reach(rig, rig.devices[0]) == Reach(patch=True, bank=reached, controls=frozenset({0}))


def test_every_controller_reaches_a_box_without_programs() -> None:
    show = rig_show(
        "gate: {port: rack, channel: 5, definition: gate}",
        {"gate": "controls: {depth: {kind: level, cc: 21, range: [0, 127]}, hum: {kind: switch, cc: 90}}"},
        "  verse: {gate.depth: 1, gate.hum: on}\n",
        FEET,
    )
    assert show.states is not None
    rig = show.states.rigs[0]
    assert reach(rig, rig.devices[0]) == Reach(patch=False, bank=False, controls=frozenset({0, 1}))


def test_after_a_scene_without_its_patch_a_boxs_bank_is_unknown() -> None:
    show = rig_show(
        "fuzz: {port: rack, channel: 1, definition: fuzz, patches: {a: 1}}",
        {"fuzz": "programs: {count: 8, first: 1, bank: cc0, bank-when: change, repeat: recalls}"},
        "  verse: {}\n",
    )
    run, states = song(show, "lantern")
    assert settled_rig(run.rig, visit(states, "verse").state) == Known((DeviceKnown(UNKNOWN, UNKNOWN, ()),))
