"""`switchmatrix prove`: every scene from every other, on a rig that only hears the bytes."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from switchmatrix.cli.common import runs, show_argument, sound_show
from switchmatrix.cli.proving import report
from switchmatrix.proof.run import prove


@click.command("prove", short_help="Prove that every scene is reached from every other.")
@show_argument
@click.option("--leg", metavar="LEG", help="One leg; default: all of show.yaml.")
@click.option("--rig", metavar="RIG", help="One rig, by its id; default: all of a leg.")
@click.option("--every-pair", is_flag=True, help="Take no short cuts: slow, and the same in the end.")
def command(show: Path, leg: str | None, rig: str | None, every_pair: bool) -> None:
    """Prove that the compiled bytes bring the rig from every scene, and from unknown, to every other.

    A simulator hears the bytes and nothing else, and works out what each device then does: however the
    player has left what is in hand, and whatever the declared controllers sent. Without --leg and --rig:
    every leg on each of its rigs. Exit code 1 where something could not be proved.

    Up to 64 distinct states of each device it takes less time than `check`; past that the time may grow
    with the sum of the squares of the devices' distinct states.
    """
    judged = sound_show(show)
    proofs = [(prove(run, every_pair=every_pair), run.rig) for run in runs(judged, leg, rig)]
    for proof, on in proofs:
        click.echo("\n".join(report(proof, on)))
    if any(proof.failed for proof, _ in proofs):
        sys.exit(1)
