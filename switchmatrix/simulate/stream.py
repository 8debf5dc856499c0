"""One MIDI wire, byte by byte, to what is heard on it.

Pages are those of the MIDI 1.0 Detailed Specification 4.2.1.
"""

from __future__ import annotations

from dataclasses import dataclass

NOTE_OFF, NOTE_ON, KEY_PRESSURE, CONTROL_CHANGE, PROGRAM_CHANGE, CHANNEL_PRESSURE, PITCH_BEND = range(8, 15)
"""High nibbles of the status bytes (Table I, p. T-1)."""

DATA_BYTES = {
    NOTE_OFF: 2,
    NOTE_ON: 2,
    KEY_PRESSURE: 2,
    CONTROL_CHANGE: 2,
    PROGRAM_CHANGE: 1,
    CHANNEL_PRESSURE: 1,
    PITCH_BEND: 2,
}
"""How many data bytes follow each status (Table II, p. T-2)."""

COMMON_DATA_BYTES = {0xF1: 1, 0xF2: 2, 0xF3: 1, 0xF6: 0}
"""The same of system common; F4 and F5 are undefined (Table V)."""

REAL_TIME = frozenset((0xF8, 0xFA, 0xFB, 0xFC, 0xFE, 0xFF))
"""System real time; F9 and FD are undefined (Table VI)."""

SYSTEM_RESET = 0xFF

_EXCLUSIVE, _END_OF_EXCLUSIVE, _FIRST_REAL_TIME, _FIRST_SYSTEM, _FIRST_STATUS = 0xF0, 0xF7, 0xF8, 0xF0, 0x80


@dataclass(frozen=True, slots=True)
class Voice:
    """A channel message: the status byte's high nibble, the channel 0-15, one or two data bytes."""

    nibble: int
    channel: int
    data: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Exclusive:
    """System exclusive: the bytes after F0. `closed` where F7 ended it, and not another status."""

    body: tuple[int, ...]
    closed: bool


@dataclass(frozen=True, slots=True)
class Common:
    """A system common message: its status byte and its data."""

    status: int
    data: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class RealTime:
    """A system real time byte."""

    status: int


Event = Voice | Exclusive | Common | RealTime


class Reader:
    """The receiving end of one wire: bytes in pieces of any size, whole messages out.

    Running status is kept until a status from F0 to F7, the undefined ones too (p. 5, A-1 to A-3).
    Real time stands anywhere and disturbs nothing. Any status but real time ends system exclusive
    (p. T-8): it is heard, and is not `closed` unless by F7. What stays silent: undefined statuses,
    data without a status, and a message that another status breaks off.
    """

    __slots__ = ("_body", "_held", "_need", "_status")

    def __init__(self) -> None:
        self._status = 0
        """The status that data bytes belong to; 0 for none."""
        self._need = 0
        self._held: list[int] = []
        self._body: list[int] | None = None
        """System exclusive so far, where one is open."""

    def feed(self, data: bytes) -> tuple[Event, ...]:
        """What is heard with these bytes; an unfinished message waits for the next ones."""
        out: list[Event] = []
        for byte in data:
            if byte < _FIRST_STATUS:
                self._data(byte, out)
            elif byte < _FIRST_REAL_TIME:
                self._new_status(byte, out)
            elif byte in REAL_TIME:
                out.append(RealTime(byte))
        return tuple(out)

    def _data(self, byte: int, out: list[Event]) -> None:
        if self._body is not None:
            self._body.append(byte)
            return
        if self._status == 0:
            return
        self._held.append(byte)
        if len(self._held) < self._need:
            return
        held, self._held = tuple(self._held), []
        if self._status < _FIRST_SYSTEM:
            out.append(Voice(self._status >> 4, self._status & 0x0F, held))
        else:
            out.append(Common(self._status, held))
            self._status = 0

    def _new_status(self, byte: int, out: list[Event]) -> None:
        if self._body is not None:
            out.append(Exclusive(tuple(self._body), byte == _END_OF_EXCLUSIVE))
            self._body = None
        self._held.clear()
        self._status = self._need = 0
        if byte < _FIRST_SYSTEM:
            self._status, self._need = byte, DATA_BYTES[byte >> 4]
        elif byte == _EXCLUSIVE:
            self._body = []
        elif COMMON_DATA_BYTES.get(byte):
            self._status, self._need = byte, COMMON_DATA_BYTES[byte]
        elif byte in COMMON_DATA_BYTES:
            out.append(Common(byte, ()))


def heard(data: bytes) -> tuple[Event, ...]:
    """What a receiver hears that has just been plugged in."""
    return Reader().feed(data)
