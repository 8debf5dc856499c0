"""What commands that send share: the gate, the machine's ports or a stand-in, Ctrl-C, the rig's state."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, NoReturn

import click

from switchmatrix.cli.common import fail, runs
from switchmatrix.controls import decode
from switchmatrix.definition.controls import Control
from switchmatrix.live.gate import CAUTIONS, NOT_SAID, QUESTION, Gate
from switchmatrix.live.interrupt import Asked, torn_out
from switchmatrix.live.loop import Loop
from switchmatrix.live.machine import Machine
from switchmatrix.live.records import MS, Ports, Refused, Watch
from switchmatrix.live.rig_ports import RigPort, faults, found_said, is_stand_in, rig_ports
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stand_in.rig import StandIn, open_stand_in
from switchmatrix.live.stand_in.table import row
from switchmatrix.live.stepping.prepared import home_state
from switchmatrix.live.transport import Transport
from switchmatrix.live.wires import Wires, open_wires
from switchmatrix.model.rig import Rig
from switchmatrix.model.song import STANDING
from switchmatrix.pipeline import Judged
from switchmatrix.states.show import Run
from switchmatrix.states.state import State

MARK = "stand-in: "
WATCH = Watch(open_ns=10_000 * MS)
"""A slow machine has time to open its ports; a loss is told as soon as anywhere."""

NO_FAULTS = Faults()
NOT_REAL = "a rig made of software in this process: nothing leaves the machine"


def api_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """Which MIDI server: the first that answers where nobody says."""
    return click.option(
        "--api",
        type=click.Choice(["auto", "alsa", "jack", "core"]),
        default="auto",
        show_default=True,
        help="The machine's MIDI server.",
    )(command)


def live_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """What every command that sends can be told."""
    for option in (
        click.option("--yes", is_flag=True, help="Say in advance: outputs are muted and people told."),
        click.option("--share", is_flag=True, help="Send on ports that another run is sending on."),
        click.option("--stand-in", is_flag=True, help="Play to a rig made of software, in this process."),
        click.option(
            "--period", type=click.FloatRange(0, 1000), metavar="MS", help="JACK's period; default: 21.3 ms."
        ),
        api_option,
    ):
        command = option(command)
    return command


def stop_with(*lines: str) -> NoReturn:
    """Say why it ends, and end with 1."""
    for line in lines:
        click.echo(line, err=True)
    sys.exit(1)


def says(control: Control, code: int) -> str:
    """What a device does with a code, in words."""
    value = decode(control, code)
    return f"code {code}" if value is None else str(value)


def one_run(judged: Judged, leg: str | None, rig: str | None) -> Run:
    """The first leg and rig that fit."""
    found = runs(judged, leg, rig)
    if not found:
        raise fail("no leg of the show has a rig that can be compiled")
    return found[0]


def home_of(rig: Rig) -> State:
    """The rig's home; a home that cannot be sent ends the command."""
    state, why = home_state(rig)
    if state is None:
        raise fail(f"the home of {rig.id} cannot be sent: {why}")
    return state


def silence_of(run: Run) -> State | None:
    """The standing scene `silence`, where the rig has it."""
    standing = [song for _, song in run.songs if song.song.song.id == STANDING]
    found = [scene.state for song in standing for scene in song.states if scene.scene == "silence"]
    return found[0] if found else None


def machine(api: str) -> Machine:
    """The machine's own ports."""
    return Machine(api, WATCH)


def pace(moment: int) -> None:
    """Let a stand-in's clock run as fast as any other."""
    time.sleep(max(0, moment - time.monotonic_ns()) / 1e9)


