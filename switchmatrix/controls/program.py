"""A program change carries the code as its program."""

from __future__ import annotations

from switchmatrix.definition.controls import ProgramCarrier
from switchmatrix.midi.messages import ProgramChange
from switchmatrix.midi.numbers import WireChannel

MOST = 127


def messages(carrier: ProgramCarrier, channel: WireChannel, code: int) -> tuple[ProgramChange, ...]:  # noqa: ARG001
    """One message."""
    return (ProgramChange(channel, code),)
