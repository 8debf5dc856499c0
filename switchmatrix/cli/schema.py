"""`switchmatrix schema`: JSON Schemas of a show's files, for editors."""

from __future__ import annotations

import json
from pathlib import Path

import click

from switchmatrix.files import write_files
from switchmatrix.syntax.shapes import FILES, schema


@click.command("schema")
@click.option("--out", type=click.Path(path_type=Path), default=Path("schemas"), show_default=True)
def command(out: Path) -> None:
    """Write the JSON Schema of each kind of file into OUT: show, rig, song and definition."""
    files = {f"{kind}.json": schema_text(kind).encode("utf-8") for kind in FILES}
    try:
        write_files(out, files)
    except OSError as error:
        raise click.ClickException(f"cannot write into {out}: {error.strerror or error}") from None
    click.echo(f"{', '.join(files)} written into {out}")


def schema_text(kind: str) -> str:
    """The schema as a file holds it."""
    return json.dumps(schema(kind), indent=2, ensure_ascii=False) + "\n"
