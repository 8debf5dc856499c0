"""What no transition can do surely: each finding whole, with its place, its words and the lines behind it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from switchmatrix.compile.pairs import pair_troubles
from switchmatrix.pipeline import Judged
from switchmatrix.states.state import Free, State
from tests.compile.rigs import rig_show

Told = tuple[str, str, str, str, list[str]]


def told(show: Judged) -> list[Told]:
    """Each finding: its name, its place, its message, its help, `place message` of each line behind it."""
    return [
        (d.name, str(d.span), d.message, d.help, [f"{r.span} {r.message}" for r in d.related])
        for d in show.found
    ]


DEVICES = """
gate: {port: rack, channel: 2, definition: gate}
echo: {port: rack, channel: 3, definition: echo, patches: {cliff: 17, slap: {at: 4, stores: {mix: 3}}}}
"""
GATE = "controls: {depth: {kind: level, cc: 20, range: [0, 127]}}"
HOME = "home: {echo.engage: on, gate.depth: 5}\n"


def echo(repeat: str, scenes: str, extra: str = HOME, mode: str = "") -> Judged:
    """An echo that answers a repeated program so, behind a gate about which all is sure."""
    definition = f"""
programs: {{count: 128, first: 1, repeat: {repeat}}}
controls:
  engage: {{kind: switch, cc: 80, main: yes}}
  time: {{kind: level, cc: 22, range: [0, 127], stored: yes}}
  mix: {{kind: level, cc: 21, range: [0, 127], stored: yes}}
{mode}"""
    return rig_show(DEVICES, {"echo": definition, "gate": GATE}, scenes, extra)


def test_what_is_left_to_a_patch_that_may_not_be_recalled_is_told_at_each_patch() -> None:
    show = echo("nothing", "  verse: {echo: {patch: cliff, mix: 9}}\n  chorus: {echo.patch: slap}\n")
    assert told(show) == [
        (
            "left-to-repeat",
            "rigs/a-rig.yaml:5:62",
            "`time` of `echo` is left to the patch `cliff`, "
            "which `echo` may not recall when it is in it already",
            "say what the patch holds, and it is sent by its own message: "
            "`cliff: {at: 17, stores: {time: ...}}`",
            [
                "lantern.yaml:3:18 the patch is chosen here",
                "definitions/echo.yaml:2:11 its definition says what a repeat does",
            ],
        ),
        (
            "left-to-repeat",
            "rigs/a-rig.yaml:5:73",
            "`time` of `echo` is left to the patch `slap`, "
            "which `echo` may not recall when it is in it already",
            "say what the patch holds, and it is sent by its own message: "
            "`slap: {at: 4, stores: {time: ...}}`",
            [
                "lantern.yaml:4:12 the patch is chosen here",
                "definitions/echo.yaml:2:11 its definition says what a repeat does",
            ],
        ),
    ]


def test_all_that_any_scene_leaves_to_the_patch_is_told_together_in_the_definitions_order() -> None:
    scenes = "  verse: {echo: {patch: cliff, time: 9}}\n  chorus: {echo: {patch: cliff, mix: 9}}\n"
    assert told(echo("toggles engage", scenes)) == [
        (
            "left-to-repeat",
            "rigs/a-rig.yaml:5:62",
            "`time`, `mix` of `echo` is left to the patch `cliff`, "
            "which `echo` may not recall when it is in it already",
            "say what the patch holds, and it is sent by its own message: "
            "`cliff: {at: 17, stores: {time: ..., mix: ...}}`",
            [
                "lantern.yaml:3:18 the patch is chosen here",
                "definitions/echo.yaml:2:11 its definition says what a repeat does",
            ],
        )
    ]


def test_a_repeat_that_moves_what_the_player_holds_is_told_with_all_that_he_holds() -> None:
    level = "  level: {kind: level, cc: 23, range: [0, 127], stored: yes}\n"
    scenes = "  verse: {echo: {patch: cliff, level: 1}}\n  chorus: {echo.patch: cliff}\n"
    show = echo("recalls", scenes, HOME + "hands: [echo.mix, echo.time]\n", level)
    assert told(show) == [
        (
            "recall-over-hands",
            "rigs/a-rig.yaml:5:62",
            "to bring back what `cliff` stores, `echo` is sent its program again, which also moves `time`, "
            "`mix`, in the player's hands",
            "list under `stores` of `cliff` what scenes leave to it: that is then sent alone",
            ["lantern.yaml:4:12 the patch is chosen here"],
        )
    ]


def test_what_a_late_choice_reloads_is_told_with_the_choices_that_do() -> None:
    mode = """\
  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, resets: [mix], stored: yes}
  head: {kind: choice, cc: 31, values: {one: 0, two: 1}, resets: [engage], stored: yes}
