"""What differs in a rig: each kind of change with what it was, is and touches."""

from __future__ import annotations

from dataclasses import fields

import pytest

from switchmatrix.compare.definitions import CONTROL, PROGRAMS
from switchmatrix.definition.controls import Control
from switchmatrix.definition.definition import Definition
from switchmatrix.definition.programs import Programs
from switchmatrix.model.rig import Device, Rig
from switchmatrix.model.song import Scene, Song
from tests.compare.kit import A_RIG, ECHO, LANTERN, rig_changes, said, text, touched

RIG = "rigs/a-rig.yaml"
DEFINITION = "definitions/two-tap-echo.yaml"
BOTH = ["lantern verse", "lantern chorus"]
MUTE = "mutes: [{while: [echo.patch], hold: {gate-1.threshold: -70 dB}, before: 5 ms, after: 10 ms}]\n"
FLOOR = "controllers: {floor: {port: rack, channel: 2, sends: {cc: [20]}}}\n"

ONE_EACH = [
    ("channel: 3", "channel: 5", ("channel", "echo", "3", "5"), BOTH),
    ("channel: 3", "channel: 3\n    id: 2", ("id", "echo", "none", "2"), []),
    ("channel: 3", "channel: 3\n    gang: 2", ("gang", "echo", "1", "2"), []),
    ("channel: 3", "channel: 3\n    omni: yes", ("omni", "echo", "no", "yes"), []),
    ("channel: 3", "channel: 3\n    thru-of: gate-1", ("thru-of", "echo", "none", "gate-1"), []),
    ("at: 17", "at: 18", ("patch number", "echo cliff", "17", "18"), ["lantern chorus"]),
    (
        "mix: 35 %",
        "mix: 36 %",
        ("patch stores", "echo cliff", "mix 35 %, time 480 ms", "mix 36 %, time 480 ms"),
        [],
    ),
    ("slap: 4", "slap: 4\n      well: 9", ("patch", "echo well", None, "9"), []),
    ("rig: A rig", "rig: The rig", ("title", "", "A rig", "The rig"), []),
    (
        "out: rack",
        "out: left rack",
        ("port of the rig", "rack", "out rack, in none", "out left rack, in none"),
        BOTH,
    ),
    ("speed: din", "speed: usb", ("speed of the port", "rack", "din", "usb"), []),
    ("-55 dB", "-50 dB", ("word", "gate: loose", "gate-1.threshold -55 dB", "gate-1.threshold -50 dB"), []),
    (
        "-38 dB",
        "-40 dB",
        ("word", "gate: tight", "gate-1.threshold -38 dB", "gate-1.threshold -40 dB"),
        BOTH,
    ),
    ("home: {gate: loose", "home: {gate: tight", ("home", "gate", "loose", "tight"), []),
    ("engage: off", "engage: on", ("home", "echo.engage", "off", "on"), ["lantern verse"]),
    (
        "home:",
        f"{MUTE}home:",
        ("mute", "echo.patch", None, "hold gate-1.threshold -70 dB, 5 ms before, 10 ms after"),
        BOTH,
    ),
    ("home:", f"{FLOOR}home:", ("controller", "floor", None, "rack channel 2: CC 20"), ["lantern chorus"]),
    (
        "home:",
        "limits: {echo.mix: {most: 80 %}}\nhome:",
        ("limit", "echo.mix", None, "at most 80 %"),
        [],
    ),
    (
        "home:",
        "instruments: {mandola: {tuning: C G D A, retune: 2}}\nhome:",
        ("instrument", "mandola", None, "tuning C G D A; pickups none; retune 2"),
        [],
    ),
]


@pytest.mark.parametrize(("was", "now", "change", "scenes"), ONE_EACH)
def test_one_change_of_a_rig_is_said_with_the_scenes_that_it_touches(
    was: str, now: str, change: tuple[str, str, str | None, str | None], scenes: list[str]
) -> None:
    found = rig_changes({}, {RIG: A_RIG.replace(was, now)})
    assert [(said(one), touched(one)) for one in found] == [(change, scenes)]


OF_DEFINITION = [
    ("35 ms", "70 ms", ("definition programs: settle", "two-tap-echo", "35 ms", "70 ms"), []),
    (
        "first: 1",
        "first: 0",
        ("definition programs: panel", "two-tap-echo", "the first is 1", "the first is 0"),
        BOTH,
    ),
    ("128", "100", ("definition programs: count", "two-tap-echo", "128", "100"), []),
    (
        "first: 1",
        "first: 1, bank: cc0, bank-when: always, bank-size: 10",
        (
            "definition programs: bank select",
            "two-tap-echo",
            "none",
            "CC 0, before every program, 10 programs in a bank",
        ),
        BOTH,
    ),
    ("cc: 80", "cc: 81", ("definition carrier", "two-tap-echo engage", "CC 80", "CC 81"), BOTH),
    (
        "main: yes}",
        "main: yes, codes: {on: 1, off: 0}}",
        ("definition values", "two-tap-echo engage", "on 127, off 0", "on 1, off 0"),
        ["lantern chorus"],
    ),
    ("controls:", "gap: 2 ms\ncontrols:", ("definition gap", "two-tap-echo", "0 ms", "2 ms"), []),
    ("controls:", "clock: yes\ncontrols:", ("definition clock", "two-tap-echo", "no", "yes"), []),
    ("two-tap echo", "echo", ("definition title", "two-tap-echo", "two-tap echo", "echo"), []),
    (
        "main: yes}",
        "main: yes}\n  tone: {kind: trigger, cc: 90}",
        ("definition control", "two-tap-echo tone", None, "trigger, CC 90"),
        [],
    ),
]


