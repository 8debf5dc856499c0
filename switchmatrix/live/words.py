"""What the program and its port processes say to each other."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.live.records import Heard, Watch


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
    """The port is open on the server `api`; `beats` says whether a loss of the server can be noticed."""

    api: str
    beats: bool


@dataclass(frozen=True, slots=True)
class NotOpened:
    """The port could not be opened, and why."""

    reason: str


@dataclass(frozen=True, slots=True)
class Hand:
    """Messages to send, as (number, due, bytes): a batch or a part of one."""

    batch: int
    messages: tuple[tuple[int, int, bytes], ...]
    ahead: bool


@dataclass(frozen=True, slots=True)
class Stop:
    """Send nothing more of what was handed."""


@dataclass(frozen=True, slots=True)
class Close:
    """Close the port and end."""


@dataclass(frozen=True, slots=True)
class Went:
    """Messages sent, as (number, moment), and how many since the opening surely went through the server."""

    sent: tuple[tuple[int, int], ...]
    certain: int
    missed: int = 0


@dataclass(frozen=True, slots=True)
class Came:
    """What came in; nothing is a sign of life."""

    heard: tuple[Heard, ...]
    missed: int = 0


@dataclass(frozen=True, slots=True)
class Gone:
    """The server or the port no longer answers."""

    reason: str
