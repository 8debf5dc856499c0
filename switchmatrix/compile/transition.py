"""The rig from what is known of it to a state: ordered messages."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from switchmatrix.compile import meaning
from switchmatrix.compile.device import DeviceTransition, Recall, Send, device_transition
from switchmatrix.compile.known import Known, moved_by_recall
from switchmatrix.compile.muting import Hold, Holding, holding
from switchmatrix.compile.step import Role, Step
from switchmatrix.controls import Wire, messages, program
from switchmatrix.definition.controls import Control
from switchmatrix.definition.definition import Definition
from switchmatrix.midi.messages import Message, encode
from switchmatrix.midi.numbers import ChannelNumber, wire_channel
from switchmatrix.model.rig import Device, Rig
from switchmatrix.model.settings import PATCH
from switchmatrix.states.state import AsPatch, DeviceState, Origin, Set, State, Trigger

_RECALL = -1
_Key = tuple[int, int, bool, bool]


class Steps:
    """Messages of device states, each made once: most scenes share most of their devices' states."""

    def __init__(self) -> None:
        self.made: dict[int, tuple[DeviceState, dict[_Key, tuple[Step, ...]]]] = {}

    def recall(self, state: DeviceState, recall: Recall) -> tuple[Step, ...]:
        """The recall of a patch, with its bank select."""
        made, key = self._of(state), (_RECALL, 0, False, recall.select)
        if key not in made:
            made[key] = _recall(state, recall)
        return made[key]

    def sends(self, state: DeviceState, sends: Iterable[Send]) -> list[Step]:
        """Controls set, one unit after another."""
        made = self._of(state)
        steps: list[Step] = []
        for send in sends:
            key = (send.index, send.code, send.fine, send.select)
            if key not in made:
                made[key] = _send(state, send)
            steps += made[key]
        return steps

    def _of(self, state: DeviceState) -> dict[_Key, tuple[Step, ...]]:
        return self.made.setdefault(id(state), (state, {}))[1]


def transition(
    rig: Rig, known: Known, state: State, triggers: tuple[Trigger, ...] = (), steps: Steps | None = None
) -> tuple[Step, ...]:
    """The messages that bring the rig from `known` to `state`, then the triggers.

    In the order of what must come before what: mutes on; choices that reload others; recalls; other
    controls; mutes off; triggers. Devices in rig-file order, controls in definition order. `steps`
    remembers messages between calls.
    """
    made = steps if steps is not None else Steps()
    pairs = [
        (device, device_transition(before, device))
        for before, device in zip(known.devices, state.devices, strict=True)
    ]
    held = holding(rig, known, pairs) if rig.mutes else Holding((), frozenset())
    out = [step for hold in held.holds if not hold.after_recall for step in _hold(pairs, hold)]
    for early in (True, False):
        here = [(n, *pair) for n, pair in enumerate(pairs) if (n in held.early) is early]
        for _, device, move in here:
            out += made.sends(device, move.prepare)
        for _, device, move in here:
            out += made.recall(device, move.recall) if move.recall is not None else ()
        if early:
            out += [step for hold in held.holds if hold.after_recall for step in _hold(pairs, hold)]
    for n, (device, move) in enumerate(pairs):
        out += made.sends(device, held.left(n, move.sends))
    out += [step for hold in held.holds for step in _release(pairs, hold)]
    return (*out, *(step for trigger in triggers for step in _trigger(trigger)))


def _unit(
    device: Device,
    channel: ChannelNumber,
    sent: Sequence[Message],
    text: str,
    settle_us: int,
    origin: Origin,
    moves: Iterable[str],
    role: Role,
) -> tuple[Step, ...]:
    """The messages of one unit; the device settles after the last."""
    return tuple(
        Step(
            device=device.name,
            port=device.port,
            channel=channel,
            data=encode(message),
            meaning=meaning.part(text, n, len(sent)),
            settle_us=settle_us if n == len(sent) else 0,
            span=origin.span,
            layer=origin.layer,
            name=origin.name,
            gap_us=device.definition.gap_us,
            part=n,
            parts=len(sent),
            role=role,
            moves=frozenset(moves),
        )
        for n, message in enumerate(sent, 1)
    )


def _recall(state: DeviceState, recall: Recall) -> tuple[Step, ...]:
    device, programs = state.device, state.device.definition.programs
    if programs is None:
        raise TypeError(f"{device.name} has no programs to recall")
    channel = device.channel_of(programs.channel)
    scheme = programs.bank if recall.select else None
    sent = program.messages(recall.patch.address, wire_channel(channel), scheme)
    controls = enumerate(device.definition.controls)
    moved = [PATCH, *(c.name for n, c in controls if moved_by_recall(device, n))]
    text = meaning.recalls(recall.patch)
    return _unit(device, channel, sent, text, programs.settle_us, recall.origin, moved, Role.RECALL)


def _moved(definition: Definition, index: int) -> list[str]:
    """The control and what setting it reloads."""
    return [definition.controls[n].name for n in sorted(definition.order.moved_with([index]))]


def _carried(device: Device, control: Control, code: int, send: Send | None) -> Sequence[Message]:
    channel, programs = wire_channel(device.channel_of(control.channel)), device.definition.programs
    # A trigger stands outside what is known, so it always says its bank.
    scheme = programs.bank if (send is None or send.select) and programs is not None else None
    was = code if send is not None and send.fine else None
    return messages(control, code, Wire(channel, device.id, was, scheme))


def _send(state: DeviceState, send: Send) -> tuple[Step, ...]:
    device, control = state.device, state.device.definition.controls[send.index]
    value = state.controls[send.index]
    if not isinstance(value, Set | AsPatch):
        raise TypeError(f"{device.name}.{control.name} has nothing to send")
    return _unit(
        device,
        device.channel_of(control.channel),
        _carried(device, control, send.code, send),
        meaning.sets(control, value),
        control.settle_us,
        send.origin,
        _moved(device.definition, send.index),
        Role.SET,
    )


def _trigger(trigger: Trigger) -> tuple[Step, ...]:
    device = trigger.device
    control = device.definition.control(trigger.control)
    if control is None:
        raise KeyError(trigger.control)
    sent = _carried(device, control, trigger.code, None)
    channel, text = device.channel_of(control.channel), meaning.fires(control)
    return _unit(device, channel, sent, text, control.settle_us, trigger.origin, (), Role.TRIGGER)


_Pairs = Sequence[tuple[DeviceState, DeviceTransition]]


def _hold(pairs: _Pairs, hold: Hold) -> tuple[Step, ...]:
    """The held control takes the mute's code, where it is not known to stand there."""
    if not hold.on:
        return ()
    state = pairs[hold.device][0]
    device, control = state.device, state.device.definition.controls[hold.index]
    origin = Origin(hold.span, "mutes", f"{device.name}.{control.name}: {hold.gets}")
    send = Send(hold.index, hold.code, hold.fine, False, origin)
    steps = _unit(
        device,
        device.channel_of(control.channel),
        _carried(device, control, hold.code, send),
        meaning.holds(control, str(hold.gets)),
        control.settle_us,
        origin,
        (control.name,),
        Role.MUTE_ON,
    )
    return tuple(replace(step, mutes=hold.mutes) for step in steps)


def _release(pairs: _Pairs, hold: Hold) -> tuple[Step, ...]:
    """The held control takes the code that the state wants, where that is another."""
    if hold.back is None:
        return ()
    steps = _send(pairs[hold.device][0], hold.back)
    return tuple(replace(step, role=Role.MUTE_OFF, mutes=hold.mutes) for step in steps)
