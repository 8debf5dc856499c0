"""The layers of a scene, and which line of each name remains."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import Block, Line
from switchmatrix.model.song import BoundSong, Change, Ref, Scene


@dataclass(frozen=True, slots=True)
class Layer:
    """One block's lines.

    `of_song`: the song wrote it, or it is a change to what the song wrote. `of_scene`: the scene, a scene
    it is like, or a change to either. `own`: the scene itself or a change to it; only there triggers count.
    """

    title: str
    lines: Block
    of_song: bool = False
    of_scene: bool = False
    own: bool = False


@dataclass(frozen=True, slots=True)
class Remaining:
    """A line that remains, with the number and title of its layer."""

    line: Line
    depth: int
    layer: Layer


def chain(song: BoundSong, scene: Scene) -> tuple[Scene, ...]:
    """The scene's parents in the order named, each after its own and only once; last the scene itself."""
    done: dict[str, Scene] = {}

    def visit(at: Scene) -> None:
        for parent in at.likes:
            above = song.song.scene(parent.name)
            if above is not None and above.name not in done and above is not scene:
                visit(above)
        done.setdefault(at.name, at)

    visit(scene)
    return tuple(done.values())


def instrument_of(song: BoundSong, scene: Scene) -> Ref | None:
    """The instrument in force: the last that the scene or a scene it is like names, else the song's."""
    named = [s.instrument for s in chain(song, scene) if s.instrument is not None]
    return named[-1] if named else song.song.instrument


def layers(rig: Rig, song: BoundSong, changes: tuple[Change, ...], scene: Scene) -> tuple[Layer, ...]:
    """Home; the instrument; the base; the scenes of the chain; each with its changes over it."""
    stack = [Layer("home", rig.home)]
    ref = instrument_of(song, scene)
    instrument = next((i for i in rig.instruments if ref is not None and i.name == ref.name), None)
    if instrument is not None:
        stack.append(Layer(f"instrument {instrument.name}", instrument.sets))
    stack += _changed(Layer("base", song.base, of_song=True), None, changes)
    for above in chain(song, scene):
        own = above is scene
        block = Layer(f"scene {above.name}", song.scenes[above.name], of_song=True, of_scene=True, own=own)
        stack += _changed(block, above.name, changes)
    return tuple(stack)


def _changed(block: Layer, scene: str | None, changes: tuple[Change, ...]) -> list[Layer]:
    """A block and the changes to it, less what the block, as changed so far, says already."""
    said = {line.name: line for line in block.lines}
    out = [block]
    for change in changes:
        if change.scene != scene:
            continue
        new = tuple(line for line in change.lines if said.get(line.name) != line)
        said.update((line.name, line) for line in new)
        title = f"change of {change.by} to {block.title}"
        out.append(Layer(title, new, block.of_song, block.of_scene, block.own))
    return out


def remaining(stack: tuple[Layer, ...]) -> tuple[Remaining, ...]:
    """Home's line of each name, and over it the name's last line; in layer order."""
    last: dict[str, int] = {}
    for depth, layer in enumerate(stack):
        if depth:
            last.update((line.name, depth) for line in layer.lines)
    return tuple(
        Remaining(line, depth, layer)
        for depth, layer in enumerate(stack)
        for line in sorted(layer.lines, key=lambda line: line.name)
        if depth == 0 or last[line.name] == depth
    )
