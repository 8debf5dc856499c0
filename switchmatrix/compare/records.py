"""What a comparison finds: values, ready to be printed."""

from __future__ import annotations

from dataclasses import dataclass, field

from switchmatrix.source import Span


@dataclass(frozen=True, slots=True)
class Names:
    """What a thing was called and is called now; None on a side that has not got it."""

    was: str | None
    now: str | None

    @property
    def name(self) -> str:
        """What it is called now; what it was called, where it is gone."""
        return self.now if self.now is not None else self.was or ""


@dataclass(frozen=True, slots=True)
class Told:
    """A value in words, and the place that says it.

    `asked` is what the file asks where the device holds something else; `stored_in` is the patch that
    stores it. Two are equal where the device does the same.
    """

    text: str
    place: Span | None = field(compare=False)
    asked: str | None = field(default=None, compare=False)
    stored_in: str | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is different: None on a side that has not got it."""

    what: str
    was: Told | None
    now: Told | None


@dataclass(frozen=True, slots=True)
class VisitAt:
    """A place of a running order: its scene, which of the scene's visits it is, and its place's text."""

    scene: str
    nth: int
    place: str


@dataclass(frozen=True, slots=True)
class SceneChange:
    """What is different in a scene on one rig, at the visits named (from 1).

    A visit that OLD has not got is held against the scene's first. Where the scene is new, its controls
    are all that it is; where it is gone, there are none. `every` where these are all its visits.
    """

    scene: Names
    visits: tuple[int, ...]
    every: bool
    fields: tuple[Change, ...]
    controls: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Running:
    """A song's running order on one rig, before and now."""

    was: tuple[VisitAt, ...]
    now: tuple[VisitAt, ...]


@dataclass(frozen=True, slots=True)
class SongOnRig:
    """What is different in a song on one rig; `running` None where its visits are as they were."""

    song: Names
    running: Running | None
    scenes: tuple[SceneChange, ...]


@dataclass(frozen=True, slots=True)
class RigOnLeg:
    """What the songs of a leg mean differently on one rig."""

    rig: Names
    songs: tuple[SongOnRig, ...]


@dataclass(frozen=True, slots=True)
class SongFields:
    """What is different in a song wherever it is played: title, tempo, meter and the like."""

    song: Names
    fields: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Item:
    """A line of a setlist: a song, or a standing scene."""

    name: str
    standing: bool
    remark: str | None


@dataclass(frozen=True, slots=True)
class Move:
    """A line of the setlist: where it stood and stands, from 1; None on a side that has not got it."""

    item: Names
    standing: bool
    was: int | None
    now: int | None


@dataclass(frozen=True, slots=True)
class SetlistDiff:
    """A setlist before and now, and the least moves, drops and additions that lead from one to the other."""

    was: tuple[Item, ...]
    now: tuple[Item, ...]
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class LegDiff:
    """What is different in a leg.

    `order` are the ids of its songs now, standing scenes first; `played` the rigs that both sides have.
    """

    leg: Names
    order: tuple[str, ...]
    played: tuple[Names, ...]
    setlist: SetlistDiff | None
    songs: tuple[SongFields, ...]
    rigs: tuple[RigOnLeg, ...]


@dataclass(frozen=True, slots=True)
class Touch:
    """A scene that a change of the rig touches."""

    leg: str
    song: str
    scene: str


@dataclass(frozen=True, slots=True)
class RigChange:
    """One change of a rig: `what` of `of` (a device, a definition, an entry, ...), in its `part`.

    `panel` where a tech must do something at the rack. `touches` are the scenes whose messages it
    alters when it alone is taken.
    """

    what: str
    of: Names
    part: Names
    was: Told | None
    now: Told | None
    panel: bool
    touches: tuple[Touch, ...]


@dataclass(frozen=True, slots=True)
class RigDiff:
    """What is different in a rig; `scenes` counts those of each leg and song that OLD has on it."""

    rig: Names
    scenes: tuple[tuple[str, str, int], ...]
    changes: tuple[RigChange, ...]


@dataclass(frozen=True, slots=True)
class Sent:
    """A message on the wire, and what it means."""

    port: str
    device: str
    meaning: str
    bytes_hex: str


@dataclass(frozen=True, slots=True)
class WireDiff:
    """The messages of one visit (0: from unknown) that go, come, or are there with another value.

    All three are empty where the same messages are sent in another order.
    """

    leg: Names
    rig: Names
    song: Names
    scene: str
    visit: int
    goes: tuple[Sent, ...]
    comes: tuple[Sent, ...]
    changes: tuple[tuple[Sent, Sent], ...]


@dataclass(frozen=True, slots=True)
class Diff:
    """Everything that differs; `wire` is empty where messages were not asked for."""

    show: tuple[Change, ...]
    rigs: tuple[RigDiff, ...]
    legs: tuple[LegDiff, ...]
    wire: tuple[WireDiff, ...]

    @property
    def different(self) -> bool:
        """Whether anything differs."""
        return bool(self.show or self.rigs or self.legs or self.wire)


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do at the rack: `do` it to `what`, a patch by its `number` on the panel, in `detail`.

    `was` is how it stood before, where that is known; `scenes` how many it touches (None: not counted).
    """

    do: str
    what: str
    number: str
    detail: str
    was: str | None = None
    scenes: int | None = None


@dataclass(frozen=True, slots=True)
class RackDevice:
    """A device with what is to be done to it."""

    name: str
    model: str
    port: str
    out: str
    channel: str
    id: str
    gang: int
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True)
class RackList:
    """What is to be done at one rig, device by device."""

    rig: str
    title: str
    devices: tuple[RackDevice, ...]


@dataclass(frozen=True, slots=True)
class Loss:
    """What a rig cannot do of a line, and why."""

    line: str
    why: str
    place: Span | None


@dataclass(frozen=True, slots=True)
class Becomes:
    """What a line comes to, on each of the rigs in turn."""

    line: str
    on: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SceneParity:
    """A scene on each rig: what its lines come to, and what each rig cannot do."""

    song: str
    scene: str
    lines: tuple[Becomes, ...]
    lost: tuple[tuple[Loss, ...], ...]


@dataclass(frozen=True, slots=True)
class Parity:
    """A leg on several rigs, the first being the one that the others are held against."""

    leg: str
    rigs: tuple[str, ...]
    scenes: tuple[SceneParity, ...]

    @property
    def lossless(self) -> bool:
        """Whether every rig can do everything."""
        return not any(lost for scene in self.scenes for lost in scene.lost)
