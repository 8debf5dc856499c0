"""What the tests of sending share: the example show, its rigs on ports, and where a stand-in must stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import cast

from switchmatrix.live.changes import Planner
from switchmatrix.live.gate import Gate
from switchmatrix.live.loop import Loop
from switchmatrix.live.records import Heard, Lost, NoPorts, Ports, Refused
from switchmatrix.live.rig_ports import rig_ports
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stand_in.rig import StandIn, open_stand_in
from switchmatrix.live.transport import Input, Output, Transport
from switchmatrix.live.wires import Wires, open_wires
from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import PATCH
from switchmatrix.pipeline import Judged, judge
from switchmatrix.simulate.standing import AsStored, Standing
from switchmatrix.states.show import Run
from switchmatrix.states.state import DeviceState, PatchIn, State, StoredIn

SONGS = Path(__file__).parents[2] / "songs"
NONE = Faults()


@cache
def example() -> Judged:
    """The example show."""
    return judge(SONGS)


def run_on(rig: str, leg: str | None = None) -> Run:
    """The first leg of the example show on that rig."""
    runs = example().worked_out.runs
    return next(run for run in runs if run.rig.id == rig and leg in (None, run.leg.name))


def states_of(run: Run) -> list[tuple[str, State]]:
    """Every distinct state of a run, by song and scene."""
    return [
        (f"{song.song.song.id} {scene.label}", scene.state) for _, song in run.songs for scene in song.states
    ]


@dataclass(slots=True, eq=False)
class Tap:
    """An input that also keeps all that it has heard."""

    port: Input
    kept: list[bytes] = field(default_factory=list)

    @property
    def name(self) -> str:
        """Its name."""
        return self.port.name

    @property
    def lost(self) -> Lost | None:
        """How it was lost."""
        return self.port.lost

    @property
    def beats(self) -> bool:
        """Whether a lost server is noticed."""
        return self.port.beats

    @property
    def missed(self) -> int:
        """Beats dropped."""
        return self.port.missed

    def news(self) -> tuple[Heard, ...]:
        """What came."""
        news = self.port.news()
        self.kept += [one.data for one in news]
        return news

    def close(self) -> None:
        """Close it."""
        self.port.close()


@dataclass(slots=True, eq=False)
class Tapped:
    """A transport whose virtual inputs keep what they hear, by name."""

    inner: Transport
    taps: dict[str, Tap] = field(default_factory=dict)

    def now_ns(self) -> int:
        """This moment."""
        return self.inner.now_ns()

    def ports(self) -> Ports | NoPorts:
        """The ports that there are."""
        return self.inner.ports()

    def open_output(self, name: str, *, virtual: bool = False, share: bool = False) -> Output | Refused:
        """Open an output."""
        return self.inner.open_output(name, virtual=virtual, share=share)

    def open_input(self, name: str, *, virtual: bool = False) -> Input | Refused:
        """Open an input and listen in."""
        port = self.inner.open_input(name, virtual=virtual)
        if isinstance(port, Refused):
            return port
        tap = self.taps[name] = Tap(port)
        return cast(Input, tap)

    def wait(self, until_ns: int) -> None:
        """Let time pass."""
        self.inner.wait(until_ns)

    def close(self) -> None:
        """Close all."""
        self.inner.close()


@dataclass(slots=True, eq=False)
class Played:
    """A rig made of software, and the program's wires to it."""

    rig: Rig
    box: StandIn
    wires: Wires
    taps: dict[str, Tap]
    planner: Planner


def played(rig: Rig, transport: Transport, faults: Faults = NONE, extra_us: int = 0) -> Played:
    """The rig's stand-in behind the transport's virtual ports, all of the rig's ports open, the gate too."""
    tapped = Tapped(transport)
    box = open_stand_in(rig, faults, tapped)
    assert isinstance(box, StandIn), box
    if isinstance(transport, Loop):
        transport.residents.append(lambda: _work(box))
    there = transport.ports()
    assert isinstance(there, Ports)
    wires = open_wires(transport, rig_ports(rig, there), Gate(said=True), inputs=True)
    assert isinstance(wires, Wires), wires
    taps = {port.name: tapped.taps[port.out] for port in rig.ports}
    return Played(rig, box, wires, taps, Planner(rig, extra_us))


def _work(box: StandIn) -> None:
    box.work()


def astray(box: StandIn, state: State) -> list[str]:
    """The controls, and patches, that do not stand where a state wants them."""
    return [name for device in state.devices for name in _astray(box, device)]


def _astray(box: StandIn, state: DeviceState) -> list[str]:
    device = state.device
    now = box.now[device.name]
    unit = next(one.unit for one in box.receivers.devices if one.name == device.name)
    wrong = []
    if isinstance(state.patch, PatchIn) and now.patch != unit.place(state.patch.patch.address):
        wrong.append(f"{device.name}.{PATCH}")
    for control, want, stands in zip(device.definition.controls, state.wants, now.controls, strict=True):
        wanted: Standing | None = want if not isinstance(want, StoredIn) else None
        if isinstance(want, StoredIn):
            place = unit.place(want.address)
            wanted = AsStored(want.address if place is None else place)
        if wanted is not None and wanted != stands:
            wrong.append(f"{device.name}.{control.name}")
    return wrong


def on_port(datas: Sequence[tuple[str, bytes]], port: str) -> list[bytes]:
    """The messages of one port."""
    return [data for name, data in datas if name == port]
