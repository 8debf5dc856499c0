"""`switchmatrix compile`: MIDI files, listings and message tables for every leg and rig."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import click

from switchmatrix.cli.common import (
    counted,
    runs,
    show_argument,
    sound_show,
    write_bytes,
)
from switchmatrix.cli.proving import report
from switchmatrix.compile.plan import LegPlan, running_messages
from switchmatrix.diagnostics import long
from switchmatrix.diagnostics.diagnostic import Diagnostic, Severity
from switchmatrix.emit.listing import listing
from switchmatrix.emit.messages_csv import messages_csv
from switchmatrix.emit.messages_json import messages_json
from switchmatrix.emit.midi_files import song_files, stem
from switchmatrix.emit.setlist import setlist
from switchmatrix.pipeline import plan_run
from switchmatrix.proof.run import prove
from switchmatrix.states.show import Run

RECORD = ".written"
"""Lists, in each folder, what compiling wrote there, so that the next run removes what it no longer makes."""

COLUMNS = ("leg", "rig", "songs", "scenes", "visits", "messages", "bytes", "warnings")


@click.command("compile", short_help="Write MIDI files, listings and message tables.")
@show_argument
@click.option("--leg", metavar="LEG", help="One leg; default: all of show.yaml.")
@click.option("--rig", metavar="RIG", help="One rig, by its id; default: all of a leg.")
@click.option("--out", type=click.Path(path_type=Path), default=Path("out"), show_default=True)
@click.option(
    "--smf-format",
    "smf_format",
    type=click.IntRange(0, 1),
    default=1,
    show_default=True,
    help="1: a track for each device; 0: one track (for a rig of several ports, a file for each port).",
)
@click.option("--no-prove", is_flag=True, help="Do not prove first that every scene is reached.")
def command(show: Path, leg: str | None, rig: str | None, out: Path, smf_format: int, no_prove: bool) -> None:
    """Compile SHOW into OUT/LEG/RIG: a MIDI file and a listing a song, a MIDI file for each state of a scene.

    Without --leg and --rig: every leg on each of its rigs. Nothing is written where the show has an error,
    or where it cannot be proved that every scene is reached from every other.
    What an earlier compile wrote into a folder, and this one no longer makes there, is removed.
    """
    judged = sound_show(show)
    chosen = runs(judged, leg, rig)
    if not no_prove:
        _prove(chosen)
    progress = _Progress(len(chosen))
    files: dict[str, bytes] = {}
    rows = []
    for run in chosen:
        plan = plan_run(run, judged.worked_out.show)
        files |= _files(plan, smf_format)
        rows.append(_row(plan, judged.found))
        progress.step(f"{run.leg.name} on {run.rig.id}")
    write_bytes(out, files, RECORD)
    warnings = [d for d in judged.found if d.severity is Severity.WARNING]
    if warnings:
        click.echo(long.render(warnings, judged.files.texts) + "\n" + counted(warnings), err=True)
    click.echo(_table([COLUMNS, *rows]), nl=False)
    click.echo(f"{len(files)} files written below {out}")


def _prove(chosen: list[Run]) -> None:
    """Prove each leg on each rig; where one fails, say why and write nothing."""
    failed = [(proof, run.rig) for run in chosen if (proof := prove(run)).failed]
    for proof, rig in failed:
        click.echo("\n".join(report(proof, rig)), err=True)
    if failed:
        click.echo("\nnothing was written: `--no-prove` writes it all the same", err=True)
        sys.exit(1)


def _files(plan: LegPlan, smf_format: int) -> dict[str, bytes]:
    below = f"{plan.leg.name}/{plan.rig.id}"
    files = {
        "setlist.txt": setlist(plan).encode("utf-8"),
        "messages.csv": messages_csv(plan).encode("utf-8"),
        "messages.json": messages_json(plan).encode("utf-8"),
    }
    for song in plan.songs:
        files[f"{stem(song)}.txt"] = listing(plan, song).encode("utf-8")
        files |= song_files(plan.rig, song, smf_format)
    return {f"{below}/{name}": data for name, data in files.items()}


def _row(plan: LegPlan, found: list[Diagnostic]) -> tuple[str, ...]:
    messages = [message for *_, message in running_messages(plan)]
    warnings = [d for d in found if d.severity is Severity.WARNING and (not d.rigs or plan.rig.id in d.rigs)]
    counts = (
        sum(1 for song in plan.songs if song.number),
        sum(len({scene.scene.scene for scene in song.scenes}) for song in plan.songs),
        sum(len(song.visits) for song in plan.songs),
        len(messages),
        sum(len(m.step.data) for m in messages),
        len(warnings),
    )
    return (plan.leg.name, plan.rig.id, *map(str, counts))


def _table(rows: list[tuple[str, ...]]) -> str:
    """Columns side by side: names to the left, numbers to the right."""
    widths = [max(len(row[n]) for row in rows) for n in range(len(COLUMNS))]
    return "".join(
        "  ".join(
            t.ljust(w) if n < 2 else t.rjust(w) for n, (t, w) in enumerate(zip(row, widths, strict=True))
        )
        + "\n"
        for row in rows
    )


class _Progress:
    """A line on stderr, on terminals only, once a second has gone by."""

    def __init__(self, total: int) -> None:
        self.total = total
        self.done = 0
        self.since = time.monotonic()

    def step(self, what: str) -> None:
        self.done += 1
        if sys.stderr.isatty() and time.monotonic() - self.since > 1:
            click.echo(f"compiled {self.done} of {self.total}: {what}", err=True)
