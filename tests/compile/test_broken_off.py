"""A send that was broken off: what is still known, and what a mute may have left held."""

from __future__ import annotations

import pytest

from switchmatrix.compile.broken import BrokenOff, broken_off
from switchmatrix.compile.known import UNKNOWN, Known, nothing_known, settled_rig
from switchmatrix.compile.schedule import schedule
from switchmatrix.compile.step import Step
from switchmatrix.compile.transition import transition
from switchmatrix.midi.numbers import Address, WireBank, WireProgram
from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import Target
from switchmatrix.pipeline import Judged
from switchmatrix.states.state import StoredIn
from tests.compile.rigs import rig_show
from tests.support import song, visit

DEFINITIONS = {
    "echo-box": """
programs: {count: 400, first: 1, bank: both, bank-when: change, repeat: recalls}
controls:
  mix: {kind: level, cc14: [12, 44], range: [0, 16383], stored: yes}
  time: {kind: level, cc: 22, range: [0, 127], stored: yes}
  engage: {kind: switch, cc: 80}
  freeze: {kind: switch, program: yes, bank: 3, codes: {on: 1, off: 2}}
  depth: {kind: level, nrpn: [1, 8], data: 7, range: [0, 127]}
""",
    "mixer-box": """
controls:
  mute-all: {kind: switch, cc: 90}
  fader: {kind: level, cc: 91, range: [0, 127]}
""",
}
DEVICES = """
echo: {port: rack, channel: 3, definition: echo-box, patches: {a: {at: 1, stores: {mix: 300}}, b: 130}}
mixer: {port: rack, channel: 2, definition: mixer-box}
"""
HOME = """
home:
  echo: {patch: a, engage: on, freeze: off, depth: 1}
  mixer: {mute-all: off, fader: 100}
"""


def show_of(scenes: str, mutes: str = "") -> Judged:
    """An echo with banks and a mixer."""
    return rig_show(DEVICES, DEFINITIONS, scenes, HOME + mutes)


def between(show: Judged, after: str | None, label: str) -> tuple[Rig, Known, tuple[Step, ...]]:
    """The rig, what is known of it after a scene (or as it is found), and the messages in the order sent."""
    run, states = song(show, "lantern")
    known = nothing_known(run.rig) if after is None else settled_rig(run.rig, visit(states, after).state)
    sent = transition(run.rig, known, visit(states, label).state)
    return run.rig, known, tuple(m.step for m in schedule(run.rig, sent).messages)


def broken(show: Judged, after: str | None, label: str, surely: int, perhaps: int | None = None) -> BrokenOff:
    """The transition, broken off after that many messages."""
    rig, known, steps = between(show, after, label)
    return broken_off(rig, known, steps, surely, surely if perhaps is None else perhaps)


def messages(show: Judged, after: str | None, label: str) -> list[str]:
    """The messages of a transition in the order sent."""
    return [f"{s.device} {s.data.hex(' ').upper()}" for s in between(show, after, label)[2]]


A, B = Address(WireBank(0), WireProgram(0)), Address(WireBank(1), WireProgram(1))
NEXT = """
  verse: {}
  chorus: {echo: {engage: off, mix: 500}}
  coda: {echo.patch: b}
  bridge: {echo.freeze: on}
  outro: {echo.depth: 2}
"""


def test_of_a_send_that_never_began_all_is_known_as_before() -> None:
    show = show_of(NEXT)
    _, known, _ = between(show, "verse", "chorus")
    assert broken(show, "verse", "chorus", 0) == BrokenOff(known, ())


def test_what_was_sent_is_unknown_and_what_was_not_is_known_as_before() -> None:
    show = show_of(NEXT)
    assert messages(show, "verse", "chorus") == ["echo B2 0C 03", "echo B2 2C 74", "echo B2 50 00"]
    after = broken(show, "verse", "chorus", 2).known.devices[0]
    assert after.controls == (UNKNOWN, StoredIn(A), 127, 2, 1)
    assert after.patch == A


def test_half_a_pair_leaves_it_unknown() -> None:
    assert broken(show_of(NEXT), "verse", "chorus", 1).known.devices[0].controls[0] is UNKNOWN


def test_a_message_that_may_have_gone_out_leaves_what_it_moves_unknown() -> None:
    after = broken(show_of(NEXT), "verse", "chorus", 0, 3).known.devices[0]
    assert after.controls == (UNKNOWN, StoredIn(A), UNKNOWN, 2, 1)


