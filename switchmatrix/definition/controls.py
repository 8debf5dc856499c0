"""Controls: a domain (what a person says), a scale (value to code), a carrier (code to messages)."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

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


@dataclass(frozen=True, slots=True)
class CcCarrier:
    """The code is the value of control change `number`."""

    number: int


@dataclass(frozen=True, slots=True)
class ProgramCarrier:
    """The code is the program of a program change."""


Carrier = CcCarrier | ProgramCarrier

SWITCH, CHOICE, LEVEL, TIME, TRIGGER = "switch", "choice", "level", "time", "trigger"


@dataclass(frozen=True, slots=True)
class Control:
    """One thing that can be set.

    stored: a patch recall overwrites it. main: `DEVICE: on` means this one. tolerance: the part of
    the value asked (levels: of the range) that may be missed without a warning.
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
