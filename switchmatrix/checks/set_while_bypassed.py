"""A patch chosen, or a control set outright, on a device that is bypassed wherever the line counts."""

from __future__ import annotations

from collections.abc import Iterator

from switchmatrix.definition.values import Word
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.states.show import ShowStates
from switchmatrix.states.state import DeviceState, Origin, PatchIn, Set


def set_while_bypassed(show: ShowStates) -> list[Diagnostic]:
    """Each line of a song that sets a device which no scene keeping the line engages."""
    found = []
    for rig in show.rigs:
        heard: dict[tuple[str, Origin], bool] = {}
        for run in show.runs_of(rig):
            for _, song in run.songs:
                for scene in song.states:
                    for state in scene.state.devices:
                        engaged = not _bypassed(state)
                        for origin in _outright(state):
                            key = (state.device.name, origin)
                            heard[key] = heard.get(key, False) or engaged
        for (device, origin), engaged in heard.items():
            if not engaged:
                message = f"`{origin.name}` is never heard: `{device}` is bypassed wherever the line counts"
                help = f"turn it on with `{device}: on`, or take the line out"
                found.append(names.SET_WHILE_BYPASSED.at(origin.span, message, help).on_rig(rig.id))
    return found


def _bypassed(state: DeviceState) -> bool:
    main = state.device.definition.main
    if main is None:
        return False
    value = state.controls[state.device.definition.controls.index(main)]
    return isinstance(value, Set) and value.gets == Word("off")


def _outright(state: DeviceState) -> Iterator[Origin]:
    """The song's own lines that set the device, its main switch apart."""
    if isinstance(state.patch, PatchIn) and state.patch.origin.outright:
        yield state.patch.origin
    for control, value in zip(state.device.definition.controls, state.controls, strict=True):
        if isinstance(value, Set) and value.origin.outright and not control.main:
            yield value.origin
