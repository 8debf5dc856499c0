"""`switchmatrix schema`: JSON Schemas of a show's files, for editors."""

from __future__ import annotations

import json
from pathlib import Path

import click

from switchmatrix.cli.common import fail, write, written_of
from switchmatrix.editor.show_schema import show_schema
from switchmatrix.emit.diff_json import diff_schema
from switchmatrix.files import SHOW_FILE
from switchmatrix.pipeline import judge
from switchmatrix.syntax.shapes import FILES, Schema, schema


@click.command("schema", short_help="Write JSON Schemas for editors.")
@click.argument("show", type=click.Path(path_type=Path), required=False)
@click.option("--out", type=click.Path(path_type=Path), help="Default: SHOW/schemas, or schemas.")
def command(show: Path | None, out: Path | None) -> None:
    """Write the JSON Schema of each kind of file: show, rig, song and definition; and of `diff`'s JSON.

    With SHOW, its schemas: its device, patch, control, entry, word, instrument and scene names are listed
    where they may stand, so that an editor completes them and underlines what is none of them.
    """
    if show is not None and not (show / SHOW_FILE).is_file():
        raise fail(f"there is no show in {show}: name the folder that holds {SHOW_FILE}")
    into = out if out is not None else show / "schemas" if show is not None else Path("schemas")
    written = written_of(judge(show).model) if show is not None else None
    shapes = {kind: schema(kind) if written is None else show_schema(kind, written) for kind in FILES}
    if written is None:
        shapes["diff"] = diff_schema()
    files = {f"{kind}.json": schema_text(shape) for kind, shape in shapes.items()}
    write(into, files)
    click.echo(f"{', '.join(files)} written into {into}")


def schema_text(shape: Schema) -> str:
    """The schema as a file holds it."""
    return json.dumps(shape, indent=1, ensure_ascii=False) + "\n"
