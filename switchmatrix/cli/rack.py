"""`switchmatrix rack`: what a tech works through at the front panels."""

from __future__ import annotations

from pathlib import Path

import click

from switchmatrix.cli.common import leg_option, rig_option, runs, show_argument, sound_show
from switchmatrix.compare.rack import rack
from switchmatrix.emit.rack_csv import rack_csv
from switchmatrix.emit.rack_text import rack_text


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
    fitting = runs(judged, leg, rig)
    here = [run for run in fitting if run.leg.name == fitting[0].leg.name] if leg is None else fitting
    chosen = [run.rig for run in (fitting if rig is not None else here)][:1]
    lists = tuple(rack(one, fitting) for one in chosen)
    click.echo(rack_csv(lists) if form == "csv" else rack_text(lists), nl=False)
