"""The device map of one rig and its vocabulary."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction

from switchmatrix.definition.definition import Definition
from switchmatrix.midi.numbers import ChannelNumber
from switchmatrix.model.settings import Block, Coded, Meaning, Patch, Setting, Target
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
    notes: tuple[int, ...] = ()
    bend: bool = False
    pressure: bool = False


class Tread(Enum):
    """The kind of message that a pedal sends; the value is its key in a rig's file."""

    CC = "cc"
    NOTE = "note"
    PROGRAM = "program"


class PedalStep(Enum):
    """What a pedal does in a rehearsal; the value is its key in a rig's file."""

    NEXT = "next"
    BACK = "back"
    AGAIN = "again"
    HOME = "home"


@dataclass(frozen=True, slots=True)
class Pedal:
    """A message that a floor controller sends, and what it does: a step, or a scene of the song by number.

    `number` is that of the controller or the key, or the program as the wire carries it. It is down from
    the value (of a CC) or the velocity `least` on. `releases` where it says when it is let go.
    """

    does: PedalStep | int
    port: str
    channel: ChannelNumber
    kind: Tread
    number: int
    least: int
    releases: bool
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Feet:
    """What the player steps on. A pedal's presses lie `rest_us` microseconds apart or more."""

    pedals: tuple[Pedal, ...]
    rest_us: int
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Device:
    """One unit of the rig, or a gang. `pickup` is where its signal comes from, if that is said.

    `broken` names the patches whose lines could not be read. `channel` is the main one, `channels` all
    by name. `id` is its system exclusive device id. `gang` boxes move together. An `omni` device hears
    all channels of its port. `powers_up` is where its toggles (by index) stand after power-up. `thru_of` is
    the device whose thru feeds it, where it is not fed by the port itself.
    """

    name: str
    port: str
    channel: ChannelNumber
    definition: Definition
    patches: tuple[Patch, ...]
    pickup: str | None
    broken: frozenset[str]
    span: Span = field(compare=False)
    channels: tuple[tuple[str, ChannelNumber], ...] = ()
    id: int | None = None
    gang: int = 1
    omni: bool = False
    powers_up: tuple[tuple[int, bool], ...] = ()
    thru_of: str | None = None

    def channel_of(self, name: str) -> ChannelNumber:
        """The channel that a name of the definition stands for."""
        return dict(self.channels).get(name, self.channel)

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
    """What the player holds: its pickups, and the lines it brings.

    `retune` is how many songs must lie between two tunings of it.
    """

    name: str
    tuning: str | None
    pickups: tuple[str, ...]
    sets: Block
    span: Span = field(compare=False)
    retune: int = 0


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
class Mute:
    """While any of `covers` moves, each held control stands at its code.

    `before` and `after` are in microseconds: how long it holds before the first of them is sent, and
    after the last has settled.
    """

    covers: tuple[Target, ...]
    holds: tuple[tuple[Target, Coded], ...]
    before_us: int
    after_us: int
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
    mutes: tuple[Mute, ...] = ()
    feet: Feet | None = None

    def device(self, name: str) -> Device | None:
        """The device of that name."""
        return next((d for d in self.devices if d.name == name), None)

    def port(self, name: str) -> Port:
        """The port of that name; KeyError for a name that no port has."""
        return {p.name: p for p in self.ports}[name]
