"""A whole rehearsal in virtual time: a rig made of software on a loop of its own for each rig."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from switchmatrix.live.loop import Loop, LoopInput, LoopOutput
from switchmatrix.live.records import MS, Due, Heard, Refused
from switchmatrix.live.rehearsing.following import Following
from switchmatrix.live.rehearsing.journal import Journal
from switchmatrix.live.rehearsing.lines import RigLines
from switchmatrix.live.rehearsing.opening import opener
from switchmatrix.live.rehearsing.session import Rehearsal, Start
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stand_in.rig import StandIn, open_stand_in
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.inputs import OutputsMuted
from switchmatrix.live.stepping.prepared import Prepared
from switchmatrix.model.rig import Rig
from tests.live.rigs import astray
from tests.live.stepping.kit import ready, show_of

FEET = """feet:
  next: {port: rack, channel: 16, cc: 64, from: 64}
  back: {port: floor, channel: 6, cc: 90, from: 64}
  rest: 250 ms
hands: [wah.sweep]"""

WITH_FEET = ready(
    show_of(
        {
            "rigs/a-rig.yaml": ("hands: [wah.sweep]", FEET),
            "definitions/echo-box.yaml": ("controls:", "clock: yes\ncontrols:"),
        }
    )
)
"""The small show with pedals, and an echo that wants MIDI clock; the pedal for back is the mixer's mute."""

STEP_NS = 5 * MS
"""Between two looks at the ports."""


HALLS: list[Hall] = []
"""Those that are open."""


@dataclass(frozen=True, slots=True)
class Arrived:
    """A message that reached a rig, and whether its gate was open then."""

    at_ns: int
    rig: str
    port: str
    data: bytes
    gate: Gate


class _Listened(LoopInput):
    """An input of a rig that tells what it hears."""

    def __init__(self, loop: Loop, name: str, tells: Callable[[str, Heard], None]) -> None:
        super().__init__(loop, name, True)
        self._tells = tells

    def hear(self, heard: Heard) -> None:
        self._tells(self.name, heard)
        super().hear(heard)


class _Stalling(LoopOutput):
    """An output of the program that sends nothing while its loop is stalled."""

    def next_ns(self) -> int | None:
        due = super().next_ns()
        return None if due is None else max(due, self._loop.stalled_ns)  # type: ignore[attr-defined]


class FarLoop(Loop):
    """A loop whose virtual inputs tell what they hear; what is due before `stalled_ns` leaves late."""

    def __init__(self, start_ns: int, tells: Callable[[str, Heard], None]) -> None:
        super().__init__(start_ns)
        self._tells = tells
        self.stalled_ns = 0

    def open_output(self, name: str, *, virtual: bool = False, share: bool = False) -> LoopOutput | Refused:
        """Open one."""
        port = super().open_output(name, virtual=virtual, share=share)
        if virtual or isinstance(port, Refused):
            return port
        self._outputs[-1] = _Stalling(self, name, False)
        return self._outputs[-1]

    def open_input(self, name: str, *, virtual: bool = False) -> LoopInput | Refused:
        """Open one."""
        if not virtual:
            return super().open_input(name)
        port = _Listened(self, name, self._tells)
        self._inputs.append(port)
        return port

    def lost_now(self) -> bool:
        """Whether its ports are gone."""
        return any(port.lost is not None for port in self._all())


