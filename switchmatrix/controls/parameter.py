"""A parameter group carries the code: the parameter's number, its data, the null number where asked for."""

from __future__ import annotations

from switchmatrix.definition.carriers import ParameterCarrier
from switchmatrix.midi.messages import ControlChange
from switchmatrix.midi.numbers import WireChannel

DATA_MSB, DATA_LSB = 6, 38
NRPN, RPN = (99, 98), (101, 100)
"""Controllers of the parameter's number, most significant first (MIDI Association, Table 3)."""

NULL = 127


def messages(carrier: ParameterCarrier, channel: WireChannel, code: int) -> tuple[ControlChange, ...]:
    """Number, data, and the null number; the number every time, since others may have set it."""
    upper, lower = RPN if carrier.registered else NRPN
    pairs = [(upper, carrier.msb), (lower, carrier.lsb)]
    if carrier.bits == 7:
        pairs += [(DATA_MSB, code)]
    else:
        pairs += [(DATA_MSB, code >> 7), (DATA_LSB, code & 0x7F)]
    if carrier.close:
        pairs += [(upper, NULL), (lower, NULL)]
    return tuple(ControlChange(channel, controller, value) for controller, value in pairs)
