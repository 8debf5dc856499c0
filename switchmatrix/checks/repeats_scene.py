"""A scene that only repeats another one's state, without saying so."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.song import Song
from switchmatrix.states.layers import chain
from switchmatrix.states.show import ShowStates
from switchmatrix.states.visits import SongStates


def repeats_scene(show: ShowStates) -> list[Diagnostic]:
    """Each scene with the states of an earlier one wherever the song is played, neither like the other."""
    everywhere: dict[str, tuple[Song, dict[str, set[str]]]] = {}
    for run in show.runs:
        for _, song in run.songs:
            source, here = song.song.song, _repeated(song)
            path = f"{source.span.path} {source.id}"
            if path in everywhere:
                before = everywhere[path][1]
                here = {name: same & here.get(name, set()) for name, same in before.items()}
            everywhere[path] = (source, here)
    return [
        finding
        for source, repeated in everywhere.values()
        for name, same in repeated.items()
        if same
        for finding in _finding(source, name, same)
    ]


def _finding(song: Song, name: str, same: set[str]) -> list[Diagnostic]:
    earlier = next(scene for scene in song.scenes if scene.name in same)
    scene = song.scene(name)
    if scene is None:
        return []
    message = f"`{name}` is the same as `{earlier.name}` in every control"
    help = f"write `{name}: {{like: {earlier.name}}}` if that is meant"
    related = (Related(earlier.span, f"`{earlier.name}` is here"),)
    return [names.REPEATS_SCENE.at(scene.span, message, help, related)]


def _repeated(song: SongStates) -> dict[str, set[str]]:
    """For each scene the earlier ones of the same states; none where one of them is its kin by `like`."""
    keys: dict[str, tuple[object, ...]] = {}
    for state in song.states:
        keys[state.scene] = (*keys.get(state.scene, ()), state.state.key)
    firing = {visit.scene for visit in song.visits if visit.triggers}
    groups: dict[tuple[object, ...], list[str]] = {}
    for scene in song.song.song.scenes:
        if scene.name in keys and scene.name not in firing:
            groups.setdefault(keys[scene.name], []).append(scene.name)
    repeated: dict[str, set[str]] = {}
    for group in groups.values():
        repeated |= _strangers(song, group)
    return repeated


def _strangers(song: SongStates, group: list[str]) -> dict[str, set[str]]:
    """Of scenes with the same states: each that neither is like another nor has one like it."""
    if len(group) < 2:
        return {}
    together = set(group)
    like: dict[str, set[str]] = {name: set() for name in group}
    for name in group:
        scene = song.song.song.scene(name)
        above = {s.name for s in chain(song.song, scene)} if scene is not None else set()
        for kin in (above & together) - {name}:
            like[name].add(kin)
            like[kin].add(name)
    return {name: set(group[:n]) for n, name in enumerate(group) if n and not like[name]}
