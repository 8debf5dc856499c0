"""A song that no setlist plays."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.source import whole_file
from switchmatrix.states.show import ShowStates


def song_unused(show: ShowStates) -> list[Diagnostic]:
    """Each song file that stands in no setlist of any leg."""
    return [
        names.SONG_UNUSED.at(
            whole_file(f"{id}.yaml"),
            f"no setlist has `{id}`, so its lines are not checked",
            "add it to a `setlist` in show.yaml when it is to be played",
        )
        for id in show.unused
    ]
