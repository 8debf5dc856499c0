"""Controls: a domain (what a person says), a scale (value to code), a carrier (how the code travels)."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from switchmatrix.definition.carriers import Carrier
from switchmatrix.source import Span


@dataclass(frozen=True, slots=True)
class Codes:
    """The codes of one word: `low` to `high` mean it, `sent` is the one that is sent."""

    low: int
    high: int
    sent: int


@dataclass(frozen=True, slots=True)
class Named:
    """Words to codes: a switch (on, off), a choice (its values), a trigger (now)."""

    words: tuple[tuple[str, Codes], ...]


@dataclass(frozen=True, slots=True)
class Linear:
    """Numbers to codes along straight pieces: (code, number) points, ascending codes.

    `unit` is the unit of the numbers (milliseconds and Hz for times); `bottom` is the code that is
    `-inf dB`, where there is one.
    """

    points: tuple[tuple[int, Fraction], ...]
    unit: str
    bottom: int | None = None

    @property
    def width(self) -> Fraction:
        """The width of the range of numbers."""
        numbers = [number for _, number in self.points]
        return max(numbers) - min(numbers)


Scale = Named | Linear


SWITCH, CHOICE, LEVEL, TIME, TRIGGER = "switch", "choice", "level", "time", "trigger"


MAIN = "main"
"""The channel of a device that has one, and of what names no other."""


@dataclass(frozen=True, slots=True)
class Toggle:
    """A switch that can only be flipped: `press` is sent, then `release` where there is one.

    `powers_up` is the position (on: true) after power-up, where it is known. The codes of a toggle
    are positions, 1 on and 0 off.
    """

    press: int
    release: int | None
    powers_up: bool | None


@dataclass(frozen=True, slots=True)
class Control:
    """One thing that can be set.

    stored: a patch recall overwrites it. main: `DEVICE: on` means this one. tolerance: the part of
    the value asked (levels: of the range) that may be missed without a warning. channel: the name of
    the device's channel that it listens on. also: CC numbers that move it too and are never sent.
    resets: controls that setting it reloads. settle_us: microseconds until it has taken effect.
    moved_by_player: it is in the player's hands on every rig. writes: it writes the device's memory.
    """

    name: str
    kind: str
    scale: Scale
    carrier: Carrier
    stored: bool
    main: bool
    tolerance: Fraction
    loop: int | None
    hazard: str | None
    span: Span = field(compare=False)
    channel: str = MAIN
    toggle: Toggle | None = None
    also: tuple[int, ...] = ()
    resets: tuple[str, ...] = ()
    settle_us: int = 0
    moved_by_player: bool = False
    writes: bool = False
