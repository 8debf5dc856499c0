"""`switchmatrix new`: a show or a song to begin from."""

from __future__ import annotations

from pathlib import Path

import click

from switchmatrix.cli.common import fail, write, written_of
from switchmatrix.editor import skeletons
from switchmatrix.files import SHOW_FILE
from switchmatrix.pipeline import judge
from switchmatrix.source import is_id


@click.command("new", short_help="Write a show or a song to begin from.")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--song", metavar="NAME", help="The id of a song to write into the show in FOLDER.")
def command(folder: Path, song: str | None) -> None:
    """Write a small commented show into FOLDER, or, with --song, a song into the show that is there.

    Nothing that exists is written over.
    """
    if song is None:
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            raise fail(f"{folder} exists already and is not empty: name a new folder")
        write(folder, skeletons.SHOW)
        click.echo(f"a small show is in {folder}: try `switchmatrix check {folder}`")
        return
    if not (folder / SHOW_FILE).is_file():
        raise fail(f"there is no show in {folder}: name the folder that holds {SHOW_FILE}")
    if not is_id(song):
        raise fail(f"{song} cannot be a file's name: use letters, digits, spaces and -")
    if (folder / f"{song}.yaml").exists():
        raise fail(f"{song}.yaml is there already: choose another name")
    rigs = written_of(judge(folder).model).rigs
    title = song.replace("-", " ").capitalize()
    write(folder, {f"{song}.yaml": skeletons.song(title, rigs)})
    click.echo(f"{song}.yaml is in {folder}: add `{song}` to a setlist in {SHOW_FILE}")
