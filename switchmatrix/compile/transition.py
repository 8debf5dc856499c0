"""The rig from what is known of it to a state: ordered messages."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.compile import meaning
from switchmatrix.compile.device import DeviceTransition, device_transition
from switchmatrix.compile.known import Known
from switchmatrix.controls import messages
from switchmatrix.midi.messages import ProgramChange, encode
from switchmatrix.midi.numbers import ChannelNumber, WireChannel, wire_channel
from switchmatrix.model.rig import Device
from switchmatrix.source import Span
from switchmatrix.states.state import AsPatch, DeviceState, Set, State, Trigger


@dataclass(frozen=True, slots=True)
class Step:
    """One message to one device: its bytes, what it means, how long the device then settles, who said so."""

    device: str
    port: str
    channel: int
    data: bytes
    meaning: str
    settle_us: int
    span: Span
    layer: str
    name: str


def transition(known: Known, state: State, triggers: tuple[Trigger, ...] = ()) -> tuple[Step, ...]:
    """The messages that bring the rig from `known` to `state`, then the triggers.

    Recalls come first, then other controls, then triggers; devices in rig-file order, controls in
    definition order.
    """
    moves = [
        device_transition(before, device) for before, device in zip(known.devices, state.devices, strict=True)
    ]
    recalls = [s for move, device in zip(moves, state.devices, strict=True) for s in _recall(move, device)]
    sends = [s for move, device in zip(moves, state.devices, strict=True) for s in _sends(move, device)]
    fired = [step for trigger in triggers for step in _trigger(trigger)]
    return (*recalls, *sends, *fired)


def _channel(device: Device) -> WireChannel:
    return wire_channel(ChannelNumber(device.channel))


def _recall(move: DeviceTransition, state: DeviceState) -> list[Step]:
    if move.recall is None:
        return []
    device, patch, origin = state.device, move.recall.patch, move.recall.origin
    programs = device.definition.programs
    data = encode(ProgramChange(_channel(device), patch.program))
    settle_us = programs.settle_us if programs is not None else 0
    text = meaning.recalls(patch)
    step = Step(
        device.name,
        device.port,
        device.channel,
        data,
        text,
        settle_us,
        origin.span,
        origin.layer,
        origin.name,
    )
    return [step]


def _sends(move: DeviceTransition, state: DeviceState) -> list[Step]:
    steps = []
    for send in move.sends:
        control = state.device.definition.controls[send.index]
        value = state.controls[send.index]
        text = meaning.sets(control, value) if isinstance(value, Set | AsPatch) else ""
        steps += [
            Step(
                state.device.name,
                state.device.port,
                state.device.channel,
                encode(message),
                text,
                0,
                send.origin.span,
                send.origin.layer,
                send.origin.name,
            )
            for message in messages(control.carrier, _channel(state.device), send.code)
        ]
    return steps


def _trigger(trigger: Trigger) -> list[Step]:
    device = trigger.device
    control = device.definition.control(trigger.control)
    if control is None:
        raise KeyError(trigger.control)
    return [
        Step(
            device.name,
            device.port,
            device.channel,
            encode(message),
            meaning.fires(control),
            0,
            trigger.origin.span,
            trigger.origin.layer,
            trigger.origin.name,
        )
        for message in messages(control.carrier, _channel(device), trigger.code)
    ]
