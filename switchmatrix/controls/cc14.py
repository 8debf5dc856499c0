"""Two control changes carry the code: the upper seven bits, then the lower ones."""

from __future__ import annotations

from switchmatrix.definition.carriers import Cc14Carrier
from switchmatrix.midi.messages import ControlChange
from switchmatrix.midi.numbers import WireChannel


def messages(
    carrier: Cc14Carrier, channel: WireChannel, code: int, was: int | None
) -> tuple[ControlChange, ...]:
    """MSB, then LSB; the LSB alone where the MSB is known to stand already.

    An LSB of 0 is sent as well: by the standard an MSB zeroes it, but not every box does so
    (MIDI 1.0 Detailed Specification 4.2.1, p. 12).
    """
    upper, lower = (
        ControlChange(channel, carrier.msb, code >> 7),
        ControlChange(channel, carrier.lsb, code & 0x7F),
    )
    return (lower,) if was is not None and was >> 7 == code >> 7 else (upper, lower)
