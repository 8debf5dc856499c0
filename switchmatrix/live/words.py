"""What the program and its port processes say to each other."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.live.records import Heard, Watch

NO_BEATS = "this machine has no virtual ports"
"""Why there can be no beats, and a lost server is not noticed."""


@dataclass(frozen=True, slots=True)
class Open:
    """First word to a port process: which port, on which MIDI server.

    `name` is the machine's own name of the port; of a virtual port, the name it gets.
    """

    api: str
    name: str
    virtual: bool
    watch: Watch


@dataclass(frozen=True, slots=True)
class Opened:
    """The port is open on the server `api`."""

    api: str


@dataclass(frozen=True, slots=True)
class NotOpened:
    """The port could not be opened, and why."""

    reason: str


@dataclass(frozen=True, slots=True)
class Hand:
    """Messages to send, as (number, due, bytes): a batch or a part of one.

    Whoever planned them knew how late the first `knows` messages were that the port has sent; None where
    they depend on nothing that was handed before.
    """

    batch: int
    messages: tuple[tuple[int, int, bytes], ...]
    ahead: bool
    knows: int | None


@dataclass(frozen=True, slots=True)
class Stop:
    """Send nothing more of what was handed."""


@dataclass(frozen=True, slots=True)
class Close:
    """Close the port and end."""


@dataclass(frozen=True, slots=True)
class Went:
    """Messages sent, as (number, moment before the call, moment after it, by how much it has pushed back
    what was handed with it and after it); none is a sign of life.
    """

    sent: tuple[tuple[int, int, int, int], ...]


@dataclass(frozen=True, slots=True)
class Came:
    """What came in; nothing is a sign of life."""

    heard: tuple[Heard, ...]


@dataclass(frozen=True, slots=True)
class Beaten:
    """The beat of `back_ns` is back; what left before `proved_ns` is through; so many were missed."""

    back_ns: int
    proved_ns: int
    missed: int


@dataclass(frozen=True, slots=True)
class Gone:
    """The server or the port no longer answers."""

    reason: str
