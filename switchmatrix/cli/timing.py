"""`switchmatrix timing`: how long each change takes."""

from __future__ import annotations

from pathlib import Path

import click

from switchmatrix.cli.common import leg_option, rig_option, runs, show_argument, sound_show
from switchmatrix.emit.messages_json import rows
from switchmatrix.emit.timing import timing, timing_row
from switchmatrix.pipeline import plan_run


@click.command("timing", short_help="Print how long each change takes.")
@show_argument
@leg_option
@rig_option
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
def command(show: Path, leg: str | None, rig: str | None, form: str) -> None:
    """Print each visit's change time beside the shortest that bytes and waits allow, and what takes it.

    Without --leg and --rig: every leg on each of its rigs. The first visit of a song is from unknown.
    """
    judged = sound_show(show)
    of = judged.worked_out.show
    plans = [plan_run(run, of) for run in runs(judged, leg, rig)]
    if form == "json":
        found = (
            {"leg": plan.leg.name, "rig": plan.rig.id, **timing_row(song, visit, of)}
            for plan in plans
            for song in plan.songs
            for visit in song.visits
        )
        click.echo(rows(found), nl=False)
    else:
        click.echo("\n".join(timing(plan, of) for plan in plans), nl=False)
