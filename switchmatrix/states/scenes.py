"""A scene's settings: its layers laid down, `home` looked up, absent devices translated."""

from __future__ import annotations

from dataclasses import dataclass, replace

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import PATCH, AsStored, AtHome, Chosen, Coded, Meaning, Setting, Target
from switchmatrix.model.song import BoundSong, Change, Scene
from switchmatrix.states.absent import hands_of, translate
from switchmatrix.states.layers import Layer, Remaining, layers, remaining
from switchmatrix.states.laying import Laid, Table
from switchmatrix.states.state import Trigger


@dataclass(frozen=True, slots=True)
class SceneSettings:
    """What is laid for the rig's own devices, what fires, and what is in the player's hands."""

    laid: dict[Target, Laid]
    triggers: tuple[Trigger, ...]
    hands: frozenset[Target]


def home_settings(rig: Rig, found: list[Diagnostic]) -> dict[Target, Laid]:
    """The home state's settings, of absent devices too; the player's controls included."""
    return _lay(rig, remaining((Layer("home", rig.home),)), {}, found, frozenset())[0]


def scene_settings(
    rig: Rig,
    song: BoundSong,
    changes: tuple[Change, ...],
    scene: Scene,
    home: dict[Target, Laid],
    found: list[Diagnostic],
) -> SceneSettings:
    """The settings of one scene of a song, by the rules of layers."""
    lines = remaining(layers(rig, song, changes, scene))
    hands = hands_of(rig, song.hands)
    laid, triggers = _lay(rig, lines, home, found, hands)
    own = {target: value for target, value in laid.items() if rig.device(target.device) is not None}
    return SceneSettings(own, triggers, hands)


def _lay(
    rig: Rig,
    lines: tuple[Remaining, ...],
    home: dict[Target, Laid],
    found: list[Diagnostic],
    hands: frozenset[Target],
) -> tuple[dict[Target, Laid], tuple[Trigger, ...]]:
    """Absent devices as if the rig had them, then its own devices with what the absent ones become."""
    kept = [_counting(rig, line, hands, home, found) for line in lines]
    absent = Table({a.name: a.definition for a in rig.absents}, found)
    absent.lay(kept)
    absent.check_agreement()
    own = Table({d.name: d.definition for d in rig.devices}, found)
    own.lay(kept, translate(rig, absent, found))
    own.check_agreement()
    fired = []
    for target, meaning, laid in own.fired:
        device = rig.device(target.device)
        if device is not None:
            fired.append(Trigger(device, target.control, meaning.code, laid.origin()))
    return {**absent.laid, **own.laid}, _in_device_order(rig, fired)


def _in_device_order(rig: Rig, fired: list[Trigger]) -> tuple[Trigger, ...]:
    order = {
        (device.name, control.name): (n, m)
        for n, device in enumerate(rig.devices)
        for m, control in enumerate(device.definition.controls)
    }
    return tuple(sorted(fired, key=lambda t: order[t.device.name, t.control]))


def _counting(
    rig: Rig,
    line: Remaining,
    hands: frozenset[Target],
    home: dict[Target, Laid],
    found: list[Diagnostic],
) -> Remaining:
    """The line with the settings that count in its layer, `home` put in.

    The player's controls count only where the scene, a scene it is like or a change names them;
    triggers only in the scene itself.
    """
    settings = []
    for setting in line.line.settings:
        if (setting.target in hands and not line.layer.of_scene) or (
            setting.target in rig.triggers and not line.layer.own
        ):
            continue
        if isinstance(setting.meaning, AtHome):
            meaning = _at_home(rig, setting, line, home, found)
            if meaning is None:
                continue
            setting = Setting(setting.target, meaning, setting.span)
        settings.append(setting)
    if settings == list(line.line.settings):
        return line
    return replace(line, line=replace(line.line, settings=tuple(settings)))


def _at_home(
    rig: Rig, setting: Setting, line: Remaining, home: dict[Target, Laid], found: list[Diagnostic]
) -> Meaning | None:
    """What home gives the target: its own value, or what home's patch is said to store."""
    target = setting.target
    laid = home.get(target)
    if laid is not None and not isinstance(laid.meaning, AsStored | AtHome):
        return laid.meaning
    patch = home.get(Target(target.device, PATCH))
    if patch is not None and isinstance(patch.meaning, Chosen) and target.control != PATCH:
        stored = patch.meaning.patch.stored(target.control)
        if stored is not None:
            return Coded(stored.code, stored.asked, stored.gets)
    message = f"`{target}` is to be as at home, but home gives it no value"
    help = f"set `{target}` under `home` in the rig's file ({rig.id}), or say its value here"
    found.append(names.HOME_GIVES_NOTHING.at(line.line.span, message, help))
    return None
