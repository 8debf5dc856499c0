"""A rehearsal of a small show on a rig made of software, and its screen as text."""

from __future__ import annotations

import time
from collections.abc import Awaitable, Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Static

from switchmatrix.live.loop import Loop
from switchmatrix.live.records import MS
from switchmatrix.live.rehearsing.journal import Journal
from switchmatrix.live.rehearsing.lines import RigLines
from switchmatrix.live.rehearsing.opening import opener
from switchmatrix.live.rehearsing.session import Rehearsal, Start
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stand_in.rig import StandIn, open_stand_in
from switchmatrix.live.stepping.inputs import Input
from switchmatrix.live.stepping.prepared import Prepared
from switchmatrix.live.stepping.state import Options
from switchmatrix.live.stepping.stops import Key
from switchmatrix.model.rig import Rig
from switchmatrix.screens.rehearse.app import RehearsalApp
from tests.live.stepping.kit import SHOW, ready, show_of

ONE_RIG = ready(show_of(), rigs=["a-rig"])
MARK = "stand-in: no rig"
SMALL, LARGE = (80, 24), (160, 48)
NOON = datetime(2031, 6, 14, 12, 0, 0)


@dataclass(slots=True, eq=False)
class Room:
    """A rehearsal, and the software behind it; `there` says whether the rigs' ports can be opened."""

    rehearsal: Rehearsal
    loops: list[Loop] = field(default_factory=list)
    boxes: dict[str, StandIn] = field(default_factory=dict)
    there: bool = True

    def app(
        self, changes: Callable[[], Awaitable[Input | str | None]] | None = None, mark: str | None = MARK
    ) -> RehearsalApp:
        """Its screen; the ports are looked at seldom, so that a test need not wait for a quiet moment."""
        return RehearsalApp(
            self.rehearsal, time.monotonic_ns, mark, changes, day=lambda: NOON, poll_ns=40 * MS
        )

    def cut(self) -> None:
        """Every port is lost, and none can be opened."""
        self.there = False
        for loop in self.loops:
            loop.cut()


def at_pace(moment: int) -> None:
    """The pace of the clock on the wall."""
    time.sleep(max(0, moment - time.monotonic_ns()) / 1e9)


@contextmanager
def room(
    folder: Path,
    show: Prepared = ONE_RIG,
    *,
    said: bool = False,
    at: Key | None = None,
    driven: Sequence[str] | None = None,
) -> Iterator[Room]:
    """A rehearsal of the show."""
    loops: list[Loop] = []
    boxes: dict[str, StandIn] = {}
    is_there = [lambda: True]

    def make(rig: Rig) -> Callable[[], Loop]:
        def loop() -> Loop:
            one = Loop(time.monotonic_ns(), at_pace)
            if not is_there[0]():
                return one
            box = open_stand_in(rig, Faults(), one)
            assert isinstance(box, StandIn)
            boxes[rig.id] = box
            one.residents.append(lambda: _work(box))
            loops.append(one)
            return one

        return loop

    lines = {}
    for id, ready_rig in show.rigs.items():
        open_ = opener(ready_rig.rig, make(ready_rig.rig))
        ports = [port.name for port in ready_rig.rig.ports]
        lines[id] = RigLines(id, ports, open_, open_(ports), at_once=True)
    journal = Journal(folder / "log", "tour", lambda: "12:00")
    start = Start(Options(said=said), at, None if driven is None else tuple(driven))
    one = Room(Rehearsal(show, lines, journal, time.monotonic_ns, start), loops, boxes)
    is_there[0] = lambda: one.there
    try:
        yield one
    finally:
        one.rehearsal.close()


def _work(box: StandIn) -> None:
    box.work()


def shown(app: RehearsalApp) -> list[str]:
    """What the screen shows, a row each, without the blanks at the end."""
    return [line.rstrip() for line in str(app.query_one("#body", Static).content).split("\n")]


def band(app: RehearsalApp, name: str) -> list[str]:
    """The sentences of a band that has a name."""
    rows = shown(app)
    first = next(n for n, row in enumerate(rows) if row.startswith(name))
    out = [rows[first][9:]]
    for row in rows[first + 1 :]:
        if not row.startswith(" " * 9):
            break
        out.append(row[9:])
    return out


async def until(pilot: Pilot[None], holds: Callable[[], bool], seconds: float = 10) -> None:
    """Let the screen work until something holds."""
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end, shown(pilot.app)  # type: ignore[arg-type]
        await pilot.pause(0.01)


TWO_RIGS = SHOW
