"""What is counted as known after a scene and should not be is found, whatever the messages are."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from switchmatrix.compile import heard, known
from switchmatrix.compile.known import DeviceKnown, Reach, settled
from switchmatrix.definition.controls import Control
from switchmatrix.model.rig import Controller, Device
from switchmatrix.proof import goal, reach, run
from switchmatrix.states.state import DeviceState
from tests.proof.shown import SHOW, failed, run_of

BOX = """\
definition: box
programs: {count: 300, first: 0, bank: cc0, bank-when: change, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, resets: [time]}
  time: {kind: level, cc14: [12, 44], range: [0, 16383]}
  depth: {kind: level, nrpn: [1, 8], data: 7, range: [0, 127]}
  wave: {kind: choice, note: 60, values: {calm: 1, high: 100}}
  bend: {kind: level, pitch-bend: yes, range: [0, 16383]}
  press: {kind: level, channel-pressure: yes, range: [0, 127]}
  tone: {kind: level, cc: 40, also-cc: [41], range: [0, 127]}
  boost: {kind: switch, cc: 90, toggle: {press: 127, release: none}, powers-up: off}
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
  relay: {kind: choice, program: yes, bank: 1, values: {left: 90, right: 91}}
"""
RIG = """\
rig: A rig
ports: {{rack: {{out: rack, speed: din}}}}
controllers: {{floor: {{port: rack, channel: 1, sends: {{{sends}}}}}}}
devices:
  box: {{port: rack, channel: 1, definition: box, patches: {{slap: {{at: 4, stores: {{mix: 9}}}}}}}}
hands: [{hands}]
home:
  box: {{patch: slap, engage: on, mode: tape, time: 5, depth: 1, wave: calm, bend: 8, press: 2, tone: 3}}
  box.relay: left
"""
COUNTED = "what it stands at is counted on afterwards, and"
FLOOR = "the controller floor can move it"


def files(sends: str = "", hands: str = "", chorus: str = "box.engage: off") -> dict[str, str]:
    """A box over most carriers, with a controller on its channel and what the player holds."""
    return {
        "show.yaml": SHOW,
        "definitions/box.yaml": BOX.replace("  boost:", "  # boost:"),
        "rigs/a-rig.yaml": RIG.format(sends=sends, hands=hands),
        "lantern.yaml": f"song: Lantern\nscenes: {{verse: {{}}, chorus: {{{chorus}}}}}\n",
    }


def missing(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """Let the compiler overlook that a controller moves the control of that name."""
    right = heard.can_move

    def overlooks(controller: Controller, device: Device, control: Control) -> bool:
        return control.name != name and right(controller, device, control)

    monkeypatch.setattr(known, "can_move", overlooks)


@pytest.mark.parametrize(
    ("sends", "moved"),
    [
        ("cc: [80]", "engage"),
        ("cc: [30]", "mode time"),
        ("cc: [12]", "time"),
        ("cc: [44]", "time"),
        ("cc: [6]", "depth"),
        ("cc: [38, 6]", "depth"),
        ("cc: [96]", "depth"),
        ("cc: [97]", "depth"),
        ("notes: [60]", "wave"),
        ("pitch-bend: yes", "bend"),
        ("channel-pressure: yes", "press"),
        ("cc: [40]", "tone"),
        ("cc: [41]", "tone"),
        ("cc: [21]", "mix"),
        ("programs: yes", "relay"),
    ],
)
def test_a_controller_that_is_overlooked_is_found(
    monkeypatch: pytest.MonkeyPatch, sends: str, moved: str
) -> None:
    show, names = run_of(files(sends)), moved.split()
    assert failed(show) == []
    missing(monkeypatch, names[0])
    assert failed(show) == [f"after lantern verse: box.{one}; {COUNTED} {FLOOR}" for one in names]


def trusting(monkeypatch: pytest.MonkeyPatch, wrong: Callable[[DeviceState, Reach], DeviceKnown]) -> None:
    """Let the compiler count on something else after a scene."""
    for room in (goal, reach, run):
        monkeypatch.setattr(room, "settled", wrong)


def test_a_controller_that_changes_the_bank_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    relayless = BOX.replace("  relay:", "  # relay:").replace("  boost:", "  # boost:")
    rig = RIG.format(sends="cc: [0]", hands="").replace("  box.relay: left\n", "")
    show = run_of(files() | {"definitions/box.yaml": relayless, "rigs/a-rig.yaml": rig})
    assert failed(show) == []

    def counts_on_bank(state: DeviceState, reached: Reach) -> DeviceKnown:
        return settled(state, replace(reached, bank=False))

    trusting(monkeypatch, counts_on_bank)
    assert failed(show) == [f"after lantern verse: box.bank; {COUNTED} {FLOOR}"]


def test_a_controller_that_calls_programs_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    show = run_of(files("programs: yes"))

    def counts_on_patch(state: DeviceState, reached: Reach) -> DeviceKnown:
        return settled(state, replace(reached, patch=False))

    trusting(monkeypatch, counts_on_patch)
    assert failed(show) == [f"after lantern verse: box.patch; {COUNTED} {FLOOR}"]


def trusts_hands(state: DeviceState, reached: Reach) -> DeviceKnown:
    """Counts on what the player holds, where the scene names it."""
    return settled(replace(state, held=frozenset(), patch_held=False), reached)


@pytest.mark.parametrize(
    ("hands", "chorus", "names"),
    [
        ("box.engage", "box.engage: off", ["engage"]),
        ("box.mode", "box: {mode: clean, time: 9}", ["mode", "time"]),
        ("box.mix", "box.mix: 4", ["mix"]),
        ("box.patch", "box.patch: slap", ["bank", "mix", "patch"]),
    ],
)
def test_trusting_what_the_player_holds_is_found(
    monkeypatch: pytest.MonkeyPatch, hands: str, chorus: str, names: list[str]
) -> None:
    show = run_of(files(hands=hands, chorus=chorus))
    assert failed(show) == []
    trusting(monkeypatch, trusts_hands)
    assert sorted({one.partition(";")[0].rpartition("box.")[2] for one in failed(show)}) == names
    assert {one.partition("; ")[2] for one in failed(show)} == {f"{COUNTED} the player moves it"}


def test_counting_on_what_the_scene_does_not_say_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    show = run_of(files(chorus="box.engage: off"))

    def always_off(state: DeviceState, reached: Reach) -> DeviceKnown:
        right = settled(state, reached)
        return replace(right, controls=(0, *right.controls[1:]))

    trusting(monkeypatch, always_off)
    assert failed(show) == [
        f"after lantern verse: box.engage; {COUNTED} the scene does not say it",
    ]


def test_counting_on_how_a_box_is_found_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    show = run_of(files())
    right = known.device_found

    def found_on(device: Device) -> DeviceKnown:
        return replace(right(device), controls=(127, *right(device).controls[1:]))

    for room in (goal, reach):
        monkeypatch.setattr(room, "device_found", found_on)
    assert failed(show) == [
        "from unknown to the first scene: box.engage; what it stands at is counted on, and nothing says how "
        "it is found"
    ]
