"""What is known of a rig: each device's patch and bank, and where each control stands."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from switchmatrix.compile.heard import can_move
from switchmatrix.definition.carriers import ProgramCarrier
from switchmatrix.midi.numbers import Address, WireBank
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
    """What is known of one device: its patch, the bank it last heard, its controls in definition order.

    `bank` is what the next program change would be looked up in; None on a device without bank select.
    """

    patch: Address | Unknown
    bank: WireBank | Unknown | None
    controls: tuple[Standing, ...]


@dataclass(frozen=True, slots=True)
class Reach:
    """What declared controllers can change on one device behind the tool's back."""

    patch: bool
    bank: bool
    controls: frozenset[int]


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of every device, in rig-file order."""

    devices: tuple[DeviceKnown, ...]


def nothing_known(rig: Rig) -> Known:
    """The rig as it is found: all unknown, but that toggles stand as they power up.

    Only the first transition may start from here: `set_by_hand` says what a person sees to before it.
    """
    return Known(tuple(device_found(device) for device in rig.devices))


def all_in_doubt(rig: Rig) -> Known:
    """The rig when nothing can be trusted any more."""
    return Known(tuple(device_unknown(device) for device in rig.devices))


def device_unknown(device: Device) -> DeviceKnown:
    """A device of which nothing is known."""
    return DeviceKnown(UNKNOWN, _no_bank(device), (UNKNOWN,) * len(device.definition.controls))


def device_found(device: Device) -> DeviceKnown:
    """A device as it is found: its toggles as they power up, all else unknown."""
    stands = dict(device.powers_up)
    controls = tuple(
        int(stands[n]) if n in stands else UNKNOWN for n in range(len(device.definition.controls))
    )
    return DeviceKnown(UNKNOWN, _no_bank(device), controls)


def _no_bank(device: Device) -> Unknown | None:
    programs = device.definition.programs
    return None if programs is None or programs.bank is None else UNKNOWN


def set_by_hand(rig: Rig) -> list[tuple[str, str, str]]:
    """Device, control and position of each toggle: how they must stand before the first transition."""
    return [
        (device.name, device.definition.controls[n].name, "on" if on else "off")
        for device in rig.devices
        for n, on in device.powers_up
        if device.definition.controls[n].hazard is None
    ]


def reach(rig: Rig, device: Device) -> Reach:
    """What the rig's controllers can change on the device."""
    moved: set[int] = set()
    patch = bank = False
    programs = device.definition.programs
    for controller in rig.controllers:
        if controller.port != device.port:
            continue
        moved |= {n for n, c in enumerate(device.definition.controls) if can_move(controller, device, c)}
        if programs is None:
            continue
        if device.omni or controller.channel == device.channel_of(programs.channel):
            patch |= controller.programs
        if device.omni or controller.channel in _bank_channels(device):
            bank |= programs.bank is not None and (
                controller.programs or not {0, 32}.isdisjoint(controller.ccs)
            )
    if patch:
        moved |= {n for n in range(len(device.definition.controls)) if moved_by_recall(device, n)}
    return Reach(patch, bank, device.definition.order.moved_with(moved))


def _bank_channels(device: Device) -> set[int]:
    """The channels where bank select reaches the device: some boxes have one bank for all of them."""
    programs = device.definition.programs
    named = {c.channel for c in device.definition.controls if isinstance(c.carrier, ProgramCarrier)}
    return {device.channel_of(name) for name in named | ({programs.channel} if programs else set())}


def moved_by_recall(device: Device, index: int) -> bool:
    """Whether a program change can move the control: it is stored, or flipped by a repeat."""
    programs, control = device.definition.programs, device.definition.controls[index]
    return control.stored or (programs is not None and programs.toggled == control.name)


def settled(state: DeviceState, reached: Reach) -> DeviceKnown:
    """What is known of a device once it is in its state.

    What the player holds (with all that moving it reloads), what nothing determines and what a
    controller can reach are unknown.
    """
    device = state.device
    held = state.held
    if state.patch_held:
        held = held | {n for n in range(len(state.wants)) if moved_by_recall(device, n)}
    if held:
        held = device.definition.order.moved_with(held)
    controls = tuple(
        UNKNOWN if n in reached.controls or n in held else _standing(want)
        for n, want in enumerate(state.wants)
    )
    if not isinstance(state.patch, PatchIn) or state.patch_held:
        return DeviceKnown(UNKNOWN, _no_bank(device), controls)
    at = state.patch.patch.address
    bank: WireBank | Unknown | None = UNKNOWN if reached.bank or _bank_wanders(device, at) else at.bank
    return DeviceKnown(UNKNOWN if reached.patch else at, bank, controls)


def _bank_wanders(device: Device, at: Address) -> bool:
    """Whether a control that travels as a program may have left the device in another bank."""
    carriers = [control.carrier for control in device.definition.controls]
    return any(isinstance(c, ProgramCarrier) and c.bank != at.bank for c in carriers)


def _standing(want: Want) -> Standing:
    return UNKNOWN if want is None else want


def settled_rig(rig: Rig, state: State) -> Known:
    """What is known of the whole rig once it is in the state."""
    return Known(tuple(settled(device, reach(rig, device.device)) for device in state.devices))
