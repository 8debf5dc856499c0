"""The state of a rig: what a scene means, in full."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from switchmatrix.definition.values import Value
from switchmatrix.midi.numbers import Address
from switchmatrix.model.rig import Device
from switchmatrix.model.settings import Patch
from switchmatrix.source import Span


@dataclass(frozen=True, slots=True)
class Origin:
    """The line that gave a value: its place, its layer's title, and its name (`gate: tight`).

    `outright` where a line of the song itself (its base, a scene, a change) named the control.
    """

    span: Span
    layer: str
    name: str
    outright: bool = False


@dataclass(frozen=True, slots=True)
class Set:
    """A code of the scene's own. `asked` is what was asked, `gets` what the device does."""

    code: int
    asked: Value = field(compare=False)
    gets: Value = field(compare=False)
    origin: Origin = field(compare=False)


@dataclass(frozen=True, slots=True)
class AsPatch:
    """As the patch in force stores it; `code`, and what it does, where the rig's file lists it."""

    patch: Patch
    code: int | None
    gets: Value | None = field(compare=False)
    origin: Origin = field(compare=False)


class Free(Enum):
    """Not part of the state."""

    HELD = "in the player's hands"
    UNDETERMINED = "left to chance"
    NEVER_SENT = "never sent"


ControlState = Set | AsPatch | Free


@dataclass(frozen=True, slots=True)
class PatchIn:
    """The patch that the scene wants."""

    patch: Patch
    origin: Origin = field(compare=False)


@dataclass(frozen=True, slots=True)
class StoredIn:
    """As the patch at that address stores it, whatever that is."""

    address: Address


Want = int | StoredIn | None
"""Where a scene wants a control: at a code, as a patch stores it, or nowhere."""


@dataclass(frozen=True, slots=True)
class DeviceState:
    """One device: its patch (None where it has no programs) and its controls in definition order.

    `wants` is what the controls come to on the wire; a control that its patch is said to store at a
    code is wanted at that code. `held` are the controls (by index) in the player's hands, named by the
    scene or not; `patch_held` says the same of the patch.
    """

    device: Device
    patch: PatchIn | Free | None
    controls: tuple[ControlState, ...]
    held: frozenset[int]
    patch_held: bool
    wants: tuple[Want, ...] = field(init=False, compare=False)

    @property
    def main(self) -> Value | None:
        """What the main switch does, where the scene or its patch is said to give it."""
        for control, value in zip(self.device.definition.controls, self.controls, strict=True):
            if control.main and isinstance(value, Set | AsPatch):
                return value.gets
        return None

    def __post_init__(self) -> None:
        object.__setattr__(self, "wants", tuple(_want(control) for control in self.controls))

    @property
    def key(self) -> tuple[object, ...]:
        """What makes two states of the device the same on the wire."""
        patch = self.patch.patch.address if isinstance(self.patch, PatchIn) else self.patch
        return (patch, self.wants, self.held, self.patch_held)


def _want(control: ControlState) -> Want:
    if isinstance(control, Set):
        return control.code
    if isinstance(control, AsPatch):
        return StoredIn(control.patch.address) if control.code is None else control.code
    return None


@dataclass(frozen=True, slots=True)
class State:
    """Every device of the rig, in rig-file order."""

    devices: tuple[DeviceState, ...]

    @property
    def key(self) -> tuple[object, ...]:
        """Equal for states that are the same on the wire."""
        return tuple(d.key for d in self.devices)


@dataclass(frozen=True, slots=True)
class Trigger:
    """A trigger that a scene fires when it is reached."""

    device: Device
    control: str
    code: int
    origin: Origin = field(compare=False)


@dataclass(frozen=True, slots=True)
class Visit:
    """One place in a song's running order where a scene comes.

    `nth` counts the scene's own visits from 1; `tick` is None in a song without places; `place` is
    the text of the place.
    """

    number: int
    scene: str
    nth: int
    tick: int | None
    place: str
    remark: str | None
    instrument: str | None
    state: State
    triggers: tuple[Trigger, ...]


@dataclass(frozen=True, slots=True)
class SceneState:
    """A distinct state of a scene: `position` counts the song's scenes, `nth` is the first visit with it."""

    scene: str
    position: int
    nth: int
    remark: str | None
    instrument: str | None
    state: State

    @property
    def label(self) -> str:
        """`SCENE`, or `SCENE@3` for a state that a later visit brings."""
        return self.scene if self.nth == 1 else f"{self.scene}@{self.nth}"