class Hall:
    """A rehearsal, its rigs and their clock. `there` says whether a rig's ports can be opened."""

    def __init__(
        self,
        folder: Path,
        show: Prepared = WITH_FEET,
        start: Start | None = None,
        following: Following | None = None,
        away: tuple[str, ...] = (),
    ) -> None:
        self._now = 1_000 * MS
        self.loops: dict[str, FarLoop] = {}
        self.boxes: dict[str, StandIn] = {}
        self.away = set(away)
        """Rigs of which no port can be opened."""
        self.off = False
        """Whether what is opened anew was off meanwhile."""
        self.arrived: list[Arrived] = []
        self.folder = folder
        self.opened: dict[str, int] = {}
        lines = {}
        for id, one in show.rigs.items():
            open_ = opener(one.rig, self._maker(one.rig))
            ports = [port.name for port in one.rig.ports]
            lines[id] = RigLines(id, ports, open_, open_(ports), at_once=True)
        HALLS.append(self)
        self.rehearsal: Rehearsal | None = None
        self.rehearsal = Rehearsal(
            show, lines, Journal(folder, "tour", lambda: "now"), self.clock, start or Start(), following
        )

    @property
    def it(self) -> Rehearsal:
        """The rehearsal."""
        assert self.rehearsal is not None
        return self.rehearsal

    def clock(self) -> int:
        """This moment; opening ports takes time."""
        return max([self._now, *(loop.now_ns() for loop in self.loops.values())])

    def _maker(self, rig: Rig) -> Callable[[], Loop]:
        names = {port.out: port.name for port in rig.ports}

        def tells(name: str, heard: Heard) -> None:
            gate = Gate.FIRST if self.rehearsal is None else self.rehearsal.state.rig(rig.id).gate
            self.arrived.append(Arrived(heard.moment_ns, rig.id, names[name], heard.data, gate))

        def make() -> Loop:
            if rig.id in self.away:
                return Loop(self.clock())
            loop = FarLoop(self.clock(), tells)
            box = open_stand_in(rig, Faults(), loop)
            assert isinstance(box, StandIn)
            before = self.boxes.get(rig.id)
            if before is not None and not self.off:
                box.stage.now.update(before.stage.now)
            self.boxes[rig.id], self.loops[rig.id] = box, loop
            loop.residents.append(lambda: _work(box))
            self.opened[rig.id] = self.opened.get(rig.id, 0) + 1
            return loop

        return make

    def go(self, ms: float = 5) -> None:
        """Time passes."""
        self._now = self.clock()
        end = self._now + int(ms * MS)
        while self.clock() < end:
            self._now = min(end, self.clock() + STEP_NS)
            self.it.poll()
        self.it.idle()

    def settle(self) -> None:
        """Time passes until nothing is under way."""
        for _ in range(2_000):
            self.go()
            if not any(now.pending for now in self.it.state.rigs):
                return
        raise AssertionError([now.pending for now in self.it.state.rigs])

    def stall(self, rig: str, ms: float) -> None:
        """A rig's ports send nothing for so long."""
        self.loops[rig].stalled_ns = self.clock() + int(ms * MS)

    def cut(self, rig: str, away: bool = False) -> None:
        """Every port of a rig is lost; `away` where none can be opened until `back`."""
        self.away |= {rig} if away else set()
        self.loops[rig].cut()

    def says(self, rig: str, port: str, *datas: bytes, after_ms: float = 0) -> None:
        """A rig's return says something."""
        line = next(line for line in self.boxes[rig]._lines if line.port.name == port)
        assert line.says is not None
        line.says.hand([Due(self.clock() + int(after_ms * MS), data) for data in datas])

    def elsewhere(self, rig: str, port: str, data: bytes) -> None:
        """Somebody else moves a box, which the tool hears."""
        self.boxes[rig].stage.feed(port, data)
        self.says(rig, port, data)

    def put_by_hand(self) -> None:
        """A person puts the switches where he was told."""
        for id in self.it.state.driven:
            for hand in self.it.state.rig(id).by_hand:
                name = self.it.state.prepared(id).rig.devices[hand.device].name
                now = self.boxes[id].stage.now[name]
                controls = (*now.controls[: hand.index], int(hand.on), *now.controls[hand.index + 1 :])
                self.boxes[id].stage.now[name] = replace(now, controls=controls)

    def datas(self, rig: str, port: str) -> list[bytes]:
        """What has reached a port, clocks left out."""
        return [
            one.data for one in self.arrived if (one.rig, one.port) == (rig, port) and one.data != b"\xf8"
        ]

    def clocks_ms(self, rig: str = "a-rig", port: str = "rack") -> list[float]:
        """When clocks came."""
        return [
            one.at_ns / MS for one in self.arrived if (one.rig, one.port, one.data) == (rig, port, b"\xf8")
        ]

    def astray(self, rig: str) -> list[str]:
        """What does not stand where the stop that a rig is in wants it, but for what is sent nothing."""
        now, ready_rig = self.it.state.rig(rig), self.it.state.prepared(rig)
        assert now.inside is not None
        devices = ready_rig.rig.devices
        left = {
            f"{devices[h.device].name}.{devices[h.device].definition.controls[h.index].name}"
            for h in now.by_hand
        }
        absent = now.absent(ready_rig.rig)
        found = astray(self.boxes[rig], ready_rig.states[now.inside])
        return [one for one in found if one not in left and one.split(".")[0] not in absent]

    def logged(self) -> list[dict[str, object]]:
        """The log on disk."""
        return [json.loads(line) for line in self.it.journal.log.read_text(encoding="utf-8").splitlines()]

    def said(self) -> list[str]:
        """What a person was told."""
        return [text for _, text in self.it.said]

    def close(self) -> None:
        """End it."""
        self.it.close()


def _work(box: StandIn) -> None:
    box.work()


def begun(
    folder: Path, show: Prepared = WITH_FEET, start: Start | None = None, following: Following | None = None
) -> Hall:
    """A rehearsal whose gate a person has opened, the first scene being there."""
    hall = Hall(folder, show, start, following)
    hall.it.do(OutputsMuted())
    hall.settle()
    return hall
