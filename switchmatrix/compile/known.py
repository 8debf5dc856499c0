"""What is known of a rig: each device's patch, and where each control stands."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from switchmatrix.definition.controls import CcCarrier, Control
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.state import DeviceState, PatchIn, State, StoredIn, Want


class Unknown(Enum):
    """Nothing is known."""

    UNKNOWN = "unknown"


UNKNOWN = Unknown.UNKNOWN


Standing = int | StoredIn | Unknown
"""Where a control stands: at a code, as a patch stores it, or unknown."""


@dataclass(frozen=True, slots=True)
class DeviceKnown:
    """What is known of one device: its program, and its controls in definition order."""

    program: int | Unknown
    controls: tuple[Standing, ...]


@dataclass(frozen=True, slots=True)
class Reach:
    """What declared controllers can change on one device behind the tool's back."""

    programs: bool
    controls: frozenset[int]


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of every device, in rig-file order."""

    devices: tuple[DeviceKnown, ...]


def nothing_known(rig: Rig) -> Known:
    """The rig as it is found: every patch and control unknown."""
    return Known(tuple(device_unknown(device) for device in rig.devices))


def device_unknown(device: Device) -> DeviceKnown:
    """A device of which nothing is known."""
    return DeviceKnown(UNKNOWN, (UNKNOWN,) * len(device.definition.controls))


def reach(rig: Rig, device: Device) -> Reach:
    """What the rig's controllers can change on the device."""
    heard = [c for c in rig.controllers if c.port == device.port and c.channel == device.channel]
    ccs = {cc for controller in heard for cc in controller.ccs}
    programs = any(controller.programs for controller in heard)
    moved = frozenset(
        n
        for n, control in enumerate(device.definition.controls)
        if _carried(control, ccs, programs) or (programs and moved_by_recall(device, control))
    )
    return Reach(programs and device.definition.programs is not None, moved)


def _carried(control: Control, ccs: set[int], programs: bool) -> bool:
    """Whether messages of a controller can be the control's own."""
    return control.carrier.number in ccs if isinstance(control.carrier, CcCarrier) else programs


def moved_by_recall(device: Device, control: Control) -> bool:
    """Whether a program change can move the control: it is stored, or flipped by a repeat."""
    programs = device.definition.programs
    return control.stored or (programs is not None and programs.toggled == control.name)


def settled(state: DeviceState, reached: Reach) -> DeviceKnown:
    """What is known of a device once it is in its state.

    What the player holds, what nothing determines and what a controller can reach are unknown.
    """
    patch = state.patch
    definition = state.device.definition
    controls = tuple(
        UNKNOWN
        if n in reached.controls
        or n in state.held
        or (state.patch_held and moved_by_recall(state.device, definition.controls[n]))
        else _standing(want)
        for n, want in enumerate(state.wants)
    )
    if isinstance(patch, PatchIn) and not reached.programs and not state.patch_held:
        return DeviceKnown(patch.patch.program, controls)
    return DeviceKnown(UNKNOWN, controls)


def _standing(want: Want) -> Standing:
    return UNKNOWN if want is None else want


def settled_rig(rig: Rig, state: State) -> Known:
    """What is known of the whole rig once it is in the state."""
    return Known(tuple(settled(device, reach(rig, device.device)) for device in state.devices))
