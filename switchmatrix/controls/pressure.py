"""Channel pressure carries the code."""

from __future__ import annotations

from switchmatrix.midi.messages import ChannelPressure
from switchmatrix.midi.numbers import WireChannel


def messages(channel: WireChannel, code: int) -> tuple[ChannelPressure, ...]:
    """One message."""
    return (ChannelPressure(channel, code),)
