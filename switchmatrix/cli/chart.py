"""`switchmatrix chart`: what a definition receives, as a MIDI Implementation Chart."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from switchmatrix.bind.definitions import bind_definition
from switchmatrix.cli.common import counted, fail
from switchmatrix.definition.definition import Definition
from switchmatrix.diagnostics import long
from switchmatrix.diagnostics.diagnostic import Diagnostic, has_errors, in_order
from switchmatrix.emit.chart import chart
from switchmatrix.files import read_show
from switchmatrix.source import SourceFile
from switchmatrix.syntax.reader import read
from switchmatrix.syntax.shape import check_shape


@click.command("chart", short_help="Print a definition as a MIDI Implementation Chart.")
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
def command(file: Path) -> None:
    """Print what the definition in FILE receives, to lay beside the maker's MIDI Implementation Chart.

    FILE is a definition's file, in a show or alone. Where it has a mistake its findings are printed,
    and no chart.
    """
    if file.suffix != ".yaml":
        raise fail(f"{file} is no definition: name a file of `definitions`, such as two-tap-echo.yaml")
    text, found = _read(file.absolute())
    definition = _bound(text, found) if text is not None else None
    found = in_order(found)
    click.echo(long.render(found, {} if text is None else {text.path: text}), err=True, nl=False)
    if definition is None or has_errors(found):
        click.echo(f"\n{counted(found)}: no chart", err=True)
        sys.exit(1)
    click.echo(chart(definition), nl=False)


def _read(file: Path) -> tuple[SourceFile | None, list[Diagnostic]]:
    """The file's text, within the bounds of a show's files; None and findings where there is none."""
    beside, found = read_show(file.parent)
    return beside.texts.get(file.name), [d for d in found if d.span.path == file.name]


def _bound(text: SourceFile, found: list[Diagnostic]) -> Definition | None:
    """The definition with its findings; None where it could not be read."""
    root, wrong = read(text)
    root, misfits = check_shape(root, "definition")
    found += wrong + misfits
    return bind_definition(Path(text.path).stem, root, found)