@pytest.mark.parametrize(("was", "now", "change", "scenes"), OF_DEFINITION)
def test_one_change_of_a_definition_is_said_with_the_scenes_that_it_touches(
    was: str, now: str, change: tuple[str, str, str | None, str | None], scenes: list[str]
) -> None:
    found = rig_changes({}, {DEFINITION: ECHO.replace(was, now, 1)})
    assert [(said(one), touched(one)) for one in found] == [(change, scenes)]


def test_what_a_tech_must_act_on_comes_before_the_rest_of_the_rig() -> None:
    new = {
        RIG: A_RIG.replace("cliff", "crag").replace("at: 17", "at: 18").replace("rig: A", "rig: The A"),
        "lantern.yaml": LANTERN.replace("cliff", "crag"),
    }
    assert text({}, new) == (
        "OLD, now NEW\n\n"
        "To do at the rack\n  a-rig\n"
        "    echo: number of the patch crag was 17 (rigs/a-rig.yaml:12), now 18 (rigs/a-rig.yaml:12)\n"
        "      alters the messages of 1 scene: lantern (chorus)\n\n"
        "The rigs\n  a-rig\n"
        "    echo: name of the patch crag was cliff (rigs/a-rig.yaml:12), now crag (rigs/a-rig.yaml:12)\n"
        "      alters no message\n"
        "    title of the rig was A rig (rigs/a-rig.yaml:1), now The A rig (rigs/a-rig.yaml:1)\n"
        "      alters no message\n"
    )


def test_a_device_that_is_new_touches_the_scenes_that_send_to_it() -> None:
    treadle = "definition: treadle wah\ncontrols: {engage: {kind: switch, cc: 85}}\n"
    wah = "  wah: {port: rack, channel: 4, definition: treadle-wah}\nvocabulary:"
    new = {
        RIG: A_RIG.replace("vocabulary:", wah).replace("home: {", "home: {wah.engage: off, "),
        "definitions/treadle-wah.yaml": treadle,
    }
    found = rig_changes({}, new)
    assert [(said(one), touched(one)) for one in found] == [
        (("device", "wah", None, "treadle wah on rack, channel 4"), BOTH),
        (("home", "wah.engage", None, "off"), BOTH),
    ]


def test_a_device_that_is_gone_touches_the_scenes_that_sent_to_it() -> None:
    gate = "  gate-1: {port: rack, channel: 2, definition: plain-gate}\n"
    bare = A_RIG.replace(gate, "").replace("{gate-1.threshold: -38 dB}", "nothing")
    bare = bare.replace("{gate-1.threshold: -55 dB}", "nothing")
    (device, *_) = rig_changes({}, {RIG: bare})
    assert (said(device), touched(device)) == (
        ("device", "gate-1", "plain gate on rack, channel 2", None),
        BOTH,
    )


def test_devices_in_another_order_are_sent_to_in_another_order() -> None:
    gate = "  gate-1: {port: rack, channel: 2, definition: plain-gate}\n"
    new = {RIG: A_RIG.replace(gate, "").replace("vocabulary:", f"{gate}vocabulary:")}
    found = rig_changes({}, new)
    assert [said(one) for one in found] == [("order of devices", "", "gate-1, echo", "echo, gate-1")]


def test_a_hand_is_said_in_words() -> None:
    new = {RIG: A_RIG + "hands: [gate-1.threshold]\n"}
    assert text({}, new) == (
        "OLD, now NEW\n\nThe rigs\n  a-rig\n    the player moves gate-1.threshold now\n"
        "      alters the messages of 1 scene: lantern (chorus)\n"
    )


COVERED = {
    Control: {name for names in CONTROL.values() for name in names} | {"name", "span", "loop"},
    Programs: {name for names in PROGRAMS.values() for name in names} | {"span"},
    Definition: {"id", "title", "programs", "controls", "hazard", "gap_us", "clock", "identity"}
    | {"broken", "span", "order"},
    Device: {"name", "port", "channel", "definition", "patches", "pickup", "channels", "id", "gang", "omni"}
    | {"powers_up", "thru_of", "broken", "span"},
    Song: {"id", "title", "remark", "instrument", "tempos", "meters", "on_time", "budget", "tuning"}
    | {"start", "rate", "scenes", "order", "span"},
    Scene: {"name", "places", "remark", "instrument", "on_time", "budget", "likes", "tempo", "span"},
    Rig: {"id", "title", "ports", "controllers", "devices", "absents", "instruments", "entries"}
    | {"translations", "joints", "hands", "home", "limits", "standing", "changes", "mutes", "feet"}
    | {"triggers", "span"},
}
"""The fields that are held against each other, and those that say nothing of their own."""


@pytest.mark.parametrize("record", COVERED, ids=lambda record: record.__name__)
def test_no_field_of_a_show_is_forgotten(record: type) -> None:
    assert {field.name for field in fields(record)} == COVERED[record]
