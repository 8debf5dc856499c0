"""Machines whose MIDI server dies in mid change, is gone for a while, or lives: one a look at the ports."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from switchmatrix.cli import after_fault, wiring
from switchmatrix.live.loop import Loop
from switchmatrix.live.records import NoPorts
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stand_in.rig import StandIn, open_stand_in
from switchmatrix.model.rig import Rig
from switchmatrix.pipeline import judge
from tests.cli.wired import Listed
from tests.live.rigs import Tapped

GONE = Listed(NoPorts("JACK does not answer"))


@dataclass(slots=True, eq=False)
class Living:
    """A machine with the rig's stand-in behind plain names; `dies` after so many messages, 0 for never."""

    rig: Rig
    dies: int = 0
    loop: Loop = field(default_factory=Loop)
    tapped: Tapped = field(init=False)
    box: StandIn = field(init=False)

    def __post_init__(self) -> None:
        self.tapped = Tapped(self.loop)
        box = open_stand_in(self.rig, Faults(), self.tapped)
        assert isinstance(box, StandIn)
        self.box = box
        self.loop.residents.append(self._work)

    def _work(self) -> None:
        self.box.work()
        if self.dies and self.box.heard >= self.dies:
            self.loop.cut()

    @property
    def heard(self) -> list[str]:
        """What every port has heard, port by port."""
        kept = [data for tap in self.tapped.taps.values() for data in tap.kept]
        return [data.hex(" ").upper() for data in kept]


def rig_of(show: Path, rig: str) -> Rig:
    """A rig of the show."""
    return next(one for one in judge(show).worked_out.rigs if one.id == rig)


def machines(patch: pytest.MonkeyPatch, *found: Living | Listed) -> Callable[[], int]:
    """What is found each time that the ports are sought; how often they were."""
    left: Iterator[Living | Listed] = iter(found)
    sought: list[object] = []

    def one(*_: object) -> Loop | Listed:
        sought.append(None)
        machine = next(left)
        return machine if isinstance(machine, Listed) else machine.loop

    patch.setattr(wiring, "Machine", one)
    return lambda: len(sought)


def hurry(patch: pytest.MonkeyPatch, tries: int) -> None:
    """Have an unasked wait take no time, and end after so many looks."""
    clock = iter(range(10_000))
    patch.setattr(after_fault, "WAIT_S", tries)
    patch.setattr("switchmatrix.cli.after_fault.sleep", lambda _seconds: None)
    patch.setattr("switchmatrix.cli.after_fault.monotonic", lambda: next(clock))
