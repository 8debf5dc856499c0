"""What commands share: the show they are given, its findings, the leg, rig, song and scene they are about."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from switchmatrix.bind.whole import Model
from switchmatrix.diagnostics import long
from switchmatrix.diagnostics.diagnostic import Diagnostic, Severity
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.editor.show_schema import Written
from switchmatrix.files import write_files
from switchmatrix.model.song import STANDING
from switchmatrix.pipeline import Judged, judge
from switchmatrix.states.show import Run
from switchmatrix.states.state import State, Trigger, Visit
from switchmatrix.states.visits import SongStates

show_argument = click.argument("show", type=click.Path(path_type=Path))
leg_option = click.option("--leg", metavar="LEG", help="The leg; default: the first of show.yaml.")
rig_option = click.option("--rig", metavar="RIG", help="The rig's id; default: the leg's first.")


def fail(message: str) -> click.UsageError:
    """A wrong word on the command line: exit 2."""
    return click.UsageError(message)


def sound_show(show: Path) -> Judged:
    """The show, judged; where it has an error its findings are printed and the command ends with 1."""
    judged = judge(show)
    if not judged.sound:
        errors = [d for d in judged.found if d.severity is Severity.ERROR]
        click.echo(long.render(errors, judged.files.texts), err=True, nl=False)
        click.echo(f"\n{counted(judged.found)}: nothing was compiled", err=True)
        sys.exit(1)
    return judged


def write(folder: Path, files: dict[str, str], record: str | None = None) -> None:
    """Write texts into a folder, or end with 1 and a reason."""
    write_bytes(folder, {path: text.encode("utf-8") for path, text in files.items()}, record)


def write_bytes(folder: Path, files: dict[str, bytes], record: str | None = None) -> None:
    """Write files into a folder, or end with 1 and a reason."""
    try:
        write_files(folder, files, record)
    except OSError as error:
        raise click.ClickException(f"cannot write into {folder}: {error.strerror or error}") from None


def written_of(model: Model) -> Written:
    """What of a show could be read, for its own schemas."""
    return Written(
        show=model.show,
        rigs=tuple(bound.rig for bound in model.rigs.values() if bound is not None),
        songs=tuple(source.song for source in model.songs.values() if source is not None),
        definitions=tuple(model.definitions),
    )


def counted(found: list[Diagnostic]) -> str:
    """`2 errors, 1 warning`."""
    counts = [(kind, sum(d.severity is kind for d in found)) for kind in Severity]
    said = [f"{n} {kind}{'' if n == 1 else 's'}" for kind, n in counts if n]
    return ", ".join(said) if said else "nothing wrong"


def runs(judged: Judged, leg: str | None, rig: str | None) -> list[Run]:
    """The runs of the legs and rigs named, all where none is."""
    states = judged.states
    every = list(states.runs) if states is not None else []
    if leg is not None and leg not in {run.leg.name for run in every}:
        raise fail(f"no leg is called {leg}: {did_you_mean(leg, {run.leg.name for run in every}, 'legs')}")
    here = [run for run in every if leg is None or run.leg.name == leg]
    if rig is not None and rig not in {run.rig.id for run in here}:
        raise fail(f"no rig is called {rig}: {did_you_mean(rig, {run.rig.id for run in here}, 'rigs')}")
    return [run for run in here if rig is None or run.rig.id == rig]


def one_song(judged: Judged, leg: str | None, rig: str | None, song: str) -> tuple[Run, SongStates]:
    """The song on the first leg and rig that fit; where no leg is named, the first that plays it."""
    fitting = runs(judged, leg, rig)
    for run in fitting:
        for _, states in run.songs:
            if states.song.song.id == song:
                return run, states
    known = {states.song.song.id for run in fitting for _, states in run.songs}
    if song == STANDING:
        raise fail("the rig has no standing scenes")
    raise fail(f"no song is called {song}: {did_you_mean(song, known, 'songs')}")


def one_visit(states: SongStates, scene: str) -> tuple[State, Visit | None]:
    """`SCENE` (its first visit) or `SCENE@2`; the visit is None for a scene that is never reached."""
    name, at, number = scene.partition("@")
    visits = [visit for visit in states.visits if visit.scene == name]
    unvisited = [s for s in states.states if s.scene == name]
    if at and (visits or unvisited) and not (number.isdecimal() and 1 <= int(number) <= len(visits)):
        raise fail(_visits_of(name, len(visits)))
    if visits:
        visit = visits[int(number) - 1 if at else 0]
        return visit.state, visit
    if unvisited:
        return unvisited[0].state, None
    known = [s.scene for s in states.states]
    raise fail(f"no scene is called {name}: {did_you_mean(name, known, 'scenes')}")


def _visits_of(scene: str, count: int) -> str:
    if count == 0:
        return f"{scene} is never visited: write {scene}"
    if count == 1:
        return f"{scene} has 1 visit: write {scene} or {scene}@1"
    return f"{scene} has {count} visits: write {scene} or {scene}@1 to {scene}@{count}"


def triggers_after(visit: Visit | None, before: Visit | None) -> tuple[Trigger, ...]:
    """What stepping on from `before` to `visit` fires; a jump fires nothing."""
    stepping = visit is not None and before is not None and before.number + 1 == visit.number
    return visit.triggers if visit is not None and stepping else ()
