"""What is never sent, whoever asks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from switchmatrix.compile.known import nothing_known
from switchmatrix.compile.step import Step
from switchmatrix.compile.transition import transition
from switchmatrix.live.never import NeverSentError, guard
from tests.live.rigs import run_on, states_of

RUN = run_on("a-rig")
STEPS = transition(RUN.rig, nothing_known(RUN.rig), states_of(RUN)[0][1])


def test_what_is_compiled_passes() -> None:
    guard(RUN.rig, STEPS)


# MIDI 1.0 Detailed Specification 4.2.1, p. 20: 120 All Sound Off, 121 Reset All Controllers.
@pytest.mark.parametrize("cc", range(120, 128))
def test_channel_mode_message_is_refused(cc: int) -> None:
    with pytest.raises(NeverSentError, match="is a channel mode message"):
        guard(RUN.rig, [replace(STEPS[0], data=bytes([0xB0, cc, 0]))])


def test_message_to_a_hazard_is_refused() -> None:
    fog = replace(RUN.rig.devices[0].definition, hazard="fog")
    device = replace(RUN.rig.devices[0], definition=fog)
    rig = replace(RUN.rig, devices=(device, *RUN.rig.devices[1:]))
    with pytest.raises(NeverSentError, match="selector is a hazard"):
        guard(rig, [to_selector()])


def test_message_that_moves_a_hazardous_control_is_refused() -> None:
    definition = RUN.rig.devices[0].definition
    first = replace(definition.controls[0], hazard="flame")
    device = replace(
        RUN.rig.devices[0], definition=replace(definition, controls=(first, *definition.controls[1:]))
    )
    rig = replace(RUN.rig, devices=(device, *RUN.rig.devices[1:]))
    with pytest.raises(NeverSentError, match=f"selector.{first.name} is a hazard"):
        guard(rig, [replace(to_selector(), moves=frozenset([first.name]))])


def to_selector() -> Step:
    """A message to the selector."""
    return next(step for step in STEPS if step.device == "selector")


# MMA RP-002, section 3: MIDI Show Control is F0 7F, any device, 02.
@pytest.mark.parametrize("device", [0, 1, 127])
def test_show_control_is_refused(device: int) -> None:
    with pytest.raises(NeverSentError, match="MIDI Show Control"):
        guard(RUN.rig, [replace(STEPS[0], data=bytes([0xF0, 0x7F, device, 2, 1, 1, 0xF7]))])
