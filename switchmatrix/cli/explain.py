"""`switchmatrix explain`: the page of a finding."""

from __future__ import annotations

import click

from switchmatrix.cli.common import fail
from switchmatrix.diagnostics.names import NAMES
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.diagnostics.page import catalogue, render


@click.command("explain", short_help="Print the page of a finding.")
@click.argument("name", required=False)
def command(name: str | None) -> None:
    """Print the page of the finding called NAME: why it matters, a wrong and a right example.

    Without NAME: all findings, with what each of them is about.
    """
    if name is None:
        click.echo(catalogue(NAMES), nl=False)
        return
    by_name = {known.name: known for known in NAMES}
    if name not in by_name:
        raise fail(f"no finding is called {name}: {did_you_mean(name, by_name, 'findings')}")
    click.echo(render(by_name[name]), nl=False)
