"""Every ordered pair of a leg's states, and from unknown, device by device: what cannot be reached surely."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.compile.device import Trouble, device_transition
from switchmatrix.compile.known import DeviceKnown, device_unknown, reach, settled
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.state import DeviceState, PatchIn, State, StoredIn


def pair_troubles(rig: Rig, states: Iterable[State]) -> list[Diagnostic]:
    """The findings of all transitions between the states, and from unknown: one a patch and trouble."""
    found: list[Diagnostic] = []
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
        troubled: dict[tuple[Trouble, int], tuple[PatchIn, set[int]]] = {}
        for wanted in distinct.values():
            for before in befores:
                _judge(before, wanted, troubled)
        found += [_finding(device, trouble, *where) for (trouble, _), where in troubled.items()]
    return found


def _can_trouble(states: Iterable[DeviceState]) -> bool:
    """Whether any state leaves a control to its patch: without that no recall is in doubt or made again."""
    return any(isinstance(want, StoredIn) for state in states for want in state.wants)


def _judge(
    before: DeviceKnown, state: DeviceState, troubled: dict[tuple[Trouble, int], tuple[PatchIn, set[int]]]
) -> None:
    for trouble, index in device_transition(before, state).troubles:
        if isinstance(state.patch, PatchIn):
            troubled.setdefault((trouble, state.patch.patch.program), (state.patch, set()))[1].add(index)


def _finding(device: Device, trouble: Trouble, patch: PatchIn, indexes: set[int]) -> Diagnostic:
    controls = [device.definition.controls[index].name for index in sorted(indexes)]
    related = [Related(patch.origin.span, "the patch is chosen here")]
    shown = ", ".join(f"`{control}`" for control in controls)
    if trouble is Trouble.OVER_HANDS:
        message = (
            f"to bring back what `{patch.patch.name}` stores, `{device.name}` is sent its program again, "
            f"which also moves {shown}, in the player's hands"
        )
        help = f"list under `stores` of `{patch.patch.name}` what scenes leave to it: that is then sent alone"
        return names.RECALL_OVER_HANDS.at(patch.patch.span, message, help, tuple(related))
    programs = device.definition.programs
    if programs is not None:
        related.append(Related(programs.span, "its definition says what a repeat does"))
    message = (
        f"{shown} of `{device.name}` is left to the patch `{patch.patch.name}`, "
        f"which `{device.name}` may not recall when it is in it already"
    )
    stores = ", ".join(f"{control}: ..." for control in controls)
    help = (
        "say what the patch holds, and it is sent by its own message: "
        f"`{patch.patch.name}: {{at: {patch.patch.panel}, stores: {{{stores}}}}}`"
    )
    return names.LEFT_TO_REPEAT.at(patch.patch.span, message, help, tuple(related))
