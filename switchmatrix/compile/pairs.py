"""Every ordered pair of a leg's states, and from unknown, device by device: what cannot be reached surely."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.compile.device import Trouble, device_transition
from switchmatrix.compile.known import DeviceKnown, device_found, reach, settled
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.state import DeviceState, Free, PatchIn, State, StoredIn


def pair_troubles(rig: Rig, states: Iterable[State]) -> list[Diagnostic]:
    """The findings of all transitions between the states, and from unknown: one a patch and trouble."""
    found: list[Diagnostic] = []
    every = list(states)
    for n, device in enumerate(rig.devices):
        distinct: dict[tuple[object, ...], DeviceState] = {}
        for state in every:
            distinct.setdefault(state.devices[n].key, state.devices[n])
        if not _can_trouble(device, distinct.values()):
            continue
        reached = reach(rig, device)
        befores = [device_found(device)]
        befores += dict.fromkeys(settled(state, reached) for state in distinct.values())
        troubled: _Troubled = {}
        for wanted in distinct.values():
            for before in befores:
                _judge(before, wanted, troubled)
        found += [_finding(device, trouble, *where) for (trouble, _), where in troubled.items()]
    return found


def _can_trouble(device: Device, states: Iterable[DeviceState]) -> bool:
    """Whether any state leaves a control to its patch, or a switch can only be flipped: else all is sure."""
    if any(control.toggle is not None for control in device.definition.controls):
        return True
    return any(isinstance(want, StoredIn) for state in states for want in state.wants)


_Troubled = dict[tuple[Trouble, object], tuple[DeviceState, set[int]]]
"""A state that each trouble shows in, by its patch, and the controls (by index) that it is about."""


def _judge(before: DeviceKnown, state: DeviceState, troubled: _Troubled) -> None:
    for trouble, index in device_transition(before, state).troubles:
        at = state.patch.patch.address if isinstance(state.patch, PatchIn) else state.patch
        where: object = index if trouble is Trouble.TOGGLE_UNSURE else at
        troubled.setdefault((trouble, where), (state, set()))[1].add(index)


def _finding(device: Device, trouble: Trouble, state: DeviceState, indexes: set[int]) -> Diagnostic:
    controls = [device.definition.controls[index].name for index in sorted(indexes)]
    if trouble is Trouble.TOGGLE_UNSURE:
        return _unsure(device, state, min(indexes))
    patch = state.patch
    if not isinstance(patch, PatchIn):
        raise TypeError(f"nothing of {device.name} is left to a patch")
    related = [Related(patch.origin.span, "the patch is chosen here")]
    shown = ", ".join(f"`{control}`" for control in controls)
    if trouble is Trouble.OVER_HANDS:
        message = (
            f"to bring back what `{patch.patch.name}` stores, `{device.name}` is sent its program again, "
            f"which also moves {shown}, in the player's hands"
        )
        help = f"list under `stores` of `{patch.patch.name}` what scenes leave to it: that is then sent alone"
        return names.RECALL_OVER_HANDS.at(patch.patch.span, message, help, tuple(related))
    stores = ", ".join(f"{control}: ..." for control in controls)
    help = (
        "say what the patch holds, and it is sent by its own message: "
        f"`{patch.patch.name}: {{at: {patch.patch.panel}, stores: {{{stores}}}}}`"
    )
    if trouble is Trouble.LEFT_TO_RESET:
        choices = [c for c in device.definition.controls if not set(c.resets).isdisjoint(controls)]
        related += [Related(c.span, f"`{c.name}` reloads it") for c in choices]
        message = (
            f"{shown} of `{device.name}` is left to the patch `{patch.patch.name}`, and a choice that is set "
            "after the recall reloads it"
        )
        return names.LEFT_TO_RESET.at(patch.patch.span, message, help, tuple(related))
    programs = device.definition.programs
    if programs is not None:
        related.append(Related(programs.span, "its definition says what a repeat does"))
    message = (
        f"{shown} of `{device.name}` is left to the patch `{patch.patch.name}`, "
        f"which `{device.name}` may not recall when it is in it already"
    )
    return names.LEFT_TO_REPEAT.at(patch.patch.span, message, help, tuple(related))


def _unsure(device: Device, state: DeviceState, index: int) -> Diagnostic:
    """A switch that would have to be flipped from nobody knows where."""
    control, given = device.definition.controls[index], state.controls[index]
    span = device.span if isinstance(given, Free) else given.origin.span
    if index in state.held:
        why, help = "the player moves it too", "take it out of the player's hands, or leave it to them"
    elif index not in dict(device.powers_up):
        why = "it is not said how it stands after power-up"
        help = "say so in its definition (`powers-up: off`) or at the device (`powers-up: {CONTROL: off}`)"
    else:
        why = "something that is not the tool's may have moved it"
        help = "give it a value in every scene, keep controllers and resets off it, or let a patch store it"
    message = f"`{device.name}.{control.name}` can only be flipped, and nobody knows how it stands: {why}"
    related = (Related(control.span, "its definition says that it is flipped"),)
    return names.TOGGLE_UNSURE.at(span, message, help, related)
