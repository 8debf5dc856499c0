"""`switchmatrix messages`: the exact messages of one scene."""

from __future__ import annotations

from pathlib import Path

import click

from switchmatrix.cli.common import (
    fail,
    leg_option,
    one_song,
    one_visit,
    rig_option,
    show_argument,
    sound_show,
    triggers_after,
)
from switchmatrix.compile.known import nothing_known, settled_rig
from switchmatrix.compile.schedule import schedule
from switchmatrix.compile.sentence import by_hand, hex_text, sentences
from switchmatrix.compile.transition import transition
from switchmatrix.emit.messages_json import message_row, rows
from switchmatrix.states.state import Trigger


@click.command("messages", short_help="Print the messages of one scene.")
@show_argument
@click.argument("song")
@click.argument("scene", required=False)
@click.option(
    "--after", metavar="SCENE", help="The scene that the rig is in; default: nothing is known of it."
)
@leg_option
@rig_option
@click.option(
    "--format", "form", type=click.Choice(["text", "json", "hex"]), default="text", show_default=True
)
def command(
    show: Path, song: str, scene: str | None, after: str | None, leg: str | None, rig: str | None, form: str
) -> None:
    """Print the messages that bring the rig to SCENE of SONG (default: its first), one a line.

    SCENE@2 is the scene's second visit. SONG may be `standing`, the scenes of no song. Triggers are
    among the messages only where SCENE is the next one after --after.
    """
    judged = sound_show(show)
    run, states = one_song(judged, leg, rig, song)
    if scene is None:
        if not states.states:
            raise fail(f"{song} has no scene in this leg")
        scene = states.visits[0].scene if states.visits else states.states[0].scene
    state, visit = one_visit(states, scene)
    known = nothing_known(run.rig)
    triggers: tuple[Trigger, ...] = ()
    if after is not None:
        state_before, before = one_visit(states, after)
        known, triggers = settled_rig(run.rig, state_before), triggers_after(visit, before)
    messages = schedule(run.rig, transition(run.rig, known, state, triggers)).messages
    if form == "json":
        click.echo(rows(message_row(m) for m in messages), nl=False)
    elif form == "hex":
        click.echo("".join(f"{hex_text(m.step.data)}\n" for m in messages), nl=False)
    else:
        for line in by_hand(run.rig) if after is None else ():
            click.echo(line)
        click.echo("".join(f"{line}\n" for line in sentences(messages)) or "nothing to send\n", nl=False)
