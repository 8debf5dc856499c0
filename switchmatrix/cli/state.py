"""`switchmatrix state`: what a scene means, in full."""

from __future__ import annotations

from pathlib import Path

import click

from switchmatrix.cli.common import leg_option, one_song, one_visit, rig_option, show_argument, sound_show
from switchmatrix.emit.state_text import state_text


@click.command("state", short_help="Print what one scene means, control by control.")
@show_argument
@click.argument("song")
@click.argument("scene")
@leg_option
@rig_option
def command(show: Path, song: str, scene: str, leg: str | None, rig: str | None) -> None:
    """Print every control's value in SCENE of SONG, what the device will do, and which line says so."""
    judged = sound_show(show)
    _, states = one_song(judged, leg, rig, song)
    state, _ = one_visit(states, scene)
    click.echo(state_text(state), nl=False)
