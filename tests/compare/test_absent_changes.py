"""What differs in how a rig does without devices; and boxes exchanged, moved, flipped."""

from __future__ import annotations

import pytest

from tests.compare.kit import A_RIG, ECHO, rig_changes, said, touched

B_RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  multi:
    port: rack
    channel: 3
    definition: multi
    patches: {A1: 1, A2: 2, A3: 3}
absent: {echo: two-tap-echo, reverb: hall-reverb}
vocabulary:
  gate: {tight: {gate-1.threshold: -38 dB}, loose: {gate-1.threshold: -55 dB}}
  echo.engage: multi.on
  echo.mix: nothing
  echo.time: nothing
  echo.patch: {slap: {multi.patch: A1}, cliff: {multi.patch: A2}}
  reverb.engage: nothing
  reverb.patch: {room: nothing, hall: nothing}
joint: [{of: [echo.patch, reverb.patch], rows: [[cliff, hall, {multi.patch: A3}]]}]
home: {gate: loose, multi.patch: A1, multi.on: off}
"""
FILES = {
    "rigs/a-rig.yaml": B_RIG,
    "definitions/multi.yaml": "definition: multi\n"
    "programs: {count: 8, first: 1, settle: 0 ms, repeat: recalls}\n"
    "controls: {on: {kind: switch, cc: 83}, off-too: {kind: switch, cc: 84}}\n",
    "definitions/hall-reverb.yaml": "definition: hall reverb\n"
    "programs: {count: 8, first: 1, settle: 0 ms, repeat: recalls}\n"
    "controls: {engage: {kind: switch, cc: 80, main: yes}}\n",
    "lantern.yaml": "song: Lantern\nscenes:\n  verse: {echo: slap}\n  chorus: {echo: cliff}\n"
    "  bridge: {echo: cliff, reverb: hall}\n",
}

ABSENT = [
    (
        "slap: {multi.patch: A1}",
        "slap: {multi.patch: A3}",
        ("translation", "echo.patch: slap", "multi.patch A1", "multi.patch A3"),
        ["lantern verse"],
    ),
    (
        "hall, {multi.patch: A3}",
        "hall, {multi.patch: A1}",
        (
            "joint table",
            "echo.patch and reverb.patch",
            "cliff with hall: multi.patch A3",
            "cliff with hall: multi.patch A1",
        ),
        ["lantern bridge"],
    ),
    (
        "echo.mix: nothing",
        "echo.mix: multi.off-too",
        ("translation", "echo.mix", "nothing", "handed on to multi.off-too"),
        [],
    ),
]


@pytest.mark.parametrize(("was", "now", "change", "scenes"), ABSENT)
def test_what_stands_for_an_absent_device_is_said_with_what_it_touches(
    was: str, now: str, change: tuple[str, str, str | None, str | None], scenes: list[str]
) -> None:
    found = rig_changes(FILES, {**FILES, "rigs/a-rig.yaml": B_RIG.replace(was, now)})
    assert [(said(one), touched(one)) for one in found] == [(change, scenes)]


def test_the_definition_of_a_device_that_is_not_there_is_a_difference() -> None:
    other = FILES["definitions/hall-reverb.yaml"].replace("count: 8", "count: 9")
    found = rig_changes(FILES, {**FILES, "definitions/hall-reverb.yaml": other})
    assert [(said(one), touched(one)) for one in found] == [
        (("definition programs: count", "hall-reverb", "8", "9"), [])
    ]


BOTH = ["lantern verse", "lantern chorus"]


def test_another_model_in_place_of_a_device_is_rack_work() -> None:
    # The same controls on other numbers, all but one, and the first program called 0.
    other = ECHO.replace("two-tap echo", "three-tap echo").replace("cc: 80", "cc: 90")
    new = {
        "rigs/a-rig.yaml": A_RIG.replace("definition: two-tap-echo", "definition: three-tap-echo"),
        "definitions/three-tap-echo.yaml": other.replace("first: 1", "first: 0"),
    }
    (model,) = rig_changes({}, new)
    assert (said(model), model.panel, touched(model)) == (
        ("model", "echo", "two-tap echo", "three-tap echo"),
        True,
        BOTH,
    )


def test_a_device_on_another_port_touches_every_scene_that_sends_to_it() -> None:
    rig = A_RIG.replace("ports:\n", "ports:\n  floor: {out: floor, speed: din}\n")
    moved = rig.replace("  echo:\n    port: rack", "  echo:\n    port: floor")
    found = rig_changes({"rigs/a-rig.yaml": rig}, {"rigs/a-rig.yaml": moved})
    assert [(said(one), touched(one)) for one in found] == [(("port", "echo", "rack", "floor"), BOTH)]


TOGGLE = ECHO.replace("main: yes}", "main: yes, toggle: {press: 127, release: none}, powers-up: off}")


def test_a_switch_that_stands_elsewhere_after_power_up_touches_what_is_sent_first() -> None:
    old = {"definitions/two-tap-echo.yaml": TOGGLE}
    rig = A_RIG.replace("channel: 3", "channel: 3\n    powers-up: {engage: on}")
    found = rig_changes(old, {**old, "rigs/a-rig.yaml": rig})
    assert [(said(one), one.panel, touched(one)) for one in found] == [
        (("powers up", "echo", "engage off", "engage on"), True, BOTH)
    ]


def test_a_switch_that_is_flipped_from_now_on_is_said_so() -> None:
    found = rig_changes({}, {"definitions/two-tap-echo.yaml": TOGGLE})
    assert ("definition press", "two-tap-echo engage", "not flipped") in [said(one)[:3] for one in found]


def test_a_control_that_cannot_keep_its_codes_takes_its_new_carrier_along() -> None:
    wide = ECHO.replace("cc: 21, range: [0 %, 100 %], codes: [0, 100]", "cc14: [21, 53], range: [0 %, 100 %]")
    song = {"lantern.yaml": "song: Lantern\nscenes:\n  verse: {echo: cliff, echo.mix: 50 %}\n"}
    found = rig_changes(song, {**song, "definitions/two-tap-echo.yaml": wide})
    assert [(said(one)[0], touched(one)) for one in found] == [
        ("definition carrier", ["lantern verse"]),
        ("definition values", ["lantern verse"]),
    ]
