"""What can happen to a rehearsal: a person's keys and feet, time code, the ports, the files on disk."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.live.stepping.prepared import Prepared
from switchmatrix.live.stepping.stops import Key


@dataclass(frozen=True, slots=True)
class Next:
    """On to the following stop: its triggers fire."""


@dataclass(frozen=True, slots=True)
class Back:
    """To the stop before; nothing fires."""


@dataclass(frozen=True, slots=True)
class Jump:
    """To any stop, only what differs being sent; to where we are, it is what has changed since."""

    key: Key


@dataclass(frozen=True, slots=True)
class JumpToScene:
    """To the scene of that number of the song we are in: its next visit from here on, else its first."""

    number: int


@dataclass(frozen=True, slots=True)
class Reached:
    """Running time has reached a stop: its triggers fire."""

    key: Key


@dataclass(frozen=True, slots=True)
class Located:
    """Running time was found at a place where that stop is in force; nothing fires."""

    key: Key


@dataclass(frozen=True, slots=True)
class Again:
    """The whole scene, with nothing taken for known."""


@dataclass(frozen=True, slots=True)
class Silence:
    """The standing scene `silence`, ahead of all that waits, which is dropped."""


@dataclass(frozen=True, slots=True)
class Home:
    """The rig's home state, once a person has said yes."""


@dataclass(frozen=True, slots=True)
class HomeYes:
    """A person says yes to going home."""


@dataclass(frozen=True, slots=True)
class OutputsMuted:
    """A person says that outputs are muted and people told."""


@dataclass(frozen=True, slots=True)
class No:
    """A person says no to what was asked."""


@dataclass(frozen=True, slots=True)
class Fire:
    """The triggers of where we are, asked for."""


@dataclass(frozen=True, slots=True)
class Peek:
    """Look at a stop further on (or back, where `by` is negative) than the one looked at."""

    by: int


@dataclass(frozen=True, slots=True)
class LeavePeek:
    """Look at where we are again."""


@dataclass(frozen=True, slots=True)
class Pin:
    """Keep a remark about where we are (or look) for later."""

    text: str


@dataclass(frozen=True, slots=True)
class TakeOut:
    """Send a device nothing from now on."""

    rig: str
    device: str


@dataclass(frozen=True, slots=True)
class BringBack:
    """A device that was taken out is there again: it is sent all of its state."""

    rig: str
    device: str


@dataclass(frozen=True, slots=True)
class Drive:
    """The rigs that are sent to from now on: one, or several together."""

    rigs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SetByHand:
    """A person says that the switches that were named stand as was said."""


@dataclass(frozen=True, slots=True)
class Reloaded:
    """The show's files have changed, and the show is sound; it has the same leg and rigs."""

    show: Prepared


@dataclass(frozen=True, slots=True)
class ReloadRefused:
    """The show's files have changed, and the show has errors."""

    found: tuple[Diagnostic, ...]


@dataclass(frozen=True, slots=True)
class Done:
    """All messages of a send have gone out for certain."""

    rig: str
    send: int


@dataclass(frozen=True, slots=True)
class Late:
    """A message of a send, planned for `due_us`, left late: what follows it on the port has come later.

    What had been handed to the port by then goes later by `by_us`, and so does all that it sets going.
    """

    rig: str
    port: str
    send: int
    due_us: int
    by_us: int


@dataclass(frozen=True, slots=True)
class Count:
    """Of a send's messages on one port, in order: so many went out for certain, so many may have."""

    send: int
    port: str
    certain: int
    unknown: int


@dataclass(frozen=True, slots=True)
class SendFailed:
    """A port would not take a send, or broke it off; what `counts` leaves out may have gone out or not."""

    rig: str
    port: str
    reason: str
    counts: tuple[Count, ...] = ()


@dataclass(frozen=True, slots=True)
class PortLost:
    """A port of a rig is gone."""

    rig: str
    port: str
    reason: str
    counts: tuple[Count, ...] = ()


@dataclass(frozen=True, slots=True)
class PortBack:
    """A port of a rig is open again."""

    rig: str
    port: str


@dataclass(frozen=True, slots=True)
class Doubt:
    """Someone else was heard changing a device: the controls that may have moved, by name.

    `patch` and `bank` where those may have changed.
    """

    rig: str
    device: str
    controls: frozenset[str]
    patch: bool
    bank: bool


@dataclass(frozen=True, slots=True)
class Quit:
    """Leave."""


Input = (
    Next
    | Back
    | Jump
    | JumpToScene
    | Reached
    | Located
    | Again
    | Silence
    | Home
    | HomeYes
    | OutputsMuted
    | No
    | Fire
    | Peek
    | LeavePeek
    | Pin
    | TakeOut
    | BringBack
    | Drive
    | SetByHand
    | Reloaded
    | ReloadRefused
    | Done
    | Late
    | SendFailed
    | PortLost
    | PortBack
    | Doubt
    | Quit
)
