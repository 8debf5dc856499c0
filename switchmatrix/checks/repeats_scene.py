"""A scene that only repeats another one's state, without saying so."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.song import Scene
from switchmatrix.states.layers import chain
from switchmatrix.states.show import ShowStates
from switchmatrix.states.visits import SongStates

_Pair = tuple[Scene, Scene]


def repeats_scene(show: ShowStates) -> list[Diagnostic]:
    """Each scene with the states of an earlier one wherever the song is played, neither like the other."""
    everywhere: dict[str, list[_Pair]] = {}
    for run in show.runs:
        for _, song in run.songs:
            here = _pairs(song)
            path = f"{song.song.song.span.path} {song.song.song.id}"
            everywhere[path] = [p for p in everywhere.get(path, here) if p in here]
    found = []
    for pairs in everywhere.values():
        said: set[str] = set()
        for scene, earlier in pairs:
            if scene.name not in said:
                said.add(scene.name)
                message = f"`{scene.name}` is the same as `{earlier.name}` in every control"
                help = f"write `{scene.name}: {{like: {earlier.name}}}` if that is meant"
                related = (Related(earlier.span, f"`{earlier.name}` is here"),)
                found.append(names.REPEATS_SCENE.at(scene.span, message, help, related))
    return found


def _pairs(song: SongStates) -> list[_Pair]:
    keys: dict[str, list[object]] = {}
    for state in song.states:
        keys.setdefault(state.scene, []).append(state.state.key)
    firing = {visit.scene for visit in song.visits if visit.triggers}
    scenes = [s for s in song.song.song.scenes if s.name in keys and s.name not in firing]
    above = {scene.name: {s.name for s in chain(song.song, scene)} for scene in scenes}
    pairs = []
    for n, scene in enumerate(scenes):
        same = [s for s in scenes if s is not scene and keys[s.name] == keys[scene.name]]
        if any(s.name in above[scene.name] or scene.name in above[s.name] for s in same):
            continue
        pairs += [(scene, earlier) for earlier in same if earlier in scenes[:n]]
    return pairs
