"""Faults planted in the core: what looks at every night finds each of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from switchmatrix.compile import known as known_module
from switchmatrix.compile.broken import BrokenOff
from switchmatrix.live.stepping import core, devices, faults, moves, reloading, sending, walking
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.inputs import (
    Again,
    Back,
    BringBack,
    Drive,
    Input,
    Jump,
    Next,
    OutputsMuted,
    Reloaded,
    Silence,
    TakeOut,
)
from tests.live.stepping.drawn import Does, cuts, elsewhere, loses, play, returns, takes
from tests.live.stepping.kit import BRIDGE, CHORUS, QUAY, SHOW, Rehearsal, ready, show_of

Plant = Callable[[pytest.MonkeyPatch], None]


def whole(patch: pytest.MonkeyPatch) -> None:
    """In full counts switches as they power up."""
    patch.setattr(sending, "all_in_doubt", known_module.nothing_known)


def back_fires(patch: pytest.MonkeyPatch) -> None:
    """Back fires."""
    go = walking.go
    patch.setattr(walking, "go", lambda turn, key, **how: go(turn, key, **{**how, "fires": True}))


def jump_fires(patch: pytest.MonkeyPatch) -> None:
    """A send passes on the triggers of whatever stop it goes to."""
    bring = sending._bring
    patch.setattr(sending, "_bring", lambda *at, **how: bring(*at, **{**how, "fires": True}))


def no_silence(patch: pytest.MonkeyPatch) -> None:
    """After a fault the scene is sent without silence before it."""
    patch.setattr(sending, "SILENCE", QUAY)


def fault_keeps_the_gate_open(patch: pytest.MonkeyPatch) -> None:
    """A lost port does not shut the gate."""
    patch.setattr(faults, "_closed", lambda turn, now: turn.put(now))


def dropped_counts_as_sent(patch: pytest.MonkeyPatch) -> None:
    """What was dropped is taken for sent."""
    patch.setattr(sending, "broken", lambda _rig, pending, _counts: BrokenOff(pending[-1].after, ()))


def doubt_is_passed_over(patch: pytest.MonkeyPatch) -> None:
    """Someone else's messages change nothing."""
    patch.setattr(devices, "doubted", lambda _device, _doubt, known, index: known.devices[index])


def bank_is_not_doubted(patch: pytest.MonkeyPatch) -> None:
    """Once in a scene, the bank is counted on, whoever chose another."""
    patch.setattr(moves, "_with_bank", lambda after, _before, _move: after)


def what_returns_is_known(patch: pytest.MonkeyPatch) -> None:
    """A device that returns is taken for what it was."""
    patch.setattr(devices, "_unknown", lambda _rig, _index: lambda known: known)
    patch.setattr(moves, "device_unknown", lambda device: _settled(device.name))


def _settled(name: str) -> known_module.DeviceKnown:
    rig = SHOW.rigs["a-rig"]
    index = next(n for n, one in enumerate(rig.rig.devices) if one.name == name)
    return known_module.settled_rig(rig.rig, rig.states[CHORUS]).devices[index]


def out_is_sent(patch: pytest.MonkeyPatch) -> None:
    """A device that is out is sent its messages."""
    patch.setattr("switchmatrix.live.stepping.state.RigNow.absent", lambda _self, _rig: frozenset())


def reload_keeps_all(patch: pytest.MonkeyPatch) -> None:
    """After a reload everything is known as before, devices that were changed too."""
    names = [device.name for device in SHOW.rigs["a-rig"].rig.devices]
    patch.setattr(
        reloading, "_device", lambda _old, _new, device, known: known.devices[names.index(device.name)]
    )


def gates_are_open(patch: pytest.MonkeyPatch) -> None:
    """Every gate is open from the start."""
    found = core._found
    patch.setattr(core, "_found", lambda show, id, resumed: replace(found(show, id, resumed), gate=Gate.OPEN))


def flips_count_as_set(patch: pytest.MonkeyPatch) -> None:
    """A switch that could not be flipped is taken for set."""
    patch.setattr(moves, "_not_reached", lambda *_: frozenset())


RACK, FLOOR = ("a-rig", "rack"), ("a-rig", "floor")
FINISH = Does("finish", Rehearsal.finish)
SPOKEN = takes(OutputsMuted())
OTHER = ready(show_of({"rigs/a-rig.yaml": ("room: 1, cave: 200", "room: 2, cave: 200")}))


def night(*inputs: Input | Does) -> list[Does]:
    """A night that begins with the gate opened and the first scene out."""
    return [SPOKEN, FINISH, *(one if isinstance(one, Does) else takes(one) for one in inputs)]


LOSE = Does("lose", loses(RACK, 0, (0, 99), off=True))
RETURN = Does("back", returns(RACK, off=True))
CUT = Does("silence, nothing more", cuts([0, 0, 0, 0], Silence()))


@pytest.mark.parametrize(
    ("plant", "deeds"),
    [
        (whole, night(Again())),
        (back_fires, night(Jump(QUAY), FINISH, Back(), Back(), Back(), Back(), Back(), Back())),
        (jump_fires, night(Jump(CHORUS))),
        (no_silence, night(LOSE, RETURN, SPOKEN)),
        (fault_keeps_the_gate_open, night(LOSE, Next())),
        (dropped_counts_as_sent, night(Next(), CUT)),
        (doubt_is_passed_over, night(Does("mix", elsewhere(RACK, bytes.fromhex("B0 15 07"))))),
        (
            bank_is_not_doubted,
            night(
                Jump(BRIDGE),
                FINISH,
                Does("bank", elsewhere(RACK, bytes.fromhex("B4 00 07"))),
                Jump(BRIDGE),
                FINISH,
            ),
        ),
        (what_returns_is_known, night(TakeOut("a-rig", "echo"), Next(), BringBack("a-rig", "echo"), FINISH)),
        (out_is_sent, night(TakeOut("a-rig", "echo"), Next())),
        (reload_keeps_all, night(Reloaded(OTHER), FINISH)),
        (gates_are_open, [takes(Drive(("b-rig",))), FINISH]),
        (
            flips_count_as_set,
            night(Does("flip", elsewhere(FLOOR, bytes.fromhex("B1 5A 7F"))), Again(), FINISH),
        ),
    ],
    ids=lambda value: value.__name__ if callable(value) else "",
)
def test_a_planted_fault_is_found(plant: Plant, deeds: list[Does], monkeypatch: pytest.MonkeyPatch) -> None:
    play(Rehearsal(SHOW), deeds)
    plant(monkeypatch)
    with pytest.raises(AssertionError):
        play(Rehearsal(ready(show_of())), deeds)
