"""Where a device stands: its patch, its controls, what it remembers of messages that come in parts."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from switchmatrix.midi.numbers import Address


class Unknown(Enum):
    """Nobody knows; it is equal to no code and no patch."""

    UNKNOWN = "unknown"


UNKNOWN = Unknown.UNKNOWN


class Halves(Enum):
    """What a box makes of the lower half when the upper half of a 14-bit number comes.

    The standard says zero (MIDI 1.0 Detailed Specification 4.2.1, p. 12); that others keep what they
    had is common practice.
    """

    ZEROED = "zeroed"
    KEPT = "kept"


@dataclass(frozen=True, slots=True)
class AsStored:
    """As the patch at that place stores it, whatever that is."""

    place: Address


@dataclass(frozen=True, slots=True)
class Reloaded:
    """As it comes when the control of that name is set, which resets it."""

    by: str


@dataclass(frozen=True, slots=True)
class Moved:
    """Somewhere, moved by a control change that carries no code of it."""

    cc: int


@dataclass(frozen=True, slots=True)
class Half:
    """One half of a 14-bit code; the other is None, since nobody knows it."""

    upper: int | None
    lower: int | None


Standing = int | AsStored | Reloaded | Moved | Half | Unknown
"""Where a control stands: at a code (a toggle: 1 on, 0 off), or at what only its history says."""


@dataclass(frozen=True, slots=True)
class DeviceNow:
    """One device at one moment.

    `patch` is where it is, None for a device without programs. `controls` stand in definition order,
    triggers at UNKNOWN for good. `registers` are those of `simulate/registers.py`; `pending` the upper
    halves of 14-bit toggles and triggers. `edited` has bit n set where control n was moved since the
    last recall. `fired` lists the triggers that went off, by index, with their code; None where that,
    or whether it went off at all, is not known.
    """

    patch: Address | Unknown | None
    controls: tuple[Standing, ...]
    registers: tuple[int, ...]
    pending: tuple[int, ...]
    edited: int
    fired: tuple[tuple[int, int | None], ...]
