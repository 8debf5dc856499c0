"""A patch chosen, or a control set outright, on a device that is bypassed wherever the line counts."""

from __future__ import annotations

from collections.abc import Iterator

from switchmatrix.definition.values import Word
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.states.show import ShowStates, distinct_device_states
from switchmatrix.states.state import DeviceState, Origin, PatchIn, Set


def set_while_bypassed(show: ShowStates) -> list[Diagnostic]:
    """The lines of a block that set a device which no scene keeping them engages: one finding a device."""
    found = []
    for rig in show.rigs:
        heard: dict[tuple[str, Origin], bool] = {}
        for state in distinct_device_states(show.runs_of(rig)):
            engaged = state.main != Word("off")
            for origin in _outright(state):
                key = (state.device.name, origin)
                heard[key] = heard.get(key, False) or engaged
        silent: dict[tuple[str, str, str], list[Origin]] = {}
        for (device, origin), engaged in heard.items():
            if not engaged:
                silent.setdefault((device, origin.span.path, origin.layer), []).append(origin)
        found += [_finding(device, origins).on_rig(rig.id) for (device, _, _), origins in silent.items()]
    return found


def _finding(device: str, origins: list[Origin]) -> Diagnostic:
    first, *others = sorted(origins, key=lambda origin: origin.span)
    shown = ", ".join(f"`{origin.name}`" for origin in (first, *others))
    message = f"{shown} is never heard: `{device}` is bypassed wherever the line counts"
    related = tuple(Related(origin.span, "so is this") for origin in others if origin.span != first.span)
    help = f"turn it on with `{device}: on`, or take the line out"
    return names.SET_WHILE_BYPASSED.at(first.span, message, help, related)


def _outright(state: DeviceState) -> Iterator[Origin]:
    """The song's own lines that set the device, its main switch apart."""
    if isinstance(state.patch, PatchIn) and state.patch.origin.outright:
        yield state.patch.origin
    for control, value in zip(state.device.definition.controls, state.controls, strict=True):
        if isinstance(value, Set) and value.origin.outright and not control.main:
            yield value.origin
