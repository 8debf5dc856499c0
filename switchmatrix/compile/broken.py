"""A send that was broken off: what is still known of the rig, and what it may have left muted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from switchmatrix.compile.known import UNKNOWN, DeviceKnown, Known
from switchmatrix.compile.step import Role, Step
from switchmatrix.model.rig import Device, Rig
from switchmatrix.model.settings import PATCH, Target


@dataclass(frozen=True, slots=True)
class BrokenOff:
    """What is known afterwards, and the controls that a mute may still hold."""

    known: Known
    muted: tuple[Target, ...]


def broken_off(rig: Rig, known: Known, steps: Sequence[Step], surely: int, perhaps: int) -> BrokenOff:
    """After `surely` of a transition's messages have gone out and `perhaps` (as many or more) may have.

    All that those could move is unknown, patch and bank too; the messages are in the order sent.
    """
    sent = steps[:perhaps]
    devices = tuple(
        _left(device, before, [step for step in sent if step.device == device.name])
        for device, before in zip(rig.devices, known.devices, strict=True)
    )
    return BrokenOff(Known(devices), _muted(steps, surely, perhaps))


def _muted(steps: Sequence[Step], surely: int, perhaps: int) -> tuple[Target, ...]:
    """The controls that may still stand where a mute held them."""
    on, off = _by_target(steps, Role.MUTE_ON), _by_target(steps, Role.MUTE_OFF)
    held = {target for target, places in on.items() if places[0] < perhaps}
    held |= {target for target in off if target not in on and _stood(steps, target, perhaps)}
    let_go = {target for target, places in off.items() if places[-1] < surely and _whole(steps[places[-1]])}
    return tuple(target for target in dict.fromkeys((*on, *off)) if target in held - let_go)


def _by_target(steps: Sequence[Step], role: Role) -> dict[Target, list[int]]:
    """Where the messages of a role stand, by the control that they move."""
    places: dict[Target, list[int]] = {}
    for n, step in enumerate(steps):
        if step.role is role:
            for control in sorted(step.moves):
                places.setdefault(Target(step.device, control), []).append(n)
    return places


def _stood(steps: Sequence[Step], target: Target, perhaps: int) -> bool:
    """Whether a control that is let go of without having been taken hold of may stand there.

    It stood there before, or a recall that has gone out puts it there.
    """
    recalls = [
        n
        for n, step in enumerate(steps)
        if step.role is Role.RECALL and step.device == target.device and target.control in step.moves
    ]
    return not recalls or recalls[0] < perhaps


def _whole(step: Step) -> bool:
    """Whether the step ends its unit."""
    return step.part == step.parts


def _left(device: Device, before: DeviceKnown, sent: Sequence[Step]) -> DeviceKnown:
    """What is known of a device that was sent some of its messages."""
    moved = {name for step in sent for name in step.moves}
    named = (n for n, control in enumerate(device.definition.controls) if control.name in moved)
    lost = device.definition.order.moved_with(named)
    controls = tuple(UNKNOWN if n in lost else stands for n, stands in enumerate(before.controls))
    elsewhere = before.bank is not None and any(_moves_bank(step) for step in sent)
    patch = UNKNOWN if PATCH in moved else before.patch
    return DeviceKnown(patch, UNKNOWN if elsewhere else before.bank, controls)


def _moves_bank(step: Step) -> bool:
    """Whether the message is bank select or a program change."""
    kind = step.data[0] >> 4
    return kind == 0xC or (kind == 0xB and step.data[1] in (0, 32))
