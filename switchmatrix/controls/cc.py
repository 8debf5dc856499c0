"""A control change carries the code as its value."""

from __future__ import annotations

from switchmatrix.definition.carriers import CcCarrier
from switchmatrix.midi.messages import ControlChange
from switchmatrix.midi.numbers import WireChannel


def messages(carrier: CcCarrier, channel: WireChannel, code: int) -> tuple[ControlChange, ...]:
    """One message."""
    return (ControlChange(channel, carrier.number, code),)
