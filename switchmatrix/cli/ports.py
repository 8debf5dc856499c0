"""`switchmatrix ports`: what the machine has, and how the show's ports match it."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from switchmatrix.cli.common import fail, rig_option, sound_show
from switchmatrix.cli.wiring import api_option, machine, stop_with
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.live.records import NoPorts, Ports
from switchmatrix.live.rig_ports import faults, found_said, is_stand_in, rig_ports
from switchmatrix.model.rig import Rig


@click.command("ports", short_help="Print the machine's MIDI ports, and which the show's ports are.")
@click.argument("show", type=click.Path(path_type=Path), required=False)
@rig_option
@api_option
def command(show: Path | None, rig: str | None, api: str) -> None:
    """Print the machine's MIDI ports and, with SHOW, how the ports of its rigs match them.

    A port of a rig is the whole name of a port of the machine, a part of one, or a pattern with `*`. Exit
    code 1 where a port is missing, could be several, or is another port's too. Nothing is sent.
    """
    rigs: list[Rig] = []
    if show is not None:
        every = sound_show(show).worked_out.rigs
        if rig is not None and rig not in {one.id for one in every}:
            help = did_you_mean(rig, {one.id for one in every}, "rigs")
            raise fail(f"no rig is called {rig}: {help}")
        rigs = [one for one in every if rig is None or one.id == rig]
    elif rig is not None:
        raise fail("--rig is of a show: give its folder")
    there = machine(api).ports()
    if isinstance(there, NoPorts):
        stop_with(there.reason)
    click.echo("\n".join(_machine(there)))
    wrong = [_rig(one, there) for one in rigs]
    if any(wrong):
        sys.exit(1)


def _machine(there: Ports) -> list[str]:
    lines = [f"MIDI ports of this machine ({there.api})"]
    for title, names in (("out", there.outputs), ("in", there.inputs)):
        lines += [f"  {title:<3}  {name}{_stand_in(name)}" for name in names] or [f"  {title:<3}  none"]
    return lines


def _stand_in(name: str) -> str:
    return "  (a stand-in, not a real rig)" if is_stand_in(name) else ""


def _rig(rig: Rig, there: Ports) -> bool:
    """Print how one rig's ports match; whether anything is wrong."""
    ports = rig_ports(rig, there)
    click.echo(f"\n{rig.title}")
    for one in ports:
        click.echo(f"  {one.port.name} out: {found_said(one.out)}")
        back = "none in the rig's file" if one.input is None else found_said(one.input)
        click.echo(f"  {one.port.name} in: {back}")
    twice = [line for line in faults(ports, inputs=True) if "would both" in line]
    for line in twice:
        click.echo(f"  {line}")
    return bool(faults(ports, inputs=True))
