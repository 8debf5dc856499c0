"""Every ordered pair of a leg's states, and from unknown, device by device: what cannot be reached surely."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.compile.device import Trouble, device_transition
from switchmatrix.compile.known import DeviceKnown, device_unknown, reach, settled
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.state import AsPatch, DeviceState, PatchIn, State, StoredIn


def pair_troubles(rig: Rig, states: Iterable[State]) -> list[Diagnostic]:
    """The findings of all transitions between the states, and from unknown, each once."""
    found: dict[tuple[object, ...], Diagnostic] = {}
    every = list(states)
    for n, device in enumerate(rig.devices):
        distinct: dict[tuple[object, ...], DeviceState] = {}
        for state in every:
            distinct.setdefault(state.devices[n].key, state.devices[n])
        if not _can_trouble(distinct.values()):
            continue
        reached = reach(rig, device)
        befores = [device_unknown(device)]
        befores += dict.fromkeys(settled(state, reached) for state in distinct.values())
        for wanted in distinct.values():
            for before in befores:
                _judge(device, before, wanted, found)
    return list(found.values())


def _can_trouble(states: Iterable[DeviceState]) -> bool:
    """Whether any state leaves a control to its patch: without that no recall is in doubt or made again."""
    return any(isinstance(want, StoredIn) for state in states for want in state.wants)


def _judge(
    device: Device, before: DeviceKnown, state: DeviceState, found: dict[tuple[object, ...], Diagnostic]
) -> None:
    for trouble, index in device_transition(before, state).troubles:
        patch = state.patch
        if not isinstance(patch, PatchIn):
            continue
        control = device.definition.controls[index].name
        key = (trouble, patch.patch.program, index)
        if key in found:
            continue
        if trouble is Trouble.LEFT_TO_REPEAT:
            found[key] = _left(device, state, control, patch)
        else:
            found[key] = _over_hands(device, control, patch)


def _left(device: Device, state: DeviceState, control: str, patch: PatchIn) -> Diagnostic:
    programs = device.definition.programs
    span = programs.span if programs is not None else device.span
    message = (
        f"`{device.name}.{control}` is left to the patch `{patch.patch.name}`, but `{device.name}` may not "
        "recall it when it is in that patch already"
    )
    help = (
        "say what the patch holds, and it is sent by its own message: "
        f"`{patch.patch.name}: {{at: {patch.patch.panel}, stores: {{{control}: ...}}}}`"
    )
    related = [
        Related(patch.origin.span, "the patch is chosen here"),
        Related(span, "the definition's `repeat`"),
    ]
    wanted = state.controls[[c.name for c in device.definition.controls].index(control)]
    if isinstance(wanted, AsPatch) and wanted.origin.span != patch.origin.span:
        related.append(Related(wanted.origin.span, "left to the patch here"))
    return names.LEFT_TO_REPEAT.at(patch.patch.span, message, help, tuple(related))


def _over_hands(device: Device, control: str, patch: PatchIn) -> Diagnostic:
    message = (
        f"to bring back what `{patch.patch.name}` stores, `{device.name}` is sent its program again, "
        f"which also moves `{control}`, in the player's hands"
    )
    help = (
        f"list under `stores` of `{patch.patch.name}` what scenes leave to the patch: it is then sent alone"
    )
    related = (Related(patch.origin.span, "the patch is chosen here"),)
    return names.RECALL_OVER_HANDS.at(patch.patch.span, message, help, related)
