"""`switchmatrix manual`: the manual's pages."""

from __future__ import annotations

import click

from switchmatrix.cli.common import fail
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.manual import TOPICS, page


@click.command("manual", short_help="Print a page of the manual.")
@click.argument("topic", required=False)
def command(topic: str | None) -> None:
    """Print the page on TOPIC; without TOPIC, the topics in reading order."""
    titles = dict(TOPICS)
    if topic is None:
        width = max(map(len, titles))
        click.echo("".join(f"{name.ljust(width)}  {title}\n" for name, title in TOPICS), nl=False)
        return
    if topic not in titles:
        raise fail(f"no topic is called {topic}: {did_you_mean(topic, titles, 'topics')}")
    click.echo(page(topic), nl=False)