@pytest.mark.parametrize("count", [1, 2, 3])
def test_part_of_a_recall_leaves_patch_bank_and_all_that_is_stored_unknown(count: int) -> None:
    show = show_of(NEXT)
    assert messages(show, "verse", "coda") == ["echo B2 00 00", "echo B2 20 01", "echo C2 01"]
    after = broken(show, "verse", "coda", count).known.devices[0]
    assert (after.patch, after.bank) == (UNKNOWN, UNKNOWN)
    assert after.controls == (UNKNOWN, UNKNOWN, 127, 2, 1)


@pytest.mark.parametrize("count", [1, 2, 3])
def test_part_of_a_control_that_travels_as_a_program_leaves_the_bank_unknown_and_the_patch_known(
    count: int,
) -> None:
    show = show_of(NEXT)
    assert messages(show, "verse", "bridge") == ["echo B2 00 00", "echo B2 20 02", "echo C2 01"]
    after = broken(show, "verse", "bridge", count).known.devices[0]
    assert (after.patch, after.bank, after.controls[3]) == (A, UNKNOWN, UNKNOWN)


def test_part_of_a_parameter_group_leaves_its_control_unknown() -> None:
    show = show_of(NEXT)
    assert messages(show, "verse", "outro") == ["echo B2 63 01", "echo B2 62 08", "echo B2 06 02"]
    assert broken(show, "verse", "outro", 1).known.devices[0].controls[4] is UNKNOWN


def test_what_the_next_transition_sends_after_a_break_is_what_may_be_wrong_and_no_more() -> None:
    show = show_of(NEXT)
    rig, _, _ = between(show, "verse", "chorus")
    after = broken(show, "verse", "chorus", 2)
    _, states = song(show, "lantern")
    sent = transition(rig, after.known, visit(states, "verse").state)
    assert [s.data.hex(" ").upper() for s in sent] == ["B2 0C 02", "B2 2C 2C"]


def test_after_a_broken_recall_the_next_transition_calls_the_patch_with_its_bank() -> None:
    show = show_of(NEXT)
    rig, _, _ = between(show, "verse", "coda")
    _, states = song(show, "lantern")
    sent = transition(rig, broken(show, "verse", "coda", 1).known, visit(states, "verse").state)
    assert [s.data.hex(" ").upper() for s in sent] == ["B2 00 00", "B2 20 00", "C2 00"]


def test_other_devices_are_known_as_before() -> None:
    show = show_of("  verse: {}\n  chorus: {echo.engage: off, mixer.fader: 5}\n")
    assert messages(show, "verse", "chorus") == ["echo B2 50 00", "mixer B1 5B 05"]
    assert broken(show, "verse", "chorus", 1).known.devices[1].controls == (0, 100)


MUTE = "mutes: [{while: [echo.engage], hold: {mixer.mute-all: on}}]"
MUTED = "  verse: {}\n  chorus: {echo.engage: off}\n  silence: {echo.engage: off, mixer.mute-all: on}\n"
HELD = Target("mixer", "mute-all")


@pytest.mark.parametrize(
    ("surely", "perhaps", "muted"),
    [
        (0, 0, ()),
        (0, 1, (HELD,)),
        (1, 1, (HELD,)),
        (2, 2, (HELD,)),
        (2, 3, (HELD,)),
        (3, 3, ()),
    ],
)
def test_a_break_inside_a_mute_leaves_the_rig_muted(
    surely: int, perhaps: int, muted: tuple[Target, ...]
) -> None:
    show = show_of(MUTED, MUTE)
    assert messages(show, "verse", "chorus") == ["mixer B1 5A 7F", "echo B2 50 00", "mixer B1 5A 00"]
    assert broken(show, "verse", "chorus", surely, perhaps).muted == muted


@pytest.mark.parametrize(("surely", "muted"), [(0, (HELD,)), (1, (HELD,)), (2, ())])
def test_a_rig_that_was_muted_before_is_left_so_until_the_mute_is_let_go(
    surely: int, muted: tuple[Target, ...]
) -> None:
    show = show_of(MUTED, MUTE)
    assert messages(show, "silence", "verse") == ["echo B2 50 7F", "mixer B1 5A 00"]
    assert broken(show, "silence", "verse", surely).muted == muted


def test_a_held_control_is_unknown_after_a_break() -> None:
    assert broken(show_of(MUTED, MUTE), "verse", "chorus", 1).known.devices[1].controls == (UNKNOWN, 100)


def test_a_held_control_that_was_not_reached_is_known_as_before() -> None:
    assert broken(show_of(MUTED, MUTE), "silence", "verse", 1).known.devices[1].controls == (127, 100)