"""
    show = echo("recalls", "  verse: {echo: {patch: cliff, time: 1, mode: clean, head: one}}\n", mode=mode)
    assert told(show) == [
        (
            "left-to-reset",
            "rigs/a-rig.yaml:5:62",
            "`mix` of `echo` is left to the patch `cliff`, "
            "and a choice that is set after the recall reloads it",
            "say what the patch holds, and it is sent by its own message: "
            "`cliff: {at: 17, stores: {mix: ...}}`",
            [
                "lantern.yaml:3:18 the patch is chosen here",
                "definitions/echo.yaml:7:3 `mode` reloads it",
            ],
        )
    ]


@pytest.mark.parametrize(
    ("powers_up", "extra", "why", "help"),
    [
        (
            ", powers-up: off",
            "hands: [fuzz.engage]",
            "the player moves it too",
            "take it out of the player's hands, or leave it to them",
        ),
        (
            "",
            "",
            "it is not said how it stands after power-up",
            "say so in its definition (`powers-up: off`) or at the device (`powers-up: {CONTROL: off}`)",
        ),
        (
            ", powers-up: off",
            "controllers: {feet: {port: rack, channel: 6, sends: {cc: [80]}}}",
            "something that is not the tool's may have moved it",
            "give it a value in every scene, keep controllers and resets off it, or let a patch store it",
        ),
    ],
)
def test_a_switch_that_stands_nobody_knows_where_is_told_where_a_scene_wants_it(
    powers_up: str, extra: str, why: str, help: str
) -> None:
    boost = "  boost: {kind: switch, cc: 79, toggle: {press: 127, release: 0}, powers-up: off}\n"
    fuzz = f"  engage: {{kind: switch, cc: 80, toggle: {{press: 127, release: 0}}{powers_up}}}\n"
    show = rig_show(
        "fuzz: {port: rack, channel: 6, definition: fuzz}",
        {"fuzz": "controls:\n" + boost + fuzz},
        "  verse: {fuzz.engage: on, fuzz.boost: on}\n  chorus: {fuzz.engage: off, fuzz.boost: on}\n",
        extra,
    )
    assert [finding for finding in told(show) if finding[0] != "controller-reaches"] == [
        (
            "toggle-unsure",
            "lantern.yaml:3:11",
            f"`fuzz.engage` can only be flipped, and nobody knows how it stands: {why}",
            help,
            ["definitions/fuzz.yaml:4:3 its definition says that it is flipped"],
        )
    ]


def test_one_device_after_another_is_told() -> None:
    definition = """
programs: {count: 8, first: 1, repeat: nothing}
controls:
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
"""
    devices = """
left: {port: rack, channel: 1, definition: echo, patches: {a: 1}}
gate: {port: rack, channel: 2, definition: gate}
right: {port: rack, channel: 3, definition: echo, patches: {a: 1}}
"""
    scenes = "  verse: {left.patch: a, gate.depth: 1, right.patch: a}\n"
    show = rig_show(devices, {"echo": definition, "gate": GATE}, scenes)
    assert [(d.name, str(d.span)) for d in show.found] == [
        ("left-to-repeat", "rigs/a-rig.yaml:4:62"),
        ("left-to-repeat", "rigs/a-rig.yaml:6:63"),
    ]


def test_nothing_is_left_to_a_patch_that_no_scene_wants() -> None:
    """No scene leaves a control to a patch without wanting one: whoever does all the same hears of it."""
    states = echo("nothing", "  verse: {echo.patch: cliff}\n").states
    assert states is not None
    (run,) = states.runs
    gate, box = run.songs[0][1].states[0].state.devices
    state = State((gate, replace(box, patch=Free.UNDETERMINED)))
    with pytest.raises(TypeError, match=r"^nothing of echo is left to a patch$"):
        pair_troubles(run.rig, [state])


def test_two_names_of_one_program_are_one_patch() -> None:
    definition = """
programs: {count: 8, first: 1, repeat: nothing}
controls:
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
  time: {kind: level, cc: 22, range: [0, 127]}
"""
    show = rig_show(
        "echo: {port: rack, channel: 3, definition: echo, patches: {a: 1, also-a: 1}}",
        {"echo": definition},
        "  verse: {echo: {patch: a, time: 1}}\n  chorus: {echo: {patch: also-a, time: 2}}\n",
    )
    assert [(d.name, str(d.span)) for d in show.found] == [
        ("left-to-repeat", "rigs/a-rig.yaml:4:62"),
        ("patch-twice", "rigs/a-rig.yaml:4:68"),
    ]
