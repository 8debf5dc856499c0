"""A scene that the running order leaves out, and that no other scene is like."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.model.song import STANDING
from switchmatrix.states.show import ShowStates


def never_visited(show: ShowStates) -> list[Diagnostic]:
    """Each such scene of a song whose other scenes have places, or an order."""
    found: dict[object, Diagnostic] = {}
    for run in show.runs:
        for _, song in run.songs:
            source = song.song.song
            visited = {visit.scene for visit in song.visits}
            used = visited | {parent.name for scene in source.scenes for parent in scene.likes}
            for state in song.states:
                scene = source.scene(state.scene)
                if source.id == STANDING or scene is None or scene.name in used:
                    continue
                message = f"`{scene.name}` is never visited: the song's order leaves it out"
                help = "give it a place with `at`, or a place in `order`"
                found[scene.span] = names.NEVER_VISITED.at(scene.span, message, help)
    return list(found.values())
