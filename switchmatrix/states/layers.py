"""The layers of a scene: home, the instrument, the base, the scenes of its chain, each with its changes.

A block is made ready once a song and rig; every scene that uses it lays the same objects down.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import PATCH, Block, Line, Meaning, Setting, Target
from switchmatrix.model.song import BoundSong, Change, Ref, Scene
from switchmatrix.source import Span
from switchmatrix.states.state import Origin


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """What stands for a target, and the line that it comes from; compared by identity.

    `word` is the entry that brought it, `absent` the absent devices it was translated from; an outright
    line has neither. `span` is the place that gives the value: in a word, in the rig's file.
    """

    meaning: Meaning
    origin: Origin
    span: Span
    word: str | None = None
    absent: frozenset[str] = frozenset()

    @property
    def brought(self) -> bool:
        """Whether a word or a translation brought it."""
        return self.word is not None or bool(self.absent)


Placed = tuple[tuple[Target, Laid], ...]


@dataclass(frozen=True, slots=True, eq=False)
class ReadyLine:
    """A single line ready to be laid: what it brings the rig's own devices, absent ones, and triggers."""

    name: str
    entry: bool
    own: Placed
    absent: Placed
    fires: Placed


@dataclass(frozen=True, slots=True, eq=False)
class ReadyBlock:
    """The lines of one block, in name order: the order in the file does not matter."""

    lines: tuple[ReadyLine, ...]


@dataclass(frozen=True, slots=True)
class ReadySong:
    """A song's blocks, each with the changes to it over it."""

    home: ReadyBlock
    instruments: dict[str, ReadyBlock]
    base: tuple[ReadyBlock, ...]
    scenes: dict[str, tuple[ReadyBlock, ...]]


Lookup = Callable[[Setting, Line], Meaning | None]
"""The meaning of a setting, `home` looked up; None where home gives none (which has been said)."""


def ready_song(
    rig: Rig,
    song: BoundSong,
    changes: tuple[Change, ...],
    home: ReadyBlock,
    hands: frozenset[Target],
    lookup: Lookup,
) -> ReadySong:
    """The song's blocks, with the player's controls left out of instrument and base."""

    def ready(title: str, block: Block, passed_by: frozenset[Target], *, of_song: bool = True) -> ReadyBlock:
        return ready_block(rig, title, block, passed_by, lookup, of_song=of_song)

    instruments = {
        i.name: ready(f"instrument {i.name}", i.sets, hands, of_song=False) for i in rig.instruments
    }
    base = tuple(ready(title, block, hands) for title, block in changed("base", song.base, None, changes))
    scenes = {
        name: tuple(
            ready(title, block, frozenset())
            for title, block in changed(f"scene {name}", lines, name, changes)
        )
        for name, lines in song.scenes.items()
    }
    return ReadySong(home, instruments, base, scenes)


def ready_block(
    rig: Rig, title: str, block: Block, passed_by: frozenset[Target], lookup: Lookup, *, of_song: bool
) -> ReadyBlock:
    """The block's lines, less the settings of controls in `passed_by`."""
    lines = []
    for line in sorted(block, key=lambda line: line.name):
        origin = Origin(line.span, title, f"{line.name}: {line.text}", of_song and not line.entry)
        word = line.name if line.entry else None
        placed: list[tuple[Target, Laid]] = []
        for setting in sorted(line.settings, key=_patch_first):
            if setting.target in passed_by:
                continue
            meaning = lookup(setting, line)
            if meaning is not None:
                placed.append((setting.target, Laid(meaning, origin, setting.span, word)))
        fires = tuple(p for p in placed if p[0] in rig.triggers)
        settings = [p for p in placed if p[0] not in rig.triggers]
        absent = {a.name for a in rig.absents}
        lines.append(
            ReadyLine(
                line.name,
                line.entry,
                own=tuple(p for p in settings if p[0].device not in absent),
                absent=tuple(p for p in settings if p[0].device in absent),
                fires=fires,
            )
        )
    return ReadyBlock(tuple(lines))


def _patch_first(setting: Setting) -> bool:
    return setting.target.control != PATCH


def changed(
    title: str, block: Block, scene: str | None, changes: tuple[Change, ...]
) -> list[tuple[str, Block]]:
    """A block and the changes to it, less what the block, as changed so far, says already."""
    said = {line.name: line for line in block}
    out = [(title, block)]
    for change in changes:
        if change.scene == scene:
            new = tuple(line for line in change.lines if said.get(line.name) != line)
            said.update((line.name, line) for line in new)
            out.append((f"change of {change.by} to {title}", new))
    return out


def chain(song: BoundSong, scene: Scene) -> tuple[Scene, ...]:
    """The scene's parents in the order named, each after its own and only once; last the scene itself."""
    by_name = {s.name: s for s in song.song.scenes}
    done: dict[str, Scene] = {}
    entered: set[str] = set()
    waiting: list[tuple[Scene, bool]] = [(scene, False)]
    while waiting:
        at, parents_done = waiting.pop()
        if parents_done:
            done.setdefault(at.name, at)
        elif at.name not in entered:
            entered.add(at.name)
            waiting.append((at, True))
            above = [by_name[p.name] for p in at.likes if p.name in by_name and p.name not in done]
            waiting += [(parent, False) for parent in reversed(above)]
    return tuple(done.values())


def instrument_of(song: BoundSong, scene: Scene) -> Ref | None:
    """The instrument in force: the last that the scene or a scene it is like names, else the song's."""
    named = [s.instrument for s in chain(song, scene) if s.instrument is not None]
    return named[-1] if named else song.song.instrument


@dataclass(frozen=True, slots=True)
class Layers:
    """A scene's blocks in layer order, home first.

    From number `scene` on they are of the scene and the scenes it is like, from `own` on its own.
    """

    blocks: tuple[ReadyBlock, ...]
    scene: int
    own: int

    def remaining(self) -> list[tuple[int, list[ReadyLine]]]:
        """Home's line of each name, and over it the name's last line; by layer number."""
        last: dict[str, int] = {}
        for depth, block in enumerate(self.blocks):
            if depth:
                for line in block.lines:
                    last[line.name] = depth
        return [
            (depth, [line for line in block.lines if depth == 0 or last[line.name] == depth])
            for depth, block in enumerate(self.blocks)
        ]


def layers(ready: ReadySong, song: BoundSong, scene: Scene) -> Layers:
    """The blocks of one scene."""
    blocks = [ready.home]
    ref = instrument_of(song, scene)
    if ref is not None and ref.name in ready.instruments:
        blocks.append(ready.instruments[ref.name])
    blocks += ready.base
    of_scene = len(blocks)
    for above in chain(song, scene)[:-1]:
        blocks += ready.scenes[above.name]
    return Layers((*blocks, *ready.scenes[scene.name]), of_scene, len(blocks))
