"""The device map of one rig and its vocabulary."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from switchmatrix.definition.definition import Definition
from switchmatrix.midi.numbers import ChannelNumber
from switchmatrix.model.settings import Block, Meaning, Patch, Setting, Target
from switchmatrix.model.song import BoundSong, Change
from switchmatrix.source import Span


@dataclass(frozen=True, slots=True)
class Port:
    """A MIDI output (and input) of the machine; `usb` ports are never the bottleneck."""

    name: str
    out: str
    input: str | None
    usb: bool
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Controller:
    """Someone else who feeds a port: what it can send."""

    name: str
    port: str
    channel: ChannelNumber
    programs: bool
    ccs: tuple[int, ...]
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Device:
    """One unit of the rig. `pickup` is where its signal comes from, if that is said.

    `broken` names the patches whose lines could not be read.
    """

    name: str
    port: str
    channel: ChannelNumber
    definition: Definition
    patches: tuple[Patch, ...]
    pickup: str | None
    broken: frozenset[str]
    span: Span = field(compare=False)

    def patch(self, name: str) -> Patch | None:
        """The patch of that name."""
        return next((p for p in self.patches if p.name == name), None)


@dataclass(frozen=True, slots=True)
class Absent:
    """A device that songs name and this rig has not got."""

    name: str
    definition: Definition
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Instrument:
    """What the player holds: its pickups, and the lines it brings."""

    name: str
    tuning: str | None
    pickups: tuple[str, ...]
    sets: Block
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Words:
    """An entry with words: what each stands for."""

    words: tuple[tuple[str, tuple[Setting, ...]], ...]


@dataclass(frozen=True, slots=True)
class Passed:
    """An entry, or an absent device's name, that is handed on to a control (or a patch)."""

    target: Target


@dataclass(frozen=True, slots=True)
class DoneWithout:
    """Done without, on purpose."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A name of the vocabulary and what it stands for."""

    name: str
    stands_for: Words | Passed | DoneWithout
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a joint table: the values that it fits, and what they bring together."""

    values: tuple[Meaning, ...]
    settings: tuple[Setting, ...]
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Joint:
    """Names of absent devices that share one control here: the first row that fits decides."""

    of: tuple[Target, ...]
    rows: tuple[Row, ...]
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Limit:
    """Bounds that no line goes past, in the unit of the control's scale."""

    least: Fraction | float | None
    most: Fraction | float | None
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Rig:
    """One rig, bound. `translations` says what the names of absent devices become here.

    `triggers` are the controls, of absent devices too, that have no state.
    """

    id: str
    title: str
    ports: tuple[Port, ...]
    controllers: tuple[Controller, ...]
    devices: tuple[Device, ...]
    absents: tuple[Absent, ...]
    instruments: tuple[Instrument, ...]
    entries: tuple[Entry, ...]
    translations: dict[Target, Words | Passed | DoneWithout]
    joints: tuple[Joint, ...]
    triggers: frozenset[Target]
    hands: frozenset[Target]
    home: Block
    limits: dict[Target, Limit]
    standing: BoundSong
    changes: dict[str, tuple[Change, ...]]
    span: Span = field(compare=False)

    def device(self, name: str) -> Device | None:
        """The device of that name."""
        return next((d for d in self.devices if d.name == name), None)

    def port(self, name: str) -> Port:
        """The port of that name; KeyError for a name that no port has."""
        return {p.name: p for p in self.ports}[name]
