"""How a device's programs are called."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from switchmatrix.midi.numbers import PanelNumber
from switchmatrix.source import Span


class Repeat(Enum):
    """What the box does when it gets the program that it is already in."""

    NOTHING = "nothing"
    RECALLS = "recalls"
    TOGGLES = "toggles"


@dataclass(frozen=True, slots=True)
class Programs:
    """`count` programs, the panel calling the first one `first`; a recall takes `settle_us`.

    `toggled` names the control that a repeated program flips, where `repeat` is TOGGLES.
    """

    count: int
    first: PanelNumber
    settle_us: int
    repeat: Repeat
    toggled: str | None
    span: Span = field(compare=False)
