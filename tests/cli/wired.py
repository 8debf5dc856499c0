"""A machine that is not there: the commands' ports are a loop, with the rig's stand-in behind plain names."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from switchmatrix.cli import switchmatrix, wiring
from switchmatrix.live.loop import Loop
from switchmatrix.live.records import NoPorts, Ports
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stand_in.rig import StandIn, open_stand_in
from switchmatrix.pipeline import judge


def at_once(_moment: int) -> None:
    """No time passes."""


def no_pace(patch: pytest.MonkeyPatch) -> None:
    """Have a stand-in inside the process take no time."""
    patch.setattr(wiring, "pace", at_once)


def machine(patch: pytest.MonkeyPatch, show: Path, rig: str, faults: Faults | None = None) -> StandIn:
    """Have the machine's ports be those of the rig; what they carry is heard by what is returned."""
    bound = next(one for one in judge(show).worked_out.rigs if one.id == rig)
    loop = Loop()
    box = open_stand_in(bound, faults or Faults(), loop)
    assert isinstance(box, StandIn)

    def work() -> None:
        box.work()

    loop.residents.append(work)
    patch.setattr(wiring, "Machine", lambda *_: loop)
    return box


class Listed:
    """A machine with some ports."""

    def __init__(self, there: Ports | NoPorts) -> None:
        self.there = there

    def ports(self) -> Ports | NoPorts:
        """What it has."""
        return self.there


def listed(patch: pytest.MonkeyPatch, there: Ports | NoPorts) -> None:
    """Have the machine say that it has these ports."""
    patch.setattr(wiring, "Machine", lambda *_: Listed(there))


def answered(*args: str | Path, said: str) -> tuple[int, str]:
    """A command run with answers on its standard input: its exit code, and all that it printed."""
    result = CliRunner().invoke(switchmatrix, [str(arg) for arg in args], input=said)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.output
