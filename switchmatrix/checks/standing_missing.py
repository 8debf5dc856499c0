"""A setlist calls for a standing scene that a rig has not got."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.states.show import ShowStates


def standing_missing(show: ShowStates) -> list[Diagnostic]:
    """Each standing entry of a setlist that a rig of the leg does not know."""
    found = []
    for run in show.runs:
        known = [scene.name for scene in run.rig.standing.song.scenes]
        for item in run.leg.setlist:
            if item.standing and item.name not in known:
                message = f"no standing scene is called `{item.name}`"
                help = did_you_mean(item.name, known, "standing scenes")
                if not known:
                    help = f"write it under `standing` in rigs/{run.rig.id}.yaml"
                found.append(names.STANDING_MISSING.at(item.span, message, help).on_rig(run.rig.id))
    return found
