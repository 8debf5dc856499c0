"""`switchmatrix stand-in`: a rig made of software, on virtual ports."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import click

from switchmatrix.cli.common import fail, rig_option, show_argument, sound_show
from switchmatrix.cli.wiring import api_option, machine, one_run, says, stop_with
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.live.interrupt import stop_asked
from switchmatrix.live.machine import Machine
from switchmatrix.live.records import MS, NoPorts, Refused
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stand_in.rig import StandIn, open_stand_in
from switchmatrix.live.stand_in.table import MARK, rows, table
from switchmatrix.model.rig import Rig

SETTLED_NS = 200 * MS
"""A device is printed when nothing has come for so long: one line a change, not one a message."""


def fault_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """What is wrong with a stand-in, on demand."""
    for option in (
        click.option("--drop", type=click.IntRange(2), metavar="N", help="Lose every Nth message of a port."),
        click.option(
            "--slow",
            type=(str, click.IntRange(0, 60_000)),
            multiple=True,
            metavar="DEVICE MS",
            help="A device that answers so much later.",
        ),
        click.option("--wrong-version", multiple=True, metavar="DEVICE", help="A device of another version."),
        click.option("--silent", multiple=True, metavar="DEVICE", help="A dead device, its thru with it."),
    ):
        command = option(command)
    return command


def faults_of(
    rig: Rig,
    silent: Iterable[str],
    wrong_version: Iterable[str],
    slow: Iterable[tuple[str, int]],
    drop: int | None,
) -> Faults:
    """The faults that the command line names."""
    given = Faults(frozenset(silent), frozenset(wrong_version), dict(slow), drop or 0)
    known = {device.name for device in rig.devices}
    for name in sorted({*given.silent, *given.wrong_version, *given.slow_ms} - known):
        raise fail(f"no device is called {name}: {did_you_mean(name, known, 'devices')}")
    for name in sorted({*given.wrong_version, *given.slow_ms}):
        device = rig.device(name)
        if device is not None and device.definition.identity is None:
            raise fail(f"{name} has no identity in its definition, so it answers nothing")
    return given


@click.command("stand-in", short_help="Open a rig made of software.")
@show_argument
@rig_option
@fault_options
@api_option
def command(
    show: Path,
    rig: str | None,
    silent: tuple[str, ...],
    wrong_version: tuple[str, ...],
    slow: tuple[tuple[str, int], ...],
    drop: int | None,
    api: str,
) -> None:
    """Open virtual ports by the rig's names, and have every device of the map act on what it hears.

    It answers Identity Requests as the definitions say, and prints where each device stands. Every line
    and every port's name says stand-in: it is no rig, and sounds like none. Ctrl-C ends it.
    """
    run = one_run(sound_show(show), None, rig)
    faults = faults_of(run.rig, silent, wrong_version, slow, drop)
    ports = machine(api)
    there = ports.ports()
    if isinstance(there, NoPorts):
        stop_with(f"{MARK}{there.reason}")
    with stop_asked() as asked:
        box = open_stand_in(run.rig, faults, ports, there.api)
        if isinstance(box, Refused):
            stop_with(f"{MARK}{box.text}")
        try:
            _head(box)
            _live(box, ports, lambda: asked.times > 0)
        finally:
            ports.close()
    if box.lost is not None:
        stop_with(f"{MARK}{box.lost.text}")


def _head(box: StandIn) -> None:
    ports = ", ".join(port.out for port in box.rig.ports)
    lines = [f"{box.rig.title}, made of software, on {ports}: it is no rig", *box.faults.said()]
    click.echo("\n".join(f"{MARK}{line}" for line in lines))


def _live(box: StandIn, ports: Machine, stop: Callable[[], bool]) -> None:
    """Act on what comes until told to stop; say where each device stands once it is quiet."""
    _show(box, [device.name for device in box.rig.devices])
    changed: dict[str, None] = {}
    last = ports.now_ns()
    while not stop() and box.lost is None:
        ports.wait(ports.now_ns() + 50 * MS)
        heard = box.heard
        changed |= dict.fromkeys(box.work())
        if box.heard != heard:
            last = ports.now_ns()
        elif changed and ports.now_ns() - last > SETTLED_NS:
            _show(box, changed)
            changed = {}
    click.echo(f"{MARK}ended; it heard {box.heard} messages")


def _show(box: StandIn, names: Iterable[str]) -> None:
    """The devices that have changed, or on a terminal the whole table in their place."""
    if sys.stdout.isatty():
        click.clear()
        _head(box)
        click.echo("\n".join(table(box, says)))
        return
    inside = set(names)
    order = [device.name for device in box.rig.devices if device.name in inside]
    click.echo("\n".join(rows(box, order, says)))
    sys.stdout.flush()
