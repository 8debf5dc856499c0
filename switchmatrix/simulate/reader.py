"""Bytes back to codes: what the messages of one device say."""

from __future__ import annotations

from switchmatrix.definition.definition import Definition
from switchmatrix.midi.numbers import ChannelNumber, WireChannel
from switchmatrix.model.rig import Device
from switchmatrix.simulate.receiver import receiver
from switchmatrix.simulate.standing import UNKNOWN, Halves, Standing
from switchmatrix.simulate.stream import heard


def codes_heard(
    listener: Definition | Device,
    channel: WireChannel,
    data: bytes,
    *,
    id: int | None = None,
    halves: Halves = Halves.ZEROED,
) -> tuple[tuple[str, int], ...]:
    """The controls that the bytes bring to a code, in the order of their last message.

    A definition listens on `channel` alone, under every name, with the system exclusive id `id`; a
    device listens as the rig has it. Nothing is known before but that toggles are off: the code of a
    toggle is 1 for on. A trigger has the code that it went off at.
    """
    device = listener if isinstance(listener, Device) else _device(listener, channel, id)
    controls = device.definition.controls
    before: list[Standing] = [UNKNOWN if control.toggle is None else 0 for control in controls]
    one = receiver(device, halves)
    now, told = one.told(one.unit.start(controls=before), heard(data))
    codes: dict[str, Standing | None] = {control.name: now.controls[n] for n, control in enumerate(controls)}
    codes |= {one.name_of(n): code for n, code in now.fired}
    moved = dict.fromkeys(name for took in reversed(told) for name in took.moved)
    return tuple((name, code) for name in reversed(moved) if isinstance(code := codes.get(name), int))


def _device(definition: Definition, channel: WireChannel, id: int | None) -> Device:
    """A device of that definition, with every channel of it in one place."""
    number = ChannelNumber(channel + 1)
    return Device(
        name=definition.id,
        port="",
        channel=number,
        definition=definition,
        patches=(),
        pickup=None,
        broken=frozenset(),
        span=definition.span,
        channels=tuple((name, number) for name in definition.channels),
        id=id,
    )
