"""What `diff` is given: shows, legs of shows, revisions of shows; and a leg on each of its rigs."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

import click

from switchmatrix.bind.songs import bind_changes
from switchmatrix.cli.common import counted, fail
from switchmatrix.compare.parity import OnRig
from switchmatrix.compare.records import Loss
from switchmatrix.compare.sides import Side
from switchmatrix.diagnostics import long
from switchmatrix.diagnostics.diagnostic import Diagnostic, Severity
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.files import RevisionError, read_revision
from switchmatrix.model.show import Leg
from switchmatrix.model.song import STANDING, Change
from switchmatrix.pipeline import Judged, judge, judge_read
from switchmatrix.states.show import Run

TROUBLE = 2
"""The exit code of a comparison that could not be made."""


@dataclass(frozen=True, slots=True)
class Given:
    """A show as the command line names it: its folder, the leg meant, the revision meant."""

    text: str
    folder: Path
    leg: str | None
    revision: str | None = None

    @property
    def called(self) -> str:
        """What this side is called in what is printed."""
        return self.text if self.revision is None else f"{self.text} at {self.revision}"


def given(text: str, revision: str | None = None) -> Given:
    """`FOLDER` or `FOLDER@LEG`; a folder whose own name has an `@` is a folder."""
    folder, at, leg = text.rpartition("@")
    if not at or Path(text).is_dir():
        return Given(text, Path(text), None, revision)
    return Given(text, Path(folder), leg, revision)


def judged_side(side: Given) -> Judged:
    """The show, judged; a revision that git cannot give is wrong usage."""
    if side.revision is None:
        return judge(side.folder)
    try:
        return judge_read(*read_revision(side.folder, side.revision))
    except RevisionError as error:
        raise fail(str(error)) from None


def sound_side(side: Given) -> Side:
    """The side, ready to be compared; where its show has an error, that is printed and the command ends."""
    judged = judged_side(side)
    if not judged.sound:
        refuse(side.called, judged, [d for d in judged.found if d.severity is Severity.ERROR])
    states = judged.worked_out
    legs = [leg.name for leg in states.show.legs]
    if side.leg is not None and side.leg not in legs:
        when = "" if side.revision is None else f" at {side.revision}"
        raise fail(f"{side.folder} has no leg {side.leg}{when}: {did_you_mean(side.leg, legs, 'legs')}")
    return Side(states, side.leg)


def refuse(called: str, judged: Judged, errors: list[Diagnostic]) -> None:
    """Print a side's errors and end with 2."""
    click.echo(f"{called}:\n", err=True)
    click.echo(long.render(errors, judged.files.texts), err=True, nl=False)
    click.echo(f"\n{counted(errors)}: nothing was compared", err=True)
    sys.exit(TROUBLE)


def one_leg(judged: Judged, name: str | None) -> Leg:
    """The leg named, or the first that has several rigs."""
    legs = judged.model.show.legs if judged.model.show is not None else ()
    if name is not None:
        leg = next((leg for leg in legs if leg.name == name), None)
        if leg is None:
            raise fail(f"no leg is called {name}: {did_you_mean(name, [leg.name for leg in legs], 'legs')}")
    else:
        leg = next((leg for leg in legs if len(leg.rigs) > 1), None)
        if leg is None:
            raise fail("no leg of the show has more than one rig")
    if len(leg.rigs) < 2:
        raise fail(f"the leg {leg.name} has one rig: there is nothing beside it")
    return leg


def rigs_of(called: str, judged: Judged, leg: Leg) -> tuple[OnRig, ...]:
    """The leg on each of its rigs. An error of a song that only some of them have is a rig's fault there."""
    errors = [d for d in judged.found if d.severity is Severity.ERROR]
    of_rig = [
        d for d in errors if d.rigs and not set(leg.rigs) <= set(d.rigs) and _scene(judged, d) is not None
    ]
    runs = (
        {run.rig.id: run for run in judged.states.runs if run.leg.name == leg.name} if judged.states else {}
    )
    if len(of_rig) < len(errors) or set(runs) != set(leg.rigs):
        refuse(called, judged, [d for d in errors if d not in of_rig] or errors)
    return tuple(_on_rig(judged, leg, runs[id], [d for d in of_rig if id in d.rigs]) for id in leg.rigs)


def _on_rig(judged: Judged, leg: Leg, run: Run, faults: list[Diagnostic]) -> OnRig:
    wrong: dict[tuple[str, str], tuple[Loss, ...]] = {}
    for d in faults:
        where = _scene(judged, d)
        if where is not None:
            wrong[where] = (*wrong.get(where, ()), Loss("", d.message, d.span))
    return OnRig(run, _changes(judged, leg, run), wrong)


def _scene(judged: Judged, finding: Diagnostic) -> tuple[str, str] | None:
    """The song and the scene (or `base`) in whose lines a finding stands; None where it is in no song."""
    source = judged.model.songs.get(finding.span.path.removesuffix(".yaml"))
    if source is None:
        return None
    at = (finding.span.line, finding.span.column)
    above = [s for s in source.song.scenes if (s.span.line, s.span.column) <= at]
    last = max(above, key=lambda s: (s.span.line, s.span.column), default=None)
    return source.song.id, "base" if last is None else last.name


def _changes(judged: Judged, leg: Leg, run: Run) -> dict[str, tuple[Change, ...]]:
    """By song, what the rig and then the leg change."""
    bound = judged.model.rigs[run.rig.id]
    if bound is None:
        return dict(run.rig.changes)
    songs = {**judged.model.songs, STANDING: bound.standing_source}
    of_leg = bind_changes(bound.scope, f"leg {leg.name}", judged.model.leg_changes.get(leg.name), songs, [])
    return {
        song: (*run.rig.changes.get(song, ()), *of_leg.get(song, ()))
        for song in dict.fromkeys((*run.rig.changes, *of_leg))
    }
