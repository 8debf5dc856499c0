"""Feet: what a floor controller sends, to steps; one press is one step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from switchmatrix.live.stepping.inputs import Again, Back, Home, JumpToScene, Next
from switchmatrix.midi.numbers import WireProgram, program_number
from switchmatrix.model.rig import Feet, Pedal, PedalStep, Tread
from switchmatrix.simulate.stream import (
    CHANNEL_PRESSURE,
    CONTROL_CHANGE,
    KEY_PRESSURE,
    NOTE_OFF,
    NOTE_ON,
    PITCH_BEND,
    PROGRAM_CHANGE,
    Event,
    Voice,
)

BOUNCE_US = 10_000
"""A contact that makes again this soon after it broke has bounced (common practice: 1 to 10 ms)."""

Pressed = Next | Back | Again | Home | JumpToScene

_INPUTS: Mapping[PedalStep, Pressed] = {
    PedalStep.NEXT: Next(),
    PedalStep.BACK: Back(),
    PedalStep.AGAIN: Again(),
    PedalStep.HOME: Home(),
}


@dataclass(frozen=True, slots=True)
class Trodden:
    """A pedal's past: whether it is down, when it was last let go, when its last step was counted."""

    down: bool = False
    up_us: int | None = None
    step_us: int | None = None


@dataclass(frozen=True, slots=True)
class Treads:
    """All pedals' pasts, by their place among the rig's."""

    pedals: Mapping[int, Trodden] = field(default_factory=dict)


def tread(feet: Feet, treads: Treads, port: str, event: Event, at_us: int) -> tuple[Treads, Pressed | None]:
    """What an event on a port makes of the pedals, and the step that it is; moments in microseconds.

    A pedal steps when it goes down: after it was up for longer than a bounce, and `rest` after its last
    step. One that never says when it is let go steps with each message that lies `rest` after the last.
    """
    for n, pedal in enumerate(feet.pedals):
        moved = _moved(pedal, port, event)
        if moved is None:
            continue
        before = treads.pedals.get(n, Trodden())
        after, steps = _trodden(pedal, feet.rest_us, before, moved, at_us)
        return Treads({**treads.pedals, n: after}), _does(pedal) if steps else None
    return treads, None


def _does(pedal: Pedal) -> Pressed:
    return JumpToScene(pedal.does) if isinstance(pedal.does, int) else _INPUTS[pedal.does]


def _moved(pedal: Pedal, port: str, event: Event) -> bool | None:
    """Whether the event puts the pedal down (or, False, lets it go); None where it is not the pedal's.

    A Note On of velocity 0 lets it go (MIDI 1.0 Detailed Specification 4.2.1, p. 10).
    """
    if not isinstance(event, Voice) or (port, event.channel + 1) != (pedal.port, pedal.channel):
        return None
    if event.data[0] != pedal.number:
        return None
    match pedal.kind, event.nibble:
        case (Tread.CC, n) if n == CONTROL_CHANGE:
            return event.data[1] >= pedal.least
        case (Tread.NOTE, n) if n == NOTE_ON:
            # A strike softer than `from` is no press, and lets nothing go either.
            velocity = event.data[1]
            return True if velocity >= pedal.least else None if velocity else False
        case (Tread.NOTE, n) if n == NOTE_OFF:
            return False
        case (Tread.PROGRAM, n) if n == PROGRAM_CHANGE:
            return True
        case _:
            return None


def _trodden(pedal: Pedal, rest_us: int, before: Trodden, down: bool, at_us: int) -> tuple[Trodden, bool]:
    """The pedal's past with one event more, and whether that is a step."""
    rested = before.step_us is None or at_us - before.step_us >= rest_us
    if not pedal.releases:
        if not down:
            return before, False
        # Every message counts against the rest, so that a burst, however long, is one step.
        return replace(before, step_us=at_us), rested
    if not down:
        return replace(before, down=False, up_us=at_us if before.down else before.up_us), False
    bounced = before.up_us is not None and at_us - before.up_us <= BOUNCE_US
    steps = not before.down and rested and not bounced
    return replace(before, down=True, step_us=at_us if steps else before.step_us), steps


def hears(port: str, event: Event) -> str | None:
    """`rack, channel 16: CC 64 at 127`; None for clock and the like, which no pedal sends."""
    if not isinstance(event, Voice):
        return None
    first, last = event.data[0], event.data[-1]
    match event.nibble:
        case n if n == CONTROL_CHANGE:
            what = f"CC {first} at {last}"
        case n if n == NOTE_OFF or (n == NOTE_ON and last == 0):
            what = f"note {first} let go"
        case n if n == NOTE_ON:
            what = f"note {first} at {last}"
        case n if n == PROGRAM_CHANGE:
            what = f"program {program_number(WireProgram(first))}"
        case n if n == PITCH_BEND:
            what = f"pitch bend at {first + 128 * last}"
        case n if n == CHANNEL_PRESSURE:
            what = f"channel pressure at {first}"
        case n if n == KEY_PRESSURE:
            what = f"pressure of note {first} at {last}"
        case _:
            return None
    return f"{port}, channel {event.channel + 1}: {what}"
