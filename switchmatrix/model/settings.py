"""What a line of a block stands for, on one rig."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from switchmatrix.definition.values import NoteValue, Value
from switchmatrix.midi.numbers import Address
from switchmatrix.source import Span

PATCH = "patch"
"""The control name that means a device's patch."""


class Target(NamedTuple):
    """A control of a device (or of an absent one), or its patch."""

    device: str
    control: str

    def __str__(self) -> str:
        return f"{self.device}.{self.control}"


@dataclass(frozen=True, slots=True)
class Patch:
    """A sound stored in a device: what the panel shows, where it lies on the wire, what it is said to hold.

    `panel` is a label such as `17` or `C3`.
    """

    name: str
    panel: str
    address: Address
    stores: tuple[tuple[str, Stored], ...]
    span: Span = field(compare=False)

    def stored(self, control: str) -> Stored | None:
        """What the patch is said to store for the control."""
        return next((value for name, value in self.stores if name == control), None)


@dataclass(frozen=True, slots=True)
class Stored:
    """A value that a patch is said to store: `asked` as the file says it, `gets` as the device has it."""

    code: int
    asked: Value = field(compare=False)
    gets: Value = field(compare=False)
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Coded:
    """A value with its code: `asked` is what the person said, `gets` what the device does."""

    code: int
    asked: Value = field(compare=False)
    gets: Value = field(compare=False)


@dataclass(frozen=True, slots=True)
class AtTempo:
    """A note value: its code depends on the tempo."""

    note: NoteValue


@dataclass(frozen=True, slots=True)
class Chosen:
    """A patch of a device of the rig."""

    patch: Patch


@dataclass(frozen=True, slots=True)
class Said:
    """A value for a control of an absent device, or the name of its patch: to be translated."""

    value: Value


@dataclass(frozen=True, slots=True)
class AsStored:
    """As the patch has it."""


@dataclass(frozen=True, slots=True)
class AtHome:
    """As the rig's home has it."""


@dataclass(frozen=True, slots=True)
class Left:
    """In the player's hands: the scene does not touch it."""


@dataclass(frozen=True, slots=True)
class Fired:
    """A trigger goes off."""

    code: int


Meaning = Coded | AtTempo | Chosen | Said | AsStored | AtHome | Left | Fired


@dataclass(frozen=True, slots=True)
class Setting:
    """One control takes one meaning; `span` is the place that says so (in a word: in the rig's file)."""

    target: Target
    meaning: Meaning
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Line:
    """One single name with its value: what it stands for on this rig.

    `entry` is true where the name is a vocabulary entry, so that its settings are a word's.
    """

    name: str
    settings: tuple[Setting, ...]
    entry: bool
    text: str = field(compare=False)
    span: Span = field(compare=False)


Block = tuple[Line, ...]
