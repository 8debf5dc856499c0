"""What is never sent, whoever asks: held to once more before anything reaches a port."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.compile.step import Step
from switchmatrix.model.rig import Rig

FIRST_MODE_CC = 120
"""All Sound Off, Reset All Controllers and the other channel mode messages begin here (MIDI 1.0, p. 20)."""


SHOW_CONTROL = bytes((0xF0, 0x7F, 0x02))
"""System exclusive that begins F0 7F, any device, 02 is MIDI Show Control (MMA RP-002)."""


class NeverSentError(Exception):
    """A message that must not be sent was made: a fault of ours."""


def guard(rig: Rig, steps: Iterable[Step]) -> None:
    """NeverSentError where a message goes to a hazard, or is a channel mode message or show control."""
    for step in steps:
        device = rig.device(step.device)
        if device is None or device.definition.hazard is not None:
            raise NeverSentError(f"{step.device} is a hazard or unknown")
        moved = [c for c in device.definition.controls if c.name in step.moves and c.hazard is not None]
        if moved:
            raise NeverSentError(f"{step.device}.{moved[0].name} is a hazard")
        if step.data[:2] == SHOW_CONTROL[:2] and step.data[3:4] == SHOW_CONTROL[2:]:
            raise NeverSentError(f"{step.device}: MIDI Show Control")
        if step.data[0] >> 4 == 0xB and step.data[1] >= FIRST_MODE_CC:
            raise NeverSentError(f"{step.device}: CC {step.data[1]} is a channel mode message")
