"""Time on the wire."""

from __future__ import annotations

DIN_BYTE_US = 320
"""One byte at 31,250 baud: start, eight data and stop bits (MIDI 1.0 Detailed Specification 4.2.1, p. 1)."""

USB_BYTE_US = 0
"""A USB port is never the bottleneck: its bytes count as taking no time."""


def wire_time_us(byte_count: int, byte_us: int) -> int:
    """Microseconds that `byte_count` bytes take on a wire of `byte_us` microseconds a byte."""
    return byte_count * byte_us
