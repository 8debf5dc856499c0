"""System exclusive to a control's code."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.definition.carriers import Slot, SysexCarrier

EVERY_DEVICE = 127
"""The device id that all answer to (MIDI 1.0 Detailed Specification 4.2.1, p. 35)."""


@dataclass(frozen=True, slots=True)
class Template:
    """A message that control `index` understands: `places` are the template's slots by position.

    `plain` is the code of a message that has no place for one.
    """

    index: int
    carrier: SysexCarrier
    places: dict[Slot, int]
    id: int | None
    plain: int

    def code(self, body: tuple[int, ...]) -> int | None:
        """The code that the body carries; None for another message, or a checksum that is wrong."""
        return self._value(body) if self._fits(body) and self._sums_up(body) else None

    def _fits(self, body: tuple[int, ...]) -> bool:
        parts = self.carrier.body
        if len(body) != len(parts):
            return False
        if Slot.ID in self.places and (
            self.id is None or body[self.places[Slot.ID]] not in (self.id, EVERY_DEVICE)
        ):
            return False
        return all(isinstance(part, Slot) or part == byte for part, byte in zip(parts, body, strict=True))

    def _sums_up(self, body: tuple[int, ...]) -> bool:
        """Summed bytes and checksum together end in seven zero bits (MMA RP-050, section 2.3.2)."""
        if self.carrier.summed is None or Slot.CHECKSUM not in self.places:
            return True
        first, last = self.carrier.summed
        total = body[self.places[Slot.CHECKSUM]]
        for byte in body[first : last + 1]:
            total += byte
        return total % 128 == 0

    def _value(self, body: tuple[int, ...]) -> int:
        if Slot.VALUE in self.places:
            value, span = body[self.places[Slot.VALUE]], 128
        elif Slot.VALUE_MSB in self.places:
            value, span = body[self.places[Slot.VALUE_MSB]] * 128 + body[self.places[Slot.VALUE_LSB]], 16384
        else:
            return self.plain
        if not self.carrier.signed:
            return value
        # Two's complement counts up from the middle code and wraps to the lowest.
        return (value if value < span // 2 else value - span) + span // 2


def template(index: int, carrier: SysexCarrier, id: int | None, plain: int) -> Template:
    """The template of a control of a device whose id is `id`."""
    places = {part: n for n, part in enumerate(carrier.body) if isinstance(part, Slot)}
    return Template(index, carrier, places, id, plain)
