"""System exclusive carries the code in its body."""

from __future__ import annotations

from switchmatrix.definition.carriers import Slot, SysexCarrier
from switchmatrix.midi.messages import SystemExclusive


def messages(carrier: SysexCarrier, code: int, id: int | None) -> tuple[SystemExclusive, ...]:
    """One message; ValueError where the template has the device's id and there is none."""
    sign = (0x2000 if carrier.wide else 0x40) if carrier.signed else 0
    value = code ^ sign
    filled = {Slot.VALUE: value, Slot.VALUE_MSB: value >> 7, Slot.VALUE_LSB: value & 0x7F, Slot.CHECKSUM: 0}
    body: list[int] = []
    for part in carrier.body:
        if part is Slot.ID and id is None:
            raise ValueError("the template has the device's id, and the device has none")
        body.append(part if isinstance(part, int) else filled[part] if part is not Slot.ID else id or 0)
    if carrier.summed is not None:
        first, last = carrier.summed
        body[carrier.body.index(Slot.CHECKSUM)] = checksum(body[first : last + 1])
    return (SystemExclusive(tuple(body)),)


def checksum(summed: list[int]) -> int:
    """The byte that makes the low seven bits of the sum zero (MMA RP-050, section 2.3.2): 0 for 128."""
    return -sum(summed) & 0x7F
