"""What a device is made to show: another patch, or a control moved where nobody is hurt by it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from switchmatrix.controls import decode
from switchmatrix.live.line_check.by_eye import look
from switchmatrix.model.rig import Limit, Rig
from switchmatrix.model.settings import Target
from switchmatrix.states.show import Run
from switchmatrix.states.state import DeviceState, PatchIn, Set, State
from tests.live.rigs import run_on, states_of

A_RIG, BENCH = run_on("a-rig"), run_on("bench")
SILENCE = dict(states_of(A_RIG))["standing silence"]


def of(state: State, name: str) -> DeviceState:
    """One device of a state."""
    return next(one for one in state.devices if one.device.name == name)


def shows(name: str, rig: Rig = A_RIG.rig) -> str | None:
    """What a device of the A rig must show, from `silence`."""
    found = look(rig, of(SILENCE, name), decode)
    return None if found is None else found.shows


def test_device_with_patches_is_put_in_another_one() -> None:
    found = look(A_RIG.rig, of(SILENCE, "echo"), decode)
    assert found is not None
    assert isinstance(found.state.patch, PatchIn)
    assert (found.state.patch.patch.name, found.shows) == ("cliff", "its panel must show 17 (cliff)")


def test_device_without_patches_has_its_main_switch_turned() -> None:
    assert shows("gate-1") == "its engage must stand at off, not at on"


def test_switch_that_silence_sets_stays() -> None:
    assert shows("mixer") == "its in-1 must stand at -inf dB, not at 0 dB"


def test_level_stays_within_the_limits_of_the_rig() -> None:
    target = Target("mixer", "in-1")
    shut = {target: Limit(Fraction(0), Fraction(0), A_RIG.rig.span)}
    rig = replace(A_RIG.rig, limits=A_RIG.rig.limits | shut)
    assert not str(shows("mixer", rig)).startswith("its in-1 ")


def test_what_the_player_holds_stays() -> None:
    assert shows("wah") == "its voice must stand at low, not at vocal"


@pytest.mark.parametrize("run", [A_RIG, BENCH], ids=["a-rig", "bench"])
def test_no_look_moves_what_a_mute_holds_or_what_can_only_be_flipped(run: Run) -> None:
    base = dict(states_of(run))["standing silence"]
    held = {target for mute in run.rig.mutes for target, _ in mute.holds}
    assert [target for target in moved(run.rig, base) if target in held or flips(run.rig, target)] == []


def moved(rig: Rig, base: State) -> list[Target]:
    """The controls that any device's look sets otherwise than the state does."""
    found = [(state, look(rig, state, decode)) for state in base.devices]
    return [
        Target(state.device.name, control.name)
        for state, seen in found
        if seen is not None
        for n, control in enumerate(state.device.definition.controls)
        if isinstance(state.controls[n], Set) and state.controls[n] != seen.state.controls[n]
    ]


def flips(rig: Rig, target: Target) -> bool:
    """Whether a control can only be flipped."""
    device = rig.device(target.device)
    control = None if device is None else device.definition.control(target.control)
    return control is not None and control.toggle is not None
