"""One device on its way from what is known of it to its state: what it is sent, and all that this moves."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from switchmatrix.compile.device import Recall, Send, device_transition
from switchmatrix.compile.known import UNKNOWN, DeviceKnown, Known, device_found, settled_rig
from switchmatrix.compile.transition import Steps
from switchmatrix.midi.numbers import Address, WireProgram
from switchmatrix.states.state import PatchIn, State
from tests.compile.rigs import rig_show
from tests.compile.shown import wire
from tests.support import song, visit

DEFINITIONS = {
    "echo": """
programs: {count: 8, first: 1, repeat: toggles engage}
controls:
  engage: {kind: switch, cc: 80}
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, resets: [time]}
  time: {kind: level, cc14: [12, 44], range: [0, 16383]}
  free: {kind: level, cc: 23, range: [0, 127]}
""",
    "gate": """
controls:
  depth: {kind: level, cc: 20, range: [0, 127]}
  hum: {kind: level, cc: 24, range: [0, 127]}
""",
}
DEVICES = """
echo: {port: rack, channel: 3, definition: echo, patches: {a: {at: 2, stores: {mix: 5}}}}
gate: {port: rack, channel: 2, definition: gate}
"""
SCENE = "  verse: {echo: {engage: on, patch: a, mode: tape, time: 300}}\n"


def verse() -> tuple[Known, State]:
    """The state of a scene that leaves one control of each device to chance, and what is known after it."""
    run, states = song(rig_show(DEVICES, DEFINITIONS, SCENE, "home: {gate.depth: 1}"), "lantern")
    state = visit(states, "verse").state
    return settled_rig(run.rig, state), state


def shown(sends: Iterable[Send]) -> list[tuple[int, int, bool, bool, str]]:
    """Each control that is sent: its index, its code, half a pair or whole, bank select, its line."""
    return [(send.index, send.code, send.fine, send.select, send.origin.name) for send in sends]


def test_all_that_a_device_is_sent_from_unknown_and_all_that_it_moves() -> None:
    echo = verse()[1].devices[0]
    assert isinstance(echo.patch, PatchIn)
    move = device_transition(device_found(echo.device), echo)
    assert shown(move.prepare) == [(2, 0, False, False, "echo.mode: tape")]
    assert move.recall == Recall(echo.patch.patch, False, echo.patch.origin)
    assert shown(move.sends) == [
        (0, 127, False, False, "echo.engage: on"),
        (1, 5, False, False, "stored in a"),
        (3, 300, False, False, "echo.time: 300"),
    ]
    assert (move.after, move.moved, move.troubles) == (
        (UNKNOWN, UNKNOWN, 0, UNKNOWN, UNKNOWN),
        frozenset({0, 1, 2, 3}),
        (),
    )


def test_half_a_pair_is_sent_where_the_rest_stands_and_nothing_else_moves() -> None:
    known, state = verse()
    before = DeviceKnown(known.devices[0].patch, None, (127, 5, 0, 301, UNKNOWN))
    move = device_transition(before, state.devices[0])
    assert (move.prepare, move.recall, move.after, move.moved, move.troubles) == (
        (),
        None,
        (127, 5, 0, 301, UNKNOWN),
        frozenset({3}),
        (),
    )
    assert shown(move.sends) == [(3, 300, True, False, "echo.time: 300")]


def test_what_nothing_determines_is_unknown_after_the_scene_and_all_else_known() -> None:
    assert verse()[0] == Known(
        (
            DeviceKnown(Address(None, WireProgram(1)), None, (127, 5, 0, 300, UNKNOWN)),
            DeviceKnown(UNKNOWN, None, (1, UNKNOWN)),
        )
    )


def test_a_state_has_no_message_for_what_it_has_not_got() -> None:
    """No transition asks for one: whoever does hears of it."""
    echo, gate = verse()[1].devices
    assert isinstance(echo.patch, PatchIn)
    with pytest.raises(TypeError, match=r"^gate has no programs to recall$"):
        Steps().recall(gate, Recall(echo.patch.patch, False, echo.patch.origin))
    with pytest.raises(TypeError, match=r"^gate\.hum has nothing to send$"):
        Steps().sends(gate, [Send(1, 0, False, False, echo.patch.origin)])


# A controller may have flipped it: only the patch brings it back, and from there it is flipped surely.
@pytest.mark.parametrize(
    ("chorus", "sent"),
    [
        ("echo.patch: a", ["echo C2 00"]),
        ("echo: {patch: a, engage: off}", ["echo C2 00", "echo B2 50 7F", "echo B2 50 00"]),
    ],
)
def test_a_switch_that_stands_nobody_knows_where_is_brought_back_by_the_patch_that_lists_it(
    chorus: str, sent: list[str]
) -> None:
    definition = """