@dataclass(slots=True, eq=False)
class Wiring:
    """Where a command sends: the transport with its server, and the stand-in behind it, if it is one."""

    transport: Transport
    api: str
    ports: tuple[RigPort, ...]
    stand_in: StandIn | None

    @property
    def is_real(self) -> bool:
        """Whether it may be the real rig: no port of it says that it is a stand-in."""
        return self.stand_in is None and not any(is_stand_in(found_said(one.out)) for one in self.ports)

    def mark(self, line: str) -> str:
        """A line to print; every line of what is not the real rig says so."""
        return line if self.is_real or not line else f"{MARK}{line}"

    def say(self, *lines: str) -> None:
        """Print lines."""
        for line in lines:
            click.echo(self.mark(line))

    def open(self, gate: Gate, *, share: bool, inputs: bool) -> Wires:
        """Open the rig's ports, all or none; a refusal ends the command."""
        wires = self.opened(gate, share=share, inputs=inputs)
        if isinstance(wires, NotThere):
            stop_with(*wires.lines, "nothing was sent")
        if not wires.watched:
            self.say("this machine has no virtual ports: a MIDI server that dies would not be noticed")
        return wires

    def opened(self, gate: Gate, *, share: bool, inputs: bool) -> Wires | NotThere:
        """The rig's ports, open, or why they cannot be."""
        wires = open_wires(self.transport, self.ports, gate, share=share, inputs=inputs)
        if isinstance(wires, Refused):
            return NotThere(
                (wires.text, *(("--share sends beside it",) if "another run" in wires.reason else ()))
            )
        return wires


@dataclass(frozen=True, slots=True)
class NotThere:
    """Why the rig's ports cannot be used, a line each."""

    lines: tuple[str, ...]


def in_process(rig: Rig, broken: Faults) -> tuple[Transport, StandIn | None]:
    """A loop with the stand-in living in it."""
    loop = Loop(time.monotonic_ns(), pace)
    box = open_stand_in(rig, broken, loop)
    if isinstance(box, Refused):
        raise TypeError(box.text)

    def work() -> None:
        box.work()

    loop.residents.append(work)
    return loop, box


def wired(
    rig: Rig,
    api: str,
    *,
    stand_in: bool,
    inputs: bool,
    devices: Iterable[str] | None = None,
    broken: Faults = NO_FAULTS,
) -> Wiring:
    """The rig's ports on the machine, or on a stand-in; a port that is not found ends the command.

    Only the ports of `devices` must be there, where they are given.
    """
    found = looked_for(rig, api, stand_in=stand_in, inputs=inputs, devices=devices, broken=broken)
    if isinstance(found, NotThere):
        stop_with(*found.lines, "nothing was sent")
    return found


def looked_for(
    rig: Rig,
    api: str,
    *,
    stand_in: bool,
    inputs: bool,
    devices: Iterable[str] | None = None,
    broken: Faults = NO_FAULTS,
) -> Wiring | NotThere:
    """The rig's ports, as `wired` has them, or what of them is not there."""
    transport: Transport
    box: StandIn | None
    if stand_in:
        transport, box = in_process(rig, broken)
    else:
        transport, box = machine(api), None
    there = transport.ports()
    if not isinstance(there, Ports):
        return NotThere((there.reason,))
    ports = rig_ports(rig, there)
    needed = None if devices is None else {d.port for d in rig.devices if d.name in set(devices)}
    wanted = tuple(one for one in ports if needed is None or one.port.name in needed)
    wrong = faults(wanted, inputs)
    if wrong:
        return NotThere(wrong)
    usable = tuple(one for one in ports if one in wanted or not faults((one,), inputs))
    return Wiring(transport, there.api, usable, box)


def pass_gate(wiring: Wiring, gate: Gate) -> None:
    """Have a person say that outputs are muted and people told, where nobody has; else end the command."""
    if wiring.stand_in is not None:
        wiring.say(NOT_REAL)
        gate.say()
        return
    wiring.say(*CAUTIONS)
    for one in wiring.ports:
        wiring.say(f"{one.port.name} goes to {found_said(one.out)}")
    if not gate.is_open and not confirmed(wiring.mark(QUESTION)):
        stop_with(NOT_SAID)
    gate.say()


def confirmed(question: str) -> bool:
    """Whether a person says yes; no one there is no."""
    try:
        with torn_out():
            return click.confirm(question, default=False)
    except click.Abort:
        click.echo()
        return False


def person(wiring: Wiring, asked: Asked) -> Callable[[str, str], bool | None]:
    """Puts yes-or-no questions about a device; Ctrl-C at one counts as a wish to stop."""

    def ask(device: str, question: str) -> bool | None:
        if wiring.stand_in is not None:
            click.echo(row(wiring.stand_in, device, says))
        try:
            with torn_out():
                answer = click.prompt(wiring.mark(f"{question} (y, n, or s to skip)"), default="s")
        except click.Abort:
            click.echo()
            asked.times += 1
            return None
        return {"y": True, "n": False}.get(str(answer).strip().lower()[:1])

    return ask
