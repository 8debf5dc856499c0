"""A scene's settings: its layers laid down, `home` looked up, absent devices translated."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.model.rig import DoneWithout, Rig
from switchmatrix.model.settings import (
    PATCH,
    AsStored,
    AtHome,
    Chosen,
    Coded,
    Fired,
    Line,
    Meaning,
    Setting,
    Target,
)
from switchmatrix.model.song import BoundSong, Change, Scene
from switchmatrix.source import Span
from switchmatrix.states.absent import translate
from switchmatrix.states.layers import (
    Laid,
    Layers,
    ReadyBlock,
    ReadySong,
    layers,
    ready_block,
    ready_song,
)
from switchmatrix.states.laying import Overwritten, Table
from switchmatrix.states.state import Trigger


@dataclass(frozen=True, slots=True)
class SceneSettings:
    """What is laid for the rig's own devices, and what fires."""

    laid: dict[Target, Laid]
    triggers: tuple[Trigger, ...]


class RigScenes:
    """The scenes of songs on one rig: what is the same for all of them is made once."""

    def __init__(self, rig: Rig, found: list[Diagnostic]) -> None:
        self.rig = rig
        owners = [(d.name, d.definition) for d in rig.devices] + [(a.name, a.definition) for a in rig.absents]
        self.overwritten: Overwritten = {
            name: tuple(Target(name, c.name) for c in definition.controls if c.stored)
            for name, definition in owners
        }
        self.controls = {
            Target(name, control.name): control
            for name, definition in owners
            for control in definition.controls
        }
        self.order = {
            Target(device.name, control.name): n
            for n, (device, control) in enumerate((d, c) for d in rig.devices for c in d.definition.controls)
        }
        self.without = frozenset(
            target.device
            for target, becomes in rig.translations.items()
            if target.control == PATCH and isinstance(becomes, DoneWithout)
        )
        self.homes: dict[frozenset[Target], ReadyBlock] = {}
        self.home: dict[Target, Laid] = {}
        alone = self._home_block(frozenset(), found)
        self.home, _ = self._lay(Layers((alone,), 1, 1), frozenset(), found)

    def song(self, song: BoundSong, changes: tuple[Change, ...], found: list[Diagnostic]) -> ReadySong:
        """The song's blocks."""
        hands = song.hands
        home = self.homes.get(hands)
        if home is None:
            home = self.homes[hands] = self._home_block(hands, found)

        def lookup(setting: Setting, line: Line) -> Meaning | None:
            return self._meaning(setting, line.span, found)

        return ready_song(self.rig, song, changes, home, hands, lookup)

    def scene(
        self, ready: ReadySong, song: BoundSong, scene: Scene, found: list[Diagnostic]
    ) -> SceneSettings:
        """The settings of one scene, by the rules of layers."""
        laid, triggers = self._lay(layers(ready, song, scene), song.hands, found)
        return SceneSettings(laid, triggers)

    def _home_block(self, hands: frozenset[Target], found: list[Diagnostic]) -> ReadyBlock:
        """Home without what the player holds."""

        def lookup(setting: Setting, line: Line) -> Meaning | None:
            return self._meaning(setting, line.span, found)

        return ready_block(self.rig, "home", self.rig.home, hands, lookup, of_song=False)

    def _lay(
        self, stack: Layers, hands: frozenset[Target], found: list[Diagnostic]
    ) -> tuple[dict[Target, Laid], tuple[Trigger, ...]]:
        """Absent devices as if the rig had them, then its own devices with what the absent ones become."""
        by_layer = stack.remaining()
        fires = [
            (depth, target, laid)
            for depth, lines in by_layer
            if depth >= stack.own
            for line in lines
            for target, laid in line.fires
        ]
        own = Table(self.overwritten, self.controls, found)
        if self.rig.absents:
            absent = Table(self.overwritten, self.controls, found, self.without)
            absent.lay(by_layer, [], absent=True)
            absent.check_agreement()
            away = {a.name for a in self.rig.absents}
            absent_fires = [f for f in fires if f[1].device in away]
            become = translate(self.rig, absent, absent_fires, self._home_in_row(found), found)
            counting = [
                item.without(hands, stack.scene).without(self.rig.triggers, stack.own) for item in become
            ]
            own.lay(by_layer, counting, absent=False)
            own.check_agreement()
            laid = {**absent.laid, **own.laid}
        else:
            own.lay(by_layer, [], absent=False)
            own.check_agreement()
            laid = own.laid
        fired = [*own.fired, *((target, laid) for _, target, laid in fires)]
        return laid, self._triggers(fired)

    def _triggers(self, fired: list[tuple[Target, Laid]]) -> tuple[Trigger, ...]:
        """Each trigger once, devices in rig-file order, controls in definition order."""
        triggers: dict[Target, Trigger] = {}
        for target, laid in fired:
            device = self.rig.device(target.device)
            if device is not None and isinstance(laid.meaning, Fired):
                triggers[target] = Trigger(device, target.control, laid.meaning.code, laid.origin)
        return tuple(triggers[target] for target in sorted(triggers, key=self.order.__getitem__))

    def _home_in_row(self, found: list[Diagnostic]) -> Callable[[Setting, Span], Meaning | None]:
        """Look `home` up for what a table row brings; the place is that of the line that brings the row."""
        return lambda setting, span: self._meaning(setting, span, found)

    def _meaning(self, setting: Setting, span: Span, found: list[Diagnostic]) -> Meaning | None:
        """The setting's meaning; `home` is home's own value, or what home's patch is said to store."""
        if not isinstance(setting.meaning, AtHome):
            return setting.meaning
        target = setting.target
        laid = self.home.get(target)
        if laid is not None and not isinstance(laid.meaning, AsStored | AtHome):
            return laid.meaning
        patch = self.home.get(Target(target.device, PATCH))
        if patch is not None and isinstance(patch.meaning, Chosen) and target.control != PATCH:
            stored = patch.meaning.patch.stored(target.control)
            if stored is not None:
                return Coded(stored.code, stored.asked, stored.gets)
        message = f"`{target}` is to be as at home, but home gives it no value"
        help = f"set `{target}` under `home` in the rig's file ({self.rig.id}), or say its value here"
        if any(line.span == span for line in self.rig.home):
            message = f"`home` is itself what `{target}: home` looks up"
            help = "write a value"
        found.append(names.HOME_GIVES_NOTHING.at(span, message, help))
        return None
