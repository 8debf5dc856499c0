"""`switchmatrix check`: everything wrong in a show at once."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from switchmatrix.cli.common import counted, show_argument
from switchmatrix.diagnostics import as_json, lines, long
from switchmatrix.diagnostics.diagnostic import Severity
from switchmatrix.pipeline import judge


@click.command("check")
@show_argument
@click.option(
    "--format", "form", type=click.Choice(["long", "lines", "json"]), default="long", show_default=True
)
@click.option("--strict", is_flag=True, help="Exit with 1 for warnings too.")
def command(show: Path, form: str, strict: bool) -> None:
    """Say everything that is wrong in SHOW, each at its place, with what to do."""
    judged = judge(show)
    if form == "json":
        click.echo(as_json.render(judged.found), nl=False)
    elif form == "lines":
        click.echo(lines.render(judged.found), nl=False)
    else:
        click.echo(long.render(judged.found, judged.files.texts), nl=False)
        click.echo(("\n" if judged.found else "") + counted(judged.found))
    grave = {Severity.ERROR, Severity.WARNING} if strict else {Severity.ERROR}
    sys.exit(1 if any(d.severity in grave for d in judged.found) else 0)
