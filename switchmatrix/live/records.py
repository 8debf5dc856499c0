"""What goes to ports and what comes from them, as values; moments are nanoseconds of the monotonic clock."""

from __future__ import annotations

from dataclasses import dataclass

MS = 1_000_000
"""Nanoseconds in a millisecond."""

LATE_NS = MS
"""A message later than this pushes back what was planned to follow it, so that settles keep their length."""

LONGEST_ON_JACK = 16_000
"""JACK drops longer messages without a word: the client's ring holds 16,384 bytes, lengths included."""


@dataclass(frozen=True, slots=True)
class Due:
    """A whole message and the moment before which it must not leave."""

    moment_ns: int
    data: bytes


@dataclass(frozen=True, slots=True)
class Sent:
    """A message that was handed to the MIDI server at `sent_ns`; `number` counts what its port was handed.

    It was late, and has pushed back by `pushed_ns` what its port had been handed with it and after it.
    """

    number: int
    due_ns: int
    sent_ns: int
    data: bytes
    pushed_ns: int = 0


@dataclass(frozen=True, slots=True)
class Heard:
    """Bytes that came in, as the server gave them; nothing says that they are a whole message."""

    moment_ns: int
    data: bytes


@dataclass(frozen=True, slots=True)
class Stopped:
    """A port stopped between two messages: how many went out since it was opened, and what never will."""

    sent: int
    dropped: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Lost:
    """A port is gone: of its messages, in the order sent, which surely went through and which may have.

    The first `certain` went through the server; up to `unknown` may have; nothing past it was sent.
    """

    port: str
    reason: str
    certain: int
    unknown: int

    @property
    def text(self) -> str:
        """The loss in one line."""
        known = f"certain up to message {self.certain}"
        rest = f", unknown to {self.unknown}" if self.unknown > self.certain else ""
        return f"`{self.port}` is lost: {self.reason}; {known}{rest}"


@dataclass(frozen=True, slots=True)
class Refused:
    """Something asked of a port was not done, and why."""

    port: str
    reason: str

    @property
    def text(self) -> str:
        """The refusal in one line."""
        return f"`{self.port}`: {self.reason}"


@dataclass(frozen=True, slots=True)
class Ports:
    """The machine's MIDI inputs and outputs by the names that its MIDI server `api` gives them."""

    api: str
    inputs: tuple[str, ...]
    outputs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NoPorts:
    """The machine's ports cannot be listed, and why."""

    reason: str


@dataclass(frozen=True, slots=True)
class Watch:
    """How closely a port is watched, so that a loss is told within 250 ms.

    A beat goes through the server every `every_ns`; one that is not back after `beat_ns`, or a port
    process that says nothing for `silence_ns`, is a loss.
    """

    every_ns: int = 30 * MS
    beat_ns: int = 120 * MS
    silence_ns: int = 200 * MS
    open_ns: int = 4_000 * MS


WATCH = Watch()