programs: {count: 8, first: 1, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, stored: yes, toggle: {press: 127, release: 0}}
"""
    show = rig_show(
        "echo: {port: rack, channel: 3, definition: echo, patches: {a: {at: 1, stores: {engage: on}}}}",
        {"echo": definition},
        f"  verse: {{echo.patch: a}}\n  chorus: {{{chorus}}}\n",
        "controllers: {feet: {port: rack, channel: 3, sends: {cc: [80]}}}",
    )
    assert wire(show, "chorus", after="verse") == sent


# Some boxes keep a bank for each channel and some have one for all (common practice): where the choice on
# channel 6 selects another bank, nobody knows which one channel 5 is in then.
@pytest.mark.parametrize(
    ("bank", "sent"),
    [
        (1, ["C4 01", "B5 00 00", "C5 05", "C4 07", "B0 15 01"]),
        (2, ["B4 00 00", "C4 01", "B5 00 01", "C5 05", "B4 00 00", "C4 07", "B0 15 01"]),
    ],
)
def test_a_bank_is_selected_again_where_another_channel_has_chosen_another(
    bank: int, sent: list[str]
) -> None:
    definition = f"""
programs: {{count: 8, first: 1, bank: cc0, bank-when: change, repeat: recalls, channel: calls}}
controls:
  line: {{kind: choice, program: yes, bank: {bank}, values: {{a: 4, b: 5}}, channel: loops, resets: [mix],
    stored: yes}}
  room: {{kind: choice, program: yes, bank: 1, values: {{a: 6, b: 7}}, channel: calls}}
  mix: {{kind: level, cc: 21, range: [0, 127], stored: yes}}
"""
    show = rig_show(
        "hall: {port: rack, channels: {main: 1, calls: 5, loops: 6}, definition: hall, "
        "patches: {a: {at: 1, stores: {mix: 1}}, b: {at: 2, stores: {mix: 1}}}}",
        {"hall": definition},
        "  verse: {hall: {patch: a, line: a, room: a}}\n  chorus: {hall: {patch: b, line: b, room: b}}\n",
    )
    assert wire(show, "chorus", after="verse") == [f"hall {message}" for message in sent]


# Bank after bank, each channel for itself, first the one that is chosen; where there is no bank, as defined.
@pytest.mark.parametrize(
    ("bank", "of", "sent"),
    [
        ("", ("", "", ""), ["C4 05", "C5 05", "B0 15 01", "C4 07"]),
        (
            "bank: cc0, bank-when: change, ",
            ("bank: 1, ", "bank: 1, ", "bank: 1, "),
            ["B4 00 00", "C4 05", "C4 07", "B0 15 01", "B5 00 00", "C5 05"],
        ),
        (
            "bank: cc0, bank-when: change, ",
            ("bank: 1, ", "bank: 2, ", "bank: 1, "),
            ["B4 00 00", "C4 05", "C4 07", "B0 15 01", "B5 00 01", "C5 05"],
        ),
    ],
)
def test_controls_that_travel_as_programs_take_turns_bank_after_bank_on_each_channel(
    bank: str, of: tuple[str, str, str], sent: list[str]
) -> None:
    definition = f"""
programs: {{count: 8, first: 1, {bank}repeat: recalls}}
controls:
  one: {{kind: choice, program: yes, {of[0]}values: {{a: 4, b: 5}}, channel: left}}
  two: {{kind: choice, program: yes, {of[1]}values: {{a: 4, b: 5}}, channel: right}}
  mix: {{kind: level, cc: 21, range: [0, 127]}}
  room: {{kind: choice, program: yes, {of[2]}values: {{a: 6, b: 7}}, channel: left}}
"""
    show = rig_show(
        "hall: {port: rack, channels: {main: 1, left: 5, right: 6}, definition: hall}",
        {"hall": definition},
        "  verse: {hall: {one: b, two: b, mix: 1, room: b}}\n",
    )
    assert wire(show, "verse") == [f"hall {message}" for message in sent]


def test_a_control_that_is_not_sent_takes_no_turn() -> None:
    definition = """
programs: {count: 8, first: 1, bank: cc0, bank-when: change, repeat: recalls}
controls:
  one: {kind: choice, program: yes, bank: 2, values: {a: 0, b: 1}}
  two: {kind: choice, program: yes, bank: 1, values: {a: 2, b: 3}}
  room: {kind: choice, program: yes, bank: 2, values: {a: 4, b: 5}}
"""
    show = rig_show(
        "hall: {port: rack, channel: 1, definition: hall}",
        {"hall": definition},
        "  verse: {hall: {two: a, room: a}}\n",
    )
    assert wire(show, "verse") == ["hall B0 00 00", "hall C0 02", "hall B0 00 01", "hall C0 04"]
