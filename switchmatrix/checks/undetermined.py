"""States left to chance."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.model.rig import Device
from switchmatrix.model.settings import Target
from switchmatrix.states.show import ShowStates, first_of
from switchmatrix.states.state import DeviceState, Free


def undetermined(show: ShowStates) -> list[Diagnostic]:
    """Each device with controls that no layer sets, no patch stores and no player holds."""
    found = []
    for rig in show.rigs:
        chance: dict[str, dict[str, list[str]]] = {}
        muted = {target for mute in rig.mutes for target, _ in mute.holds}
        for run in show.runs_of(rig):
            for _, song in run.songs:
                for scene in song.states:
                    for state in scene.state.devices:
                        for label in _left(state, muted):
                            scenes = chance.setdefault(state.device.name, {}).setdefault(label, [])
                            scenes.append(f"`{scene.scene}` of `{song.song.song.id}`")
        for device in rig.devices:
            if device.name in chance:
                found.append(_finding(device, chance[device.name]))
    return found


def _left(state: DeviceState, muted: set[Target]) -> list[str]:
    """What of a device's state is left to chance; a patch stands for all that it stores.

    Of a control that a mute holds, the check of mutes says it.
    """
    left = ["patch"] if state.patch is Free.UNDETERMINED else []
    for control, value in zip(state.device.definition.controls, state.controls, strict=True):
        with_patch = control.stored and state.patch is Free.UNDETERMINED
        target = Target(state.device.name, control.name)
        if value is Free.UNDETERMINED and not with_patch and target not in muted:
            left.append(control.name)
    return left


def _finding(device: Device, controls: dict[str, list[str]]) -> Diagnostic:
    scenes = list(dict.fromkeys(scene for where in controls.values() for scene in where))
    shown = ", ".join(f"`{device.name}.{label}`" for label in controls)
    message = f"left to chance: nothing sets {shown} in {first_of(scenes)}"
    help = "give each a value under `home`, or name it under `hands` if the player moves it"
    return names.UNDETERMINED.at(device.span, message, help)
