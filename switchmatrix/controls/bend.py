"""Pitch bend carries the code."""

from __future__ import annotations

from switchmatrix.midi.messages import PitchBend
from switchmatrix.midi.numbers import WireChannel


def messages(channel: WireChannel, code: int) -> tuple[PitchBend, ...]:
    """One message."""
    return (PitchBend(channel, code),)
