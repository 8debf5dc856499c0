"""The messages that a device minds, and what each does to it."""

from __future__ import annotations

from collections.abc import Callable

from switchmatrix.definition.carriers import (
    Cc14Carrier,
    CcCarrier,
    NoteCarrier,
    PitchBendCarrier,
    PressureCarrier,
    SysexCarrier,
)
from switchmatrix.definition.controls import Control, Named
from switchmatrix.simulate.box import Box
from switchmatrix.simulate.exclusive import Template, template
from switchmatrix.simulate.registers import (
    BANK_LOWER,
    BANK_UPPER,
    CONTROLLERS,
    DATA_LOWER,
    DATA_UPPER,
    DECREMENT,
    INCREMENT,
    RESET_ALL,
)
from switchmatrix.simulate.stream import (
    CHANNEL_PRESSURE,
    CONTROL_CHANGE,
    NOTE_OFF,
    NOTE_ON,
    PITCH_BEND,
    PROGRAM_CHANGE,
)
from switchmatrix.simulate.unit import Unit

Act = tuple[Callable[[Box, int, int, int], None], int, int]
"""What a message does, and to what: the first two numbers; its value is the third."""

Key = tuple[int, int, int]
"""A status nibble, a row, and a controller or key; 0 where the status has neither."""


def table_of(one: Unit) -> dict[Key, tuple[Act, ...]]:
    """What each channel message does to the device."""
    acts: dict[Key, list[Act]] = {}
    for n, part in enumerate(one.parts):
        for key, act in _acts_of(part.control, n, one.row(part.control.channel)):
            acts.setdefault(key, []).append(act)
    _programs(one, acts)
    _parameters(one, acts)
    return {key: tuple(does) for key, does in acts.items()}


def templates_of(one: Unit) -> tuple[Template, ...]:
    """The system exclusive that the device understands."""
    return tuple(
        template(n, part.control.carrier, one.device.id, _plain(part.control))
        for n, part in enumerate(one.parts)
        if isinstance(part.control.carrier, SysexCarrier)
    )


def _plain(control: Control) -> int:
    """The code of a message that carries none: what a trigger goes off at."""
    return control.scale.words[0][1].sent if isinstance(control.scale, Named) else 0


def _acts_of(control: Control, n: int, row: int) -> list[tuple[Key, Act]]:
    """The messages that carry the control's code, and those that move it besides."""
    out: list[tuple[Key, Act]] = [((CONTROL_CHANGE, row, cc), (Box.shift, n, cc)) for cc in control.also]
    match control.carrier:
        case CcCarrier(number):
            out.append(((CONTROL_CHANGE, row, number), (Box.take, n, 0)))
        case Cc14Carrier(msb, lsb):
            out.append(((CONTROL_CHANGE, row, msb), (Box.upper, n, 0)))
            out.append(((CONTROL_CHANGE, row, lsb), (Box.lower, n, 0)))
        case NoteCarrier(number):
            out.append(((NOTE_ON, row, number), (Box.strike, n, 0)))
            out.append(((NOTE_OFF, row, number), (Box.let_go, n, 0)))
        case PitchBendCarrier():
            out.append(((PITCH_BEND, row, 0), (Box.take, n, 0)))
        case PressureCarrier():
            out.append(((CHANNEL_PRESSURE, row, 0), (Box.take, n, 0)))
        case _:
            pass
    if any(_is_reset(nibble, at) for (nibble, _, at), _ in out):
        out.append(((CONTROL_CHANGE, row, RESET_ALL), (Box.shift, n, RESET_ALL)))
    return out


_NOT_RESET = frozenset((0, 32, 7, 10, *range(70, 80), *range(91, 96), *range(120, 128)))
"""Controllers that Reset All Controllers leaves alone (MMA RP-015); any other may go anywhere."""


def _is_reset(nibble: int, at: int) -> bool:
    return nibble in (PITCH_BEND, CHANNEL_PRESSURE) or (nibble == CONTROL_CHANGE and at not in _NOT_RESET)


def _programs(one: Unit, acts: dict[Key, list[Act]]) -> None:
    """Program changes, and the bank select that goes before them."""
    programs = one.definition.programs
    calling = None if programs is None else one.row(programs.channel)
    for row, carried in enumerate(one.carried):
        if row != calling and not carried:
            continue
        acts.setdefault((PROGRAM_CHANGE, row, 0), []).append((Box.program, row, int(row == calling)))
        for cc, register in CONTROLLERS.items():
            if one.scheme is not None and register in (BANK_UPPER, BANK_LOWER):
                acts.setdefault((CONTROL_CHANGE, row, cc), []).append((Box.bank_half, row, register))


def _parameters(one: Unit, acts: dict[Key, list[Act]]) -> None:
    """Parameter numbers and data entry, on each channel where they matter."""
    data = {DATA_UPPER: Box.data_upper, DATA_LOWER: Box.data_lower, INCREMENT: Box.step, DECREMENT: Box.step}
    for row, parameters in enumerate(one.parameters):
        if not parameters:
            continue
        for cc, register in CONTROLLERS.items():
            if register not in (BANK_UPPER, BANK_LOWER):
                acts.setdefault((CONTROL_CHANGE, row, cc), []).append((Box.number_half, row, register))
        for cc, act in data.items():
            acts.setdefault((CONTROL_CHANGE, row, cc), []).append((act, row, cc))
        acts.setdefault((CONTROL_CHANGE, row, RESET_ALL), []).append((Box.address_nothing, row, 0))
