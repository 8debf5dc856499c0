"""The rig from what is known of it to a state: ordered messages."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.compile import meaning
from switchmatrix.compile.device import DeviceTransition, Recall, Send, device_transition
from switchmatrix.compile.known import Known
from switchmatrix.controls import messages
from switchmatrix.midi.messages import ProgramChange, encode
from switchmatrix.midi.numbers import wire_channel
from switchmatrix.model.rig import Device
from switchmatrix.source import Span
from switchmatrix.states.state import AsPatch, DeviceState, Origin, Set, State, Trigger


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


class Steps:
    """Messages of device states, each made once: most scenes share most of their devices' states."""

    def __init__(self) -> None:
        self.made: dict[int, tuple[DeviceState, dict[int, tuple[Step, ...]]]] = {}

    def of(self, state: DeviceState, move: DeviceTransition) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
        """The recall and the other messages of one device."""
        _, made = self.made.setdefault(id(state), (state, {}))
        recall: tuple[Step, ...] = ()
        if move.recall is not None:
            if _RECALL not in made:
                made[_RECALL] = (_recall(state, move.recall),)
            recall = made[_RECALL]
        sends: list[Step] = []
        for send in move.sends:
            if send.index not in made:
                made[send.index] = _send(state, send)
            sends += made[send.index]
        return recall, tuple(sends)


_RECALL = -1


def transition(
    known: Known, state: State, triggers: tuple[Trigger, ...] = (), steps: Steps | None = None
) -> tuple[Step, ...]:
    """The messages that bring the rig from `known` to `state`, then the triggers.

    Recalls come first, then other controls, then triggers; devices in rig-file order, controls in
    definition order. `steps` remembers messages between calls.
    """
    made = steps if steps is not None else Steps()
    recalls: list[Step] = []
    sends: list[Step] = []
    for before, device in zip(known.devices, state.devices, strict=True):
        recall, others = made.of(device, device_transition(before, device))
        recalls += recall
        sends += others
    return (*recalls, *sends, *(step for trigger in triggers for step in _trigger(trigger)))


def _step(device: Device, data: bytes, text: str, settle_us: int, origin: Origin) -> Step:
    return Step(
        device=device.name,
        port=device.port,
        channel=device.channel,
        data=data,
        meaning=text,
        settle_us=settle_us,
        span=origin.span,
        layer=origin.layer,
        name=origin.name,
    )


def _recall(state: DeviceState, recall: Recall) -> Step:
    device, programs = state.device, state.device.definition.programs
    if programs is None:
        raise TypeError(f"{device.name} has no programs to recall")
    data = encode(ProgramChange(wire_channel(device.channel), recall.patch.program))
    return _step(device, data, meaning.recalls(recall.patch), programs.settle_us, recall.origin)


def _send(state: DeviceState, send: Send) -> tuple[Step, ...]:
    device, control = state.device, state.device.definition.controls[send.index]
    value = state.controls[send.index]
    if not isinstance(value, Set | AsPatch):
        raise TypeError(f"{device.name}.{control.name} has nothing to send")
    text = meaning.sets(control, value)
    sent = messages(control.carrier, wire_channel(device.channel), send.code)
    return tuple(_step(device, encode(message), text, 0, send.origin) for message in sent)


def _trigger(trigger: Trigger) -> tuple[Step, ...]:
    device = trigger.device
    control = device.definition.control(trigger.control)
    if control is None:
        raise KeyError(trigger.control)
    sent = messages(control.carrier, wire_channel(device.channel), trigger.code)
    return tuple(_step(device, encode(m), meaning.fires(control), 0, trigger.origin) for m in sent)
