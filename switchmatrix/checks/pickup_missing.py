"""A scene turns on a device whose pickup the instrument has not got."""

from __future__ import annotations

from switchmatrix.definition.values import Word
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Instrument, Rig
from switchmatrix.states.show import ShowStates
from switchmatrix.states.state import DeviceState, SceneState, Set


def pickup_missing(show: ShowStates) -> list[Diagnostic]:
    """Each line that engages a device fed by a pickup which the scene's instrument lacks."""
    return [
        finding
        for run in show.runs
        for _, song in run.songs
        for scene in song.states
        for device in scene.state.devices
        for finding in _missing(run.rig, scene, device)
    ]


def _missing(rig: Rig, scene: SceneState, state: DeviceState) -> list[Diagnostic]:
    pickup, main = state.device.pickup, state.device.definition.main
    instrument = next((i for i in rig.instruments if i.name == scene.instrument), None)
    if pickup is None or main is None or not isinstance(instrument, Instrument):
        return []
    value = state.controls[state.device.definition.controls.index(main)]
    if not isinstance(value, Set) or value.gets != Word("on") or pickup in instrument.pickups:
        return []
    message = (
        f"`{state.device.name}` takes its signal from the {pickup} pickup, "
        f"which `{instrument.name}` (in `{scene.scene}`) has not got"
    )
    help = f"turn `{state.device.name}` off in this scene, or list the pickup under the instrument"
    related = (
        Related(instrument.span, f"`{instrument.name}` is here"),
        Related(state.device.span, f"`{state.device.name}` is here"),
    )
    return [names.PICKUP_MISSING.at(value.origin.span, message, help, related).on_rig(rig.id)]
