"""The bytes of a Standard MIDI File 1.0 (MMA RP-001, revised February 1996)."""

from __future__ import annotations

from collections.abc import Iterable

MOST_DELTA = 0x0FFFFFFF
"""The largest number that four bytes of variable length hold (RP-001 p. 2)."""

DEFAULT_QUARTER_US = 500_000
"""120 quarter notes a minute, where a file says nothing (RP-001 p. 3)."""

SYSEX = 0xF0

TEXT, TRACK_NAME, MARKER, DEVICE_NAME, END, TEMPO, METER = 0x01, 0x03, 0x06, 0x09, 0x2F, 0x51, 0x58


def variable_length(number: int) -> bytes:
    """Seven bits a byte, most significant first, all but the last with bit 7 set (RP-001 p. 2)."""
    if not 0 <= number <= MOST_DELTA:
        raise ValueError(f"{number} does not fit four bytes of variable length")
    out = [number & 0x7F]
    while number := number >> 7:
        out.append(0x80 | number & 0x7F)
    return bytes(reversed(out))


def meta(kind: int, data: bytes) -> bytes:
    """A meta event (RP-001 p. 8)."""
    return bytes([0xFF, kind]) + variable_length(len(data)) + data


def event(message: bytes) -> bytes:
    """A message as an event: system exclusive with the length of what follows F0 (RP-001 p. 6)."""
    if message[0] == SYSEX:
        return message[:1] + variable_length(len(message) - 1) + message[1:]
    return message


def tempo(quarter_us: int) -> bytes:
    """Microseconds a quarter note, in 24 bits (RP-001 p. 9); OverflowError past them."""
    return meta(TEMPO, quarter_us.to_bytes(3, "big"))


def meter(beats: int, unit: int) -> bytes:
    """A time signature, 24 clocks and eight 32nds a quarter (RP-001 p. 10).

    The click falls on the beat: on three eighths in a compound meter.
    """
    compound = unit >= 8 and beats % 3 == 0 and beats > 3
    click = 96 // unit * (3 if compound else 1)
    return meta(METER, bytes([beats, unit.bit_length() - 1, click, 8]))


def track(events: Iterable[tuple[int, bytes]]) -> bytes:
    """A track chunk of (tick, event bytes) in tick order; every event carries its status byte."""
    body = bytearray()
    now = 0
    for tick, data in events:
        body += variable_length(tick - now) + data
        now = tick
    body += variable_length(0) + meta(END, b"")
    return b"MTrk" + len(body).to_bytes(4, "big") + bytes(body)


def file(tracks: list[bytes], ticks_per_quarter: int, format: int) -> bytes:
    """A whole file; format 0 holds exactly one track (RP-001 p. 3-4)."""
    if format == 0 and len(tracks) != 1:
        raise ValueError("a format 0 file has one track")
    words = (format, len(tracks), ticks_per_quarter)
    header = b"".join(word.to_bytes(2, "big") for word in words)
    return b"MThd" + len(header).to_bytes(4, "big") + header + b"".join(tracks)
