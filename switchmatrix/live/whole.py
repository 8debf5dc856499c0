"""Whether bytes are one whole MIDI message: nothing else is handed to a port."""

from __future__ import annotations

DATA_BYTES = {0x8: 2, 0x9: 2, 0xA: 2, 0xB: 2, 0xC: 1, 0xD: 1, 0xE: 2}
"""Data bytes by the status byte's high nibble (MIDI 1.0 Detailed Specification 4.2.1, Table I, p. T-1)."""

SYSTEM_BYTES = {0xF1: 1, 0xF2: 2, 0xF3: 1, 0xF6: 0, 0xF8: 0, 0xFA: 0, 0xFB: 0, 0xFC: 0, 0xFF: 0}
"""Data bytes of the system messages that may be sent (the same, Table I).

F4, F5, F9 and FD are undefined. FE arms a time-out in whoever hears it: it is never sent.
"""

START, END = 0xF0, 0xF7


def fault(data: bytes) -> str | None:
    """What keeps `data` from being one whole message that may be sent, or None."""
    if not data:
        return "an empty message"
    if data[0] == START:
        return _exclusive_fault(data)
    if data[0] < 0x80:
        return "no status byte"
    length = SYSTEM_BYTES.get(data[0]) if data[0] >= START else DATA_BYTES[data[0] >> 4]
    if length is None:
        return f"status byte {data[0]:02X} is never sent"
    if len(data) != 1 + length:
        return f"status byte {data[0]:02X} takes {length} data bytes, not {len(data) - 1}"
    return _data_fault(data[1:])


def _exclusive_fault(data: bytes) -> str | None:
    if len(data) < 2 or data[-1] != END:
        return "system exclusive without its end"
    return _data_fault(data[1:-1])


def _data_fault(data: bytes) -> str | None:
    high = next((byte for byte in data if byte > 0x7F), None)
    return None if high is None else f"{high:02X} among the data bytes"


def messages(data: bytes) -> tuple[bytes, ...]:
    """The whole messages in what came in as one, in order; what is cut short or of no meaning is left out.

    A server may hand on a system exclusive without end together with all that came after it.
    """
    found: list[bytes] = []
    begun = bytearray()
    for byte in data:
        if byte >= 0xF8:
            found += [bytes([byte])] if byte in SYSTEM_BYTES else []
        elif byte == END and begun[:1] == bytes([START]):
            found.append(bytes(begun) + bytes([END]))
            begun.clear()
        elif byte > 0x7F:
            begun = bytearray([byte])
        elif begun:
            begun.append(byte)
        if begun and begun[0] != START and fault(bytes(begun)) is None:
            found.append(bytes(begun))
            begun.clear()
    return tuple(found)
