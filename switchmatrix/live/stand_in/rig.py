"""A rig made of software: virtual ports by the rig's names, and every device acting on what it hears."""

from __future__ import annotations

from dataclasses import dataclass, replace

from switchmatrix.definition.definition import Identity
from switchmatrix.live.identity import EVERY_DEVICE, asked, reply
from switchmatrix.live.records import MS, Due, Heard, Lost, Refused
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.transport import Input, Output, Transport
from switchmatrix.live.whole import messages
from switchmatrix.model.rig import Device, Port, Rig
from switchmatrix.simulate.rig import Receivers, Stage, receivers
from switchmatrix.simulate.standing import UNKNOWN, DeviceNow
from switchmatrix.simulate.stream import Exclusive, heard
from switchmatrix.simulate.unit import Unit

NO_ID = 0
"""The device id that a box of the stand-in answers with where the rig gives it none."""

THINKS_NS = 2 * MS
"""How long a box takes to answer."""


@dataclass(slots=True, eq=False)
class _Line:
    """One port of the rig: what comes in from the tool, and the return, where it has one."""

    port: Port
    hears: Input
    says: Output | None
    count: int = 0


class StandIn:
    """The rig's devices behind virtual ports; `work` has them hear what came, and answer."""

    def __init__(self, rig: Rig, faults: Faults, transport: Transport, lines: list[_Line]) -> None:
        self.rig, self.faults = rig, faults
        self._transport, self._lines = transport, lines
        self.receivers: Receivers = receivers(rig)
        self.stage = Stage(self.receivers, {one.name: _found(one.unit) for one in self.receivers.devices})
        self._deaf = _deaf(rig, faults.silent)
        self.heard = 0

    @property
    def now(self) -> dict[str, DeviceNow]:
        """Where each device stands."""
        return self.stage.now

    @property
    def lost(self) -> Lost | None:
        """How a port of it was lost."""
        ports: list[Input | Output] = [line.hears for line in self._lines]
        ports += [line.says for line in self._lines if line.says is not None]
        return next((port.lost for port in ports if port.lost is not None), None)

    def work(self) -> tuple[str, ...]:
        """Take what came on every port; the devices that now stand otherwise, in rig order."""
        before = dict(self.stage.now)
        for line in self._lines:
            for came in line.hears.news():
                for data in messages(came.data):
                    self._hear(line, Heard(came.moment_ns, data))
        names = [device.name for device in self.rig.devices]
        return tuple(name for name in names if self.now[name] != before[name])

    def _hear(self, line: _Line, came: Heard) -> None:
        line.count += 1
        if self.faults.drop and line.count % self.faults.drop == 0:
            return
        self.heard += 1
        held = {name: self.stage.now[name] for name in self._deaf}
        self.stage.feed(line.port.name, came.data)
        self.stage.now.update(held)
        for event in heard(came.data):
            if isinstance(event, Exclusive) and event.closed and line.says is not None:
                id = asked(event.body)
                if id is not None:
                    self._answer(line, line.says, id, came.moment_ns)

    def _answer(self, line: _Line, says: Output, id: int, moment: int) -> None:
        """Every device that is asked answers as its definition says, a gang as often as it has boxes."""
        dues: list[Due] = []
        for device in self.rig.devices:
            own = NO_ID if device.id is None else device.id
            if device.port != line.port.name or device.name in self._deaf or id not in (EVERY_DEVICE, own):
                continue
            identity = self._identity(device)
            if identity is not None:
                at = moment + THINKS_NS + self.faults.slow_ms.get(device.name, 0) * MS
                dues += [Due(at, reply(identity, own))] * device.gang
        for due in dues:
            says.hand([due])

    def _identity(self, device: Device) -> Identity | None:
        identity = device.definition.identity
        if identity is None or device.name not in self.faults.wrong_version:
            return identity
        version = identity.version or (0, 0, 0, 0)
        return replace(identity, version=(*version[:3], (version[3] + 1) % 128))


def _found(unit: Unit) -> DeviceNow:
    """A device just switched on: its toggles as they power up, all else unknown."""
    stands = dict(unit.device.powers_up)
    return unit.start(controls=[int(stands[n]) if n in stands else UNKNOWN for n in range(len(unit.parts))])


def _deaf(rig: Rig, silent: frozenset[str]) -> frozenset[str]:
    """The silent devices and all that hangs behind their thru."""
    deaf = set(silent)
    while True:
        more = {device.name for device in rig.devices if device.thru_of in deaf} - deaf
        if not more:
            return frozenset(deaf)
        deaf |= more


def open_stand_in(rig: Rig, faults: Faults, transport: Transport, api: str = "loop") -> StandIn | Refused:
    """Open the virtual ports and switch every device on."""
    lines: list[_Line] = []
    for port in rig.ports:
        hears = transport.open_input(_named(port.out, api), virtual=True)
        says = None if port.input is None else transport.open_output(_named(port.input, api), virtual=True)
        if isinstance(hears, Refused) or isinstance(says, Refused):
            transport.close()
            return hears if isinstance(hears, Refused) else says  # type: ignore[return-value]
        lines.append(_Line(port, hears, says))
    return StandIn(rig, faults, transport, lines)


def _named(name: str, api: str) -> str:
    """A virtual port's name; where no client's name stands before it, it says itself what it is."""
    return f"stand-in {name}" if api == "core" else name
