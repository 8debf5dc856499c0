"""`switchmatrix check`: everything wrong in a show at once."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import click

from switchmatrix.cli.common import counted, show_argument
from switchmatrix.diagnostics import as_json, lines, long
from switchmatrix.diagnostics.diagnostic import Severity
from switchmatrix.files import stamp
from switchmatrix.pipeline import Judged, judge

LOOK_AGAIN_S = 0.1
"""Seconds between two looks at the files."""


@click.command("check", short_help="Say everything that is wrong in a show.")
@show_argument
@click.option(
    "--format", "form", type=click.Choice(["long", "lines", "json"]), default="long", show_default=True
)
@click.option("--strict", is_flag=True, help="Exit with 1 for warnings too.")
@click.option("--watch", is_flag=True, help="On every save say the findings again, until Ctrl-C.")
def command(show: Path, form: str, strict: bool, watch: bool) -> None:
    """Say everything that is wrong in SHOW, each at its place, with what to do."""
    judged = judge(show)
    click.echo(rendered(judged, form), nl=False)
    if watch:
        judged = _watched(show, judged, form)
    grave = {Severity.ERROR, Severity.WARNING} if strict else {Severity.ERROR}
    sys.exit(1 if any(d.severity in grave for d in judged.found) else 0)


def rendered(judged: Judged, form: str) -> str:
    """The findings in one of the three forms."""
    if form == "json":
        return as_json.render(judged.found)
    if form == "lines":
        return lines.render(judged.found)
    said = long.render(judged.found, judged.files.texts)
    return said + ("\n" if said else "") + counted(judged.found) + "\n"


def _watched(show: Path, judged: Judged, form: str) -> Judged:
    """Judge the show again whenever one of its files has changed; the last judgement, at Ctrl-C."""
    seen = stamp(show)
    click.echo("watching, Ctrl-C ends", err=True)
    try:
        while True:
            time.sleep(LOOK_AGAIN_S)
            now = stamp(show)
            if now != seen:
                seen, judged = now, judge(show)
                click.echo(f"\nsaved at {time.strftime('%H:%M:%S')}", err=True)
                click.echo(rendered(judged, form), nl=False)
                sys.stdout.flush()
    except KeyboardInterrupt:
        return judged
