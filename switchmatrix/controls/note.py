"""A note carries the code as its velocity."""

from __future__ import annotations

from switchmatrix.definition.carriers import NoteCarrier
from switchmatrix.midi.messages import NoteOff, NoteOn
from switchmatrix.midi.numbers import WireChannel

RELEASE_VELOCITY = 64
"""What a key without release velocity sends (MIDI 1.0 Detailed Specification 4.2.1, p. 10; from memory)."""


def messages(carrier: NoteCarrier, channel: WireChannel, code: int) -> tuple[NoteOn | NoteOff, ...]:
    """The key is struck, and let go at once where the definition says so; code 0 lets it go."""
    if code == 0:
        return (NoteOff(channel, carrier.number, RELEASE_VELOCITY),)
    struck = NoteOn(channel, carrier.number, code)
    return (struck, NoteOff(channel, carrier.number, RELEASE_VELOCITY)) if carrier.release else (struck,)
