"""`switchmatrix schema`: JSON Schemas of a show's files, for editors."""

from __future__ import annotations

import json
from pathlib import Path

import click

from switchmatrix.editor.show_schema import Written, show_schema
from switchmatrix.files import write_files
from switchmatrix.pipeline import Model, judge
from switchmatrix.syntax.shapes import FILES, Schema, schema


@click.command("schema")
@click.argument("show", type=click.Path(path_type=Path), required=False)
@click.option("--out", type=click.Path(path_type=Path), help="Default: SHOW/schemas, or schemas.")
def command(show: Path | None, out: Path | None) -> None:
    """Write the JSON Schema of each kind of file: show, rig, song and definition.

    With SHOW, its schemas: its device, patch, control, entry, word, instrument and scene names are listed
    where they may stand, so that an editor completes them and underlines what is none of them.
    """
    into = out if out is not None else show / "schemas" if show is not None else Path("schemas")
    written = written_of(judge(show).model) if show is not None else None
    shapes = {kind: schema(kind) if written is None else show_schema(kind, written) for kind in FILES}
    files = {f"{kind}.json": schema_text(shape).encode("utf-8") for kind, shape in shapes.items()}
    try:
        write_files(into, files)
    except OSError as error:
        raise click.ClickException(f"cannot write into {into}: {error.strerror or error}") from None
    click.echo(f"{', '.join(files)} written into {into}")


def written_of(model: Model) -> Written:
    """What of the show could be read."""
    return Written(
        show=model.show,
        rigs=tuple(bound.rig for bound in model.rigs.values() if bound is not None),
        songs=tuple(source.song for source in model.songs.values() if source is not None),
        definitions=tuple(model.definitions),
    )


def schema_text(shape: Schema) -> str:
    """The schema as a file holds it."""
    return json.dumps(shape, indent=1, ensure_ascii=False) + "\n"
