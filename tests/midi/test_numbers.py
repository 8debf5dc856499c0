"""People's numbers and the wire's."""

from __future__ import annotations

import pytest

from switchmatrix.midi.numbers import (
    ChannelNumber,
    PanelNumber,
    WireProgram,
    panel_number,
    wire_channel,
    wire_program,
)


# MIDI 1.0 Detailed Specification 4.2.1, Table I (p. T-1): a nibble holds sixteen channels.
@pytest.mark.parametrize("channel", [0, 17, -1])
def test_channel_that_no_nibble_holds_is_refused(channel: int) -> None:
    with pytest.raises(ValueError, match=f"channel {channel} is not 1-16"):
        wire_channel(ChannelNumber(channel))


# MIDI 1.0 Detailed Specification 4.2.1, p. 18: programs begin at 00 on the wire; General MIDI 2 (1.2a)
# 3.3.1: people mostly count them from 1.
@pytest.mark.parametrize(
    ("panel", "first", "program"),
    [(1, 1, 0), (17, 1, 16), (128, 1, 127), (0, 0, 0), (31, 0, 31), (127, 0, 127)],
)
def test_panel_number_is_the_program_and_what_the_panel_calls_the_first(
    panel: int, first: int, program: int
) -> None:
    assert wire_program(PanelNumber(panel), PanelNumber(first)) == program


@pytest.mark.parametrize(("panel", "first"), [(0, 1), (129, 1), (128, 0), (-1, 0)])
def test_panel_number_that_is_no_program_is_refused(panel: int, first: int) -> None:
    with pytest.raises(ValueError, match=f"panel number {panel} is no program"):
        wire_program(PanelNumber(panel), PanelNumber(first))


@pytest.mark.parametrize("first", [0, 1])
def test_every_program_comes_back_from_its_panel_number(first: int) -> None:
    panel = PanelNumber(first)
    assert [wire_program(panel_number(WireProgram(n), panel), panel) for n in range(128)] == list(range(128))
