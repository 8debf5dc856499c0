"""A mistake in a definition is named there, once, however many scenes and rigs meet it."""

from __future__ import annotations

import pytest

from tests.definition.kit import told
from tests.support import findings, judged

BOX = """\
definition: box
programs: {count: 8, first: 1, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], stored: yes}
  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}}
  tap: {kind: trigger, cc: 31}
crosspoint:
  out-a: {cc: 40, inputs: {in-1: 0, in-2: 1}}
loops: {cc: [50, 51]}
"""
RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  box: {port: rack, channel: 1, definition: box, patches: {low: 1, high: {at: 8, stores: {mix: 35 %}}}}
vocabulary: {sound: {far: {box.mix: 90 %, box.mode: tape}, near: {box.mix: 10 %, box.mode: clean}}}
home: {box: {engage: off, mode: tape, patch: low, out-a: in-1, loops: [1]}}
"""
SCENES = "".join(
    f"  scene {n}: {{sound: far, box: {{engage: on, patch: high, out-a: in-2, loops: [2]}}, box.tap: now}}\n"
    f"  other {n}: {{box: low, box.mix: {n} %, box.loop-1: on, box.loop-2: on}}\n"
    for n in range(20)
)
SHOW = {
    "show.yaml": "show: T\nrigs: [a-rig, b-rig]\nlegs: {tour: {rigs: [a-rig, b-rig], setlist: [song]}}\n",
    "song.yaml": f"song: Song\nscenes:\n{SCENES}",
    "rigs/a-rig.yaml": RIG,
    "rigs/b-rig.yaml": RIG.replace("A rig", "B rig"),
}


def found(old: str, new: str) -> list[str]:
    """What is told of forty scenes on two rigs, where the definition says `new` and not `old`."""
    assert BOX.count(old) == 1
    return findings(judged({**SHOW, "definitions/box.yaml": BOX.replace(old, new)}, base=None))


def test_nothing_is_said_of_the_sound_definition() -> None:
    assert found("definition: box", "definition: a box") == []


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("cc: 21", "cc: 128", "5:26: error number-outside: the CC number is 128; it goes from 0 to 127"),
        (
            "cc: 21",
            "nrpn: [1, 8]",
            "5:22: error carrier-wrong: it is not said whether the data is 7 bits wide (CC 6) or 14 "
            "(CC 6 and CC 38)",
        ),
        (
            "cc: 21",
            "sysex: {body: [0x7D]}",
            "5:29: error template-wrong: `mix`: the template has no place for the value",
        ),
        (
            "[0 %, 100 %]",
            "[100 %, 0 %]",
            "5:38: error scale-wrong: the range goes from 100 % to 0 %",
        ),
        (
            "values: {tape: 0, clean: 1}",
            "values: {}",
            "6:32: error scale-wrong: `values` names nothing that could be set",
        ),
        (
            "clean: 1",
            "clean: 0",
            "6:50: error scale-wrong: `clean` and `tape` share a code",
        ),
        ("cc: 31", "cc: 0", "7:28: error cc-reserved: CC 0 is no control: it is bank select"),
        (
            "cc: 80",
            "cc: 80, toggle: {press: 1}",
            "4:34: error missing-key: `toggle` lacks `release`",
        ),
        (
            "count: 8",
            "count: 800",
            "2:19: error panel-wrong: a program change tells 128 programs apart, and `count` is 800",
        ),
        (
            "first: 1",
            "panel: {banks: A-B, slots: 1-3}",
            "2:19: error panel-wrong: the panel shows 6 programs, A1 to B3, and `count` is 8",
        ),
        (
            "cc: 40, inputs",
            "cc: 32, inputs",
            "9:15: error cc-reserved: CC 32 is no control: it is bank select",
        ),
        (
            "{in-1: 0, in-2: 1}",
            "{in-1: 0, in-2: 0}",
            "9:37: error scale-wrong: `in-2` and `in-1` share a code",
        ),
        ("cc: [50, 51]", "cc: [50, 0]", "10:18: error cc-reserved: CC 0 is no control: it is bank select"),
        (
            "cc: [50, 51]",
            "cc: [50, 51], codes: {on: 0, off: 0}",
            "10:30: error scale-wrong: on and off have one code, 0",
        ),
        ("cc: [50, 51]", "cc: []", "10:13: error wrong-shape: `cc` has 0 items"),
        (
            "  mode: {",
            "  mode.x: {",
            "6:3: error bad-name: `mode.x` cannot name a control: it has a `.` in it",
        ),
        ("{in-1: 0, in-2: 1}", "{}", "9:19: error scale-wrong: `inputs` names nothing that could be set"),
    ],
)
def test_mistake_is_named_once_at_the_definition(old: str, new: str, told: str) -> None:
    assert found(old, new) == [f"definitions/box.yaml:{told}"]


BANKED = "count: 16, first: 1, repeat: recalls, bank: cc0, bank-when: always"


@pytest.mark.parametrize(
    ("control", "programs", "said"),
    [
        ("program: yes", BANKED, "`it` travels as a program change, and the device has banks"),
        (
            "program: yes, bank: 3",
            "count: 16, first: 1, repeat: recalls",
            "`it` has a `bank`, and the device's programs have no bank select",
        ),
        ("program: yes, bank: 3", "", "`it` has a `bank`, and the device's programs have no bank select"),
        ("program: yes, bank: 129", BANKED, "`it` lies in bank 129, and `cc0` tells 128 banks apart"),
    ],
)
def test_control_that_travels_as_a_program_lies_in_a_bank_of_its_device(
    control: str, programs: str, said: str
) -> None:
    assert told(f"kind: choice, {control}, values: {{a: 1, b: 2}}", programs) == [
        f"2:12: error carrier-wrong: {said}"
    ]


@pytest.mark.parametrize("bank", [1, 128])
def test_control_in_any_bank_that_its_device_tells_apart_is_sound(bank: int) -> None:
    assert told(f"kind: choice, program: yes, bank: {bank}, values: {{a: 1, b: 2}}", BANKED) == []