def test_a_mute_of_two_controls_is_let_go_one_by_one() -> None:
    mute = "mutes: [{while: [echo.engage], hold: {mixer.mute-all: on, mixer.fader: 0}}]"
    show = show_of(MUTED, mute)
    assert messages(show, "verse", "chorus") == [
        *("mixer B1 5A 7F", "mixer B1 5B 00"),
        "echo B2 50 00",
        *("mixer B1 5A 00", "mixer B1 5B 64"),
    ]
    fader = Target("mixer", "fader")
    counts = range(6)
    assert [broken(show, "verse", "chorus", n).muted for n in counts] == [
        (),
        (HELD,),
        (HELD, fader),
        (HELD, fader),
        (fader,),
        (),
    ]


def test_a_control_that_two_mutes_hold_is_let_go_once() -> None:
    mutes = (
        "mutes: [{while: [echo.engage], hold: {mixer.mute-all: on}}, "
        "{while: [echo.depth], hold: {mixer.mute-all: on}}]"
    )
    show = show_of("  verse: {}\n  chorus: {echo: {engage: off, depth: 2}}\n", mutes)
    total = len(messages(show, "verse", "chorus"))
    assert total == 6
    assert [broken(show, "verse", "chorus", n).muted for n in range(total + 1)] == [
        *((), (HELD,), (HELD,), (HELD,), (HELD,), (HELD,)),
        (),
    ]


def test_a_mute_of_a_pair_is_let_go_with_its_last_message() -> None:
    definitions = {
        **DEFINITIONS,
        "mixer-box": DEFINITIONS["mixer-box"].replace(
            "cc: 91, range: [0, 127]", "cc14: [7, 39], range: [0, 16383]"
        ),
    }
    mute = "mutes: [{while: [echo.engage], hold: {mixer.fader: 0}}]"
    show = rig_show(DEVICES, definitions, MUTED, HOME.replace("fader: 100", "fader: 300") + mute)
    assert messages(show, "verse", "chorus") == [
        *("mixer B1 07 00", "mixer B1 27 00"),
        "echo B2 50 00",
        *("mixer B1 07 02", "mixer B1 27 2C"),
    ]
    fader = Target("mixer", "fader")
    assert [broken(show, "verse", "chorus", n).muted for n in (1, 4, 5)] == [(fader,), (fader,), ()]


STORING = {
    **DEFINITIONS,
    "mixer-box": """
programs: {count: 8, first: 1, repeat: recalls}
controls:
  mute-all: {kind: switch, cc: 90, stored: yes}
  fader: {kind: level, cc: 91, range: [0, 127]}
""",
}


def test_a_recall_that_brings_the_mute_holds_it_once_it_has_gone_out() -> None:
    patches = "{dry: {at: 1, stores: {mute-all: on}}, wet: {at: 2, stores: {mute-all: on}}}"
    devices = DEVICES.replace("definition: mixer-box", f"definition: mixer-box, patches: {patches}")
    scenes = (
        "  verse: {mixer: {patch: dry, mute-all: off}}\n"
        "  chorus: {echo.engage: off, mixer: {patch: wet, mute-all: off}}\n"
    )
    home = HOME.replace("mute-all: off, ", "")
    show = rig_show(devices, STORING, scenes, home + MUTE)
    assert messages(show, "verse", "chorus") == ["mixer C1 01", "echo B2 50 00", "mixer B1 5A 00"]
    assert [broken(show, "verse", "chorus", n).muted for n in range(4)] == [(), (HELD,), (HELD,), ()]


RESET = {
    "echo-box": """
controls:
  third: {kind: level, cc: 23, range: [0, 127]}
  second: {kind: choice, cc: 31, values: {x: 0, y: 1}, resets: [third]}
  first: {kind: choice, cc: 30, values: {a: 0, b: 1}, resets: [second]}
  last: {kind: level, cc: 24, range: [0, 127]}
"""
}


def test_what_a_choice_reloads_down_a_chain_is_unknown_after_a_break() -> None:
    scenes = """
  verse: {echo: {first: a, second: x, third: 1, last: 2}}
  chorus: {echo: {first: b, second: x, third: 1, last: 2}}
"""
    show = rig_show("echo: {port: rack, channel: 3, definition: echo-box}", RESET, scenes)
    assert broken(show, "verse", "chorus", 1).known.devices[0].controls == (UNKNOWN, UNKNOWN, UNKNOWN, 2)
