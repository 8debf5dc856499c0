"""A scene turns on a device whose pickup the instrument has not got."""

from __future__ import annotations

from switchmatrix.definition.values import Word
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Instrument, Rig
from switchmatrix.source import Span
from switchmatrix.states.show import ShowStates
from switchmatrix.states.state import DeviceState, Set


def pickup_missing(show: ShowStates) -> list[Diagnostic]:
    """Each line that engages a device fed by a pickup which an instrument of its scenes lacks."""
    scenes: dict[tuple[str, str, str, Span], list[str]] = {}
    for run in show.runs:
        if not any(device.pickup for device in run.rig.devices):
            continue
        instruments = {i.name: i for i in run.rig.instruments}
        for _, song in run.songs:
            for scene in song.states:
                instrument = instruments.get(scene.instrument or "")
                for state in scene.state.devices if instrument is not None else ():
                    span = _engaged_by(state, instrument)
                    if span is not None and instrument is not None:
                        key = (run.rig.id, state.device.name, instrument.name, span)
                        where = f"`{scene.scene}` of `{song.song.song.id}`"
                        if where not in scenes.setdefault(key, []):
                            scenes[key].append(where)
    rigs = {rig.id: rig for rig in show.rigs}
    return [
        _finding(rigs[rig], device, instrument, span, where)
        for (rig, device, instrument, span), where in scenes.items()
    ]


def _engaged_by(state: DeviceState, instrument: Instrument | None) -> Span | None:
    """The line that turns on a device whose pickup the instrument has not got."""
    pickup, main = state.device.pickup, state.device.definition.main
    if pickup is None or main is None or instrument is None or pickup in instrument.pickups:
        return None
    value = state.controls[state.device.definition.controls.index(main)]
    return value.origin.span if isinstance(value, Set) and value.gets == Word("on") else None


def _finding(rig: Rig, device_name: str, held: str, span: Span, scenes: list[str]) -> Diagnostic:
    device = next(d for d in rig.devices if d.name == device_name)
    instrument = next(i for i in rig.instruments if i.name == held)
    more = f" and {len(scenes) - 1} more scenes" if len(scenes) > 1 else ""
    message = (
        f"`{device.name}` takes its signal from the {device.pickup} pickup, "
        f"which `{instrument.name}` (in {scenes[0]}{more}) has not got"
    )
    help = f"turn `{device.name}` off there, or list the pickup under the instrument"
    related = (
        Related(instrument.span, f"`{instrument.name}` is here"),
        Related(device.span, f"`{device.name}` is here"),
    )
    return names.PICKUP_MISSING.at(span, message, help, related).on_rig(rig.id)
