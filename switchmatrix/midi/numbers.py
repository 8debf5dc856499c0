"""Numbers as people say them and as the wire carries them; each is converted here and nowhere else."""

from __future__ import annotations

from typing import NewType

ChannelNumber = NewType("ChannelNumber", int)
"""1-16, as people say it."""

WireChannel = NewType("WireChannel", int)
"""0-15, as a status byte carries it."""

PanelNumber = NewType("PanelNumber", int)
"""A program's number as the device's front panel shows it."""

WireProgram = NewType("WireProgram", int)
"""0-127, as a program change carries it."""


def wire_channel(channel: ChannelNumber) -> WireChannel:
    """Channel 1 is nibble 0 (MIDI 1.0 Detailed Specification 4.2.1, Table I)."""
    if not 1 <= channel <= 16:
        raise ValueError(f"channel {channel} is not 1-16")
    return WireChannel(channel - 1)


def wire_program(panel: PanelNumber, first: PanelNumber) -> WireProgram:
    """The program of panel number `panel` on a device whose panel calls program 0 `first`."""
    program = panel - first
    if not 0 <= program <= 127:
        raise ValueError(f"panel number {panel} is no program")
    return WireProgram(program)


def panel_number(program: WireProgram, first: PanelNumber) -> PanelNumber:
    """What the front panel shows for `program`."""
    return PanelNumber(program + first)
