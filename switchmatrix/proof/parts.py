"""A device in parts whose messages cannot touch each other: each can be proved by itself."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from switchmatrix.definition.carriers import ParameterCarrier, ProgramCarrier
from switchmatrix.model.rig import Device
from switchmatrix.states.state import DeviceState, Free, PatchIn


@dataclass(frozen=True, slots=True)
class Part:
    """Some of a device's controls (by index), and its patch where `patch` says so."""

    patch: bool
    controls: frozenset[int]

    def of(self, state: DeviceState) -> DeviceState:
        """The state with all that is no part of this left out of it."""
        return replace(
            state,
            patch=state.patch if self.patch or state.patch is None else Free.UNDETERMINED,
            controls=tuple(
                value if n in self.controls else Free.UNDETERMINED for n, value in enumerate(state.controls)
            ),
            held=state.held & self.controls,
            patch_held=state.patch_held and self.patch,
        )

    def key(self, state: DeviceState) -> tuple[object, ...]:
        """What makes two states the same in this part, on the wire."""
        patch = state.patch.patch.address if isinstance(state.patch, PatchIn) else state.patch
        return (
            patch if self.patch else None,
            tuple(state.wants[n] for n in sorted(self.controls)),
            state.held & self.controls,
            state.patch_held and self.patch,
        )


def parts_of(device: Device, together: Iterable[frozenset[int]] = ()) -> tuple[Part, ...]:
    """The patch with all that it stores is one part, each control that it does not store another.

    Joined are: a choice and what it reloads; the switch that a repeat flips and the patch; controls that
    travel as programs and the patch; parameters of one channel, which share their numbers; and what
    is to be `together` (controls by index, the patch one past them).
    """
    controls, programs = device.definition.controls, device.definition.programs
    group = list(range(len(controls) + 1))
    patch = len(controls)

    def find(n: int) -> int:
        while group[n] != n:
            n = group[n]
        return n

    def join(one: int, other: int) -> None:
        group[find(one)] = find(other)

    parameters: dict[int, int] = {}
    for n, control in enumerate(controls):
        by_program = isinstance(control.carrier, ProgramCarrier)
        if programs is not None and (control.stored or by_program or programs.toggled == control.name):
            join(n, patch)
        if by_program and programs is None:
            join(n, next(m for m, c in enumerate(controls) if isinstance(c.carrier, ProgramCarrier)))
        for below in device.definition.order.reloads[n]:
            join(n, below)
        if isinstance(control.carrier, ParameterCarrier):
            join(n, parameters.setdefault(0 if device.omni else device.channel_of(control.channel), n))
    for one, *others in (sorted(found) for found in together):
        for other in others:
            join(one, other)
    members: dict[int, set[int]] = {}
    for n in range(len(controls) + (programs is not None)):
        members.setdefault(find(n), set()).add(n)
    return tuple(Part(patch in found, frozenset(found - {patch})) for found in members.values())


def whole(device: Device) -> Part:
    """The device as one part."""
    return Part(device.definition.programs is not None, frozenset(range(len(device.definition.controls))))
