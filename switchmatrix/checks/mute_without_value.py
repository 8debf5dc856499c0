"""A mute gives back what the scene wants of the control it holds: every scene must want something."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Mute, Rig
from switchmatrix.model.settings import Target
from switchmatrix.states.show import ShowStates, first_of


def mute_without_value(show: ShowStates) -> list[Diagnostic]:
    """Each held control that some scene gives no code, or that the player of some song holds."""
    found = []
    for rig in show.rigs:
        for mute in rig.mutes:
            for target, _ in mute.holds:
                without, held = _scenes(show, rig, target)
                if held:
                    found.append(_by_hand(mute, target, held))
                elif without:
                    found.append(_finding(rig, mute, target, without))
    return found


def _scenes(show: ShowStates, rig: Rig, target: Target) -> tuple[list[str], list[str]]:
    """The scenes that give the control no code, and those of songs whose player holds it."""
    device = next(n for n, d in enumerate(rig.devices) if d.name == target.device)
    controls = rig.devices[device].definition.controls
    index = next(n for n, c in enumerate(controls) if c.name == target.control)
    without: dict[str, None] = {}
    held: dict[str, None] = {}
    for run in show.runs_of(rig):
        for _, song in run.songs:
            for scene in song.states:
                state, name = scene.state.devices[device], f"`{scene.scene}` of `{song.song.song.id}`"
                if index in state.held:
                    held[name] = None
                elif not isinstance(state.wants[index], int):
                    without[name] = None
    return list(without), list(held)


def _by_hand(mute: Mute, target: Target, scenes: list[str]) -> Diagnostic:
    message = f"a mute holds `{target}`, and the player holds it in {first_of(scenes)}"
    help = "hold a control of the tool's own, or take this one out of the song's `hands`"
    return names.MUTE_UNSOUND.at(mute.span, message, help)


def _finding(rig: Rig, mute: Mute, target: Target, scenes: list[str]) -> Diagnostic:
    message = f"a mute holds `{target}`, and {first_of(scenes)} gives it no value to go back to"
    help = f"give `{target}` a value under `home`, or list it under what the patch `stores`"
    device = rig.device(target.device)
    related = (Related(device.span, f"`{target.device}` is here"),) if device is not None else ()
    return names.MUTE_UNSOUND.at(mute.span, message, help, related)
