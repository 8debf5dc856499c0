"""`switchmatrix rack`: what a tech works through at the front panels."""

from __future__ import annotations

from pathlib import Path

import click

from switchmatrix.cli.common import leg_option, rig_option, runs, show_argument, sound_show
from switchmatrix.compare.rack import rack
from switchmatrix.emit.rack_csv import rack_csv
from switchmatrix.emit.rack_text import rack_text
from switchmatrix.pipeline import Judged


@click.command("rack", short_help="Print what must be set and stored at the front panels.")
@show_argument
@leg_option
@rig_option
@click.option("--format", "form", type=click.Choice(["text", "csv"]), default="text", show_default=True)
def command(show: Path, leg: str | None, rig: str | None, form: str) -> None:
    """Print what must be set on, received by and stored in each device of a rig, with a box to tick.

    For what has changed since, `switchmatrix diff OLD NEW --rack`.
    """
    judged = sound_show(show)
    idle = [one for one in judged.worked_out.rigs if one.id == rig and leg is None]
    fitting = [] if idle and rig not in _played(judged) else runs(judged, leg, rig)
    lists = (rack(fitting[0].rig if fitting else idle[0], fitting),)
    click.echo(rack_csv(lists) if form == "csv" else rack_text(lists), nl=False)


def _played(judged: Judged) -> set[str]:
    """The rigs that some leg plays on."""
    return {run.rig.id for run in judged.worked_out.runs}
