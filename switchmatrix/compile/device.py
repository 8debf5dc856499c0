"""One device from what is known of it to its state: fewest recalls first, then fewest bytes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from switchmatrix.compile.known import UNKNOWN, DeviceKnown, Standing
from switchmatrix.definition.programs import Repeat
from switchmatrix.model.settings import Patch
from switchmatrix.states.state import DeviceState, Free, Origin, PatchIn, StoredIn


class Trouble(Enum):
    """What a transition of one device may run into."""

    LEFT_TO_REPEAT = "a repeated program may not bring back what the patch stores"
    OVER_HANDS = "a repeated recall overwrites what the player holds"


@dataclass(frozen=True, slots=True)
class Recall:
    """The device recalls a patch."""

    patch: Patch
    origin: Origin


@dataclass(frozen=True, slots=True)
class Send:
    """The control at `index` of the definition takes a code."""

    index: int
    code: int
    origin: Origin


@dataclass(frozen=True, slots=True)
class DeviceTransition:
    """What one device is sent. `troubles` name the controls (by index) that are in trouble."""

    recall: Recall | None
    sends: tuple[Send, ...]
    troubles: tuple[tuple[Trouble, int], ...]


def device_transition(known: DeviceKnown, state: DeviceState) -> DeviceTransition:
    """The messages of one device: what differs after the transition's own recall."""
    troubles: list[tuple[Trouble, int]] = []
    patch = state.patch if isinstance(state.patch, PatchIn) else None
    recalls = patch is not None and _must_recall(known, state, patch.patch)
    after = known.controls
    if recalls and patch is not None:
        after = _after_recall(known, state, patch.patch)
        if known.program == patch.patch.program:
            troubles += [(Trouble.OVER_HANDS, n) for n in _held_stored(state)]
    sends = []
    for n, want in enumerate(state.wants):
        control = state.controls[n]
        if want is None or want == after[n] or isinstance(control, Free):
            continue
        if isinstance(want, StoredIn):
            troubles.append((Trouble.LEFT_TO_REPEAT, n))
        else:
            sends.append(Send(n, want, control.origin))
    recall = Recall(patch.patch, patch.origin) if recalls and patch is not None else None
    return DeviceTransition(recall, tuple(sends), tuple(troubles))


def _must_recall(known: DeviceKnown, state: DeviceState, patch: Patch) -> bool:
    """Whether the device may be in another patch, or a control moved that only a recall brings back."""
    if known.program != patch.program:
        return True
    programs = state.device.definition.programs
    if programs is None or programs.repeat is not Repeat.RECALLS:
        return False
    return any(isinstance(want, StoredIn) and want != known.controls[n] for n, want in enumerate(state.wants))


def _after_recall(known: DeviceKnown, state: DeviceState, patch: Patch) -> tuple[Standing, ...]:
    """Where the controls stand after the program change.

    A possible repeat on a box that does nothing then, or flips a switch, leaves its stored controls
    (and the switch) unknown, but for one that already stands where the patch would put it.
    """
    programs = state.device.definition.programs
    if programs is None:
        raise TypeError(f"{state.device.name} has no programs to recall")
    unsure = programs.repeat is not Repeat.RECALLS and known.program in (UNKNOWN, patch.program)
    after: list[Standing] = []
    for n, control in enumerate(state.device.definition.controls):
        if unsure and control.name == programs.toggled:
            after.append(UNKNOWN)
        elif control.stored:
            stored = patch.stored(control.name)
            sure: Standing = StoredIn(patch.program) if stored is None else stored.code
            after.append(UNKNOWN if unsure and known.controls[n] != sure else sure)
        else:
            after.append(known.controls[n])
    return tuple(after)


def _held_stored(state: DeviceState) -> list[int]:
    """Stored controls that the player holds: a recall moves them."""
    return [
        n
        for n, control in enumerate(state.device.definition.controls)
        if control.stored and state.controls[n] is Free.HELD
    ]
