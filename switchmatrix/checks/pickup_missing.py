"""A scene turns on a device whose pickup the instrument has not got."""

from __future__ import annotations

from switchmatrix.definition.values import Word
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Instrument, Rig
from switchmatrix.source import Span
from switchmatrix.states.show import ShowStates, first_of
from switchmatrix.states.state import AsPatch, DeviceState, Set


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
    pickup = state.device.pickup
    if pickup is None or instrument is None or pickup in instrument.pickups or state.main != Word("on"):
        return None
    return next(
        value.origin.span
        for control, value in zip(state.device.definition.controls, state.controls, strict=True)
        if control.main and isinstance(value, Set | AsPatch)
    )


def _finding(rig: Rig, device_name: str, held: str, span: Span, scenes: list[str]) -> Diagnostic:
    device = next(d for d in rig.devices if d.name == device_name)
    instrument = next(i for i in rig.instruments if i.name == held)
    message = (
        f"`{device.name}` takes its signal from the {device.pickup} pickup, "
        f"which `{instrument.name}` (in {first_of(scenes)}) has not got"
    )
    help = f"turn `{device.name}` off there, or list the pickup under the instrument"
    related = (
        Related(instrument.span, f"`{instrument.name}` is here"),
        Related(device.span, f"`{device.name}` is here"),
    )
    return names.PICKUP_MISSING.at(span, message, help, related).on_rig(rig.id)
