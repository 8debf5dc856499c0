"""Which messages move which controls: a device's own, and those of a controller beside the tool."""

from __future__ import annotations

from switchmatrix.definition.carriers import (
    Cc14Carrier,
    CcCarrier,
    NoteCarrier,
    ParameterCarrier,
    PitchBendCarrier,
    PressureCarrier,
    ProgramCarrier,
    SysexCarrier,
)
from switchmatrix.definition.controls import Control
from switchmatrix.model.rig import Controller, Device

DATA_ENTRY = frozenset((6, 38, 96, 97))
"""Controllers that set the parameter whose number came last (MIDI Association, Table 3)."""

RESET_ALL = 121
NOT_RESET = frozenset((0, 32, 7, 10, *range(70, 80), *range(91, 96), *range(120, 128)))
"""Reset All Controllers, and the controllers that it leaves alone (MMA RP-015, p. 1).

Older boxes reset any other.
"""


def can_move(controller: Controller, device: Device, control: Control) -> bool:
    """Whether the controller, on the device's port, can send what moves the control.

    Whoever sends data entry moves the parameter that was addressed last, whichever that was.
    """
    if not device.omni and controller.channel != device.channel_of(control.channel):
        return False
    if not set(control.also).isdisjoint(controller.ccs):
        return True
    if RESET_ALL in controller.ccs and _resets(control):
        return True
    match control.carrier:
        case CcCarrier(number):
            return number in controller.ccs
        case Cc14Carrier(msb, lsb):
            return msb in controller.ccs or lsb in controller.ccs
        case ParameterCarrier():
            return not DATA_ENTRY.isdisjoint(controller.ccs)
        case ProgramCarrier():
            return controller.programs
        case NoteCarrier(number):
            return number in controller.notes
        case PitchBendCarrier():
            return controller.bend
        case PressureCarrier():
            return controller.pressure
        case SysexCarrier():
            return False


def _resets(control: Control) -> bool:
    """Whether Reset All Controllers may move the control."""
    numbers = set(control.also)
    match control.carrier:
        case CcCarrier(number):
            numbers.add(number)
        case Cc14Carrier(msb, lsb):
            numbers |= {msb, lsb}
        case PitchBendCarrier() | PressureCarrier():
            return True
        case _:
            pass
    return not numbers <= NOT_RESET
