"""Time on the wire."""

from __future__ import annotations

from switchmatrix.midi.wire import DIN_BYTE_US, USB_BYTE_US, wire_time_us


def test_usb_port_is_never_the_bottleneck() -> None:
    assert wire_time_us(1000, USB_BYTE_US) == 0


# 31,250 baud and ten bits a byte (MIDI 1.0 Detailed Specification 4.2.1, p. 1): 3125 bytes a second.
def test_din_port_carries_3125_bytes_a_second() -> None:
    assert wire_time_us(3125, DIN_BYTE_US) == 1_000_000
