"""Songs: scenes with their places, the tempo and the meter."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from switchmatrix.midi.timecode import Rate
from switchmatrix.model.settings import Block, Target
from switchmatrix.source import Span

STANDING = "standing"
"""The id under which a rig's scenes of no song go."""


@dataclass(frozen=True, slots=True)
class Ref:
    """A name as a line gives it, with its place."""

    name: str
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class BarPlace:
    """A beat of a bar, both from 1; a beat is the meter's lower number."""

    bar: int
    beat: int
    text: str
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class ClockPlace:
    """Seconds after bar 1."""

    seconds: Fraction
    text: str
    span: Span = field(compare=False)


Place = BarPlace | ClockPlace


@dataclass(frozen=True, slots=True)
class TempoMark:
    """From a place on, `bpm` beats of `beat` quarter notes a minute."""

    at: BarPlace
    bpm: Fraction
    beat: Fraction
    span: Span = field(compare=False)

    @property
    def quarter_ms(self) -> Fraction:
        """Milliseconds that a quarter note lasts."""
        return 60000 / (self.bpm * self.beat)


@dataclass(frozen=True, slots=True)
class MeterMark:
    """From a bar on, `beats` notes of 1/`unit` a bar."""

    at: BarPlace
    beats: int
    unit: int
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Budget:
    """The longest that a change may take, in microseconds, and where that is said."""

    us: int
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Scene:
    """A scene's own keys. `tempo` is in quarter notes a minute.

    `on_time` where it is to have landed at its place; None where the scene does not say.
    """

    name: str
    places: tuple[Place, ...]
    likes: tuple[Ref, ...]
    remark: str | None
    instrument: Ref | None
    tempo: Fraction | None
    span: Span = field(compare=False)
    on_time: bool | None = None
    budget: Budget | None = None


@dataclass(frozen=True, slots=True)
class Song:
    """A song as every rig sees it. `order` is None where the file gives none.

    `start` is where bar 1 stands in time code of the `rate`, in seconds.
    """

    id: str
    title: str
    remark: str | None
    instrument: Ref | None
    tempos: tuple[TempoMark, ...]
    meters: tuple[MeterMark, ...]
    order: tuple[Ref, ...] | None
    scenes: tuple[Scene, ...]
    span: Span = field(compare=False)
    on_time: bool | None = None
    budget: Budget | None = None
    tuning: Ref | None = None
    start: Fraction | None = None
    rate: Rate | None = None

    def scene(self, name: str) -> Scene | None:
        """The scene of that name."""
        return next((s for s in self.scenes if s.name == name), None)


@dataclass(frozen=True, slots=True)
class BoundSong:
    """A song on one rig: the lines of its base and of each scene, and what the player moves in it."""

    song: Song
    base: Block
    scenes: dict[str, Block]
    hands: frozenset[Target]


@dataclass(frozen=True, slots=True)
class Change:
    """A rig's or a leg's change to one block of a song: `scene` None is its base.

    `by` says whose change it is, for people. `remark` replaces the scene's, where it is given.
    """

    by: str
    scene: str | None
    lines: Block
    drop: bool
    remark: str | None
    span: Span = field(compare=False)
