"""A whole rig: bytes to a port, and what each device on it makes of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from switchmatrix.model.rig import Rig
from switchmatrix.simulate.receiver import Receiver, Told, receiver
from switchmatrix.simulate.standing import DeviceNow, Halves
from switchmatrix.simulate.stream import Event, Reader


@dataclass(frozen=True, slots=True)
class Acted:
    """One event on a port as one device took it."""

    device: str
    told: Told


@dataclass(frozen=True, slots=True, eq=False)
class Receivers:
    """The devices of a rig, in rig-file order, and by the port that they hang on; compared by identity."""

    devices: tuple[Receiver, ...]
    by_port: dict[str, tuple[Receiver, ...]]

    def minding(self, port: str, events: Iterable[Event]) -> tuple[str, ...]:
        """The devices to which any of the events could do anything, wherever they stand."""
        given = tuple(events)
        return tuple(one.name for one in self.by_port[port] if any(one.minds(event) for event in given))


def receivers(rig: Rig, halves: Halves = Halves.ZEROED) -> Receivers:
    """The rig's devices, each with its table."""
    devices = tuple(receiver(device, halves) for device in rig.devices)
    ports = dict.fromkeys([*(port.name for port in rig.ports), *(device.port for device in rig.devices)])
    by_port = {port: tuple(one for one in devices if one.unit.device.port == port) for port in ports}
    return Receivers(devices, by_port)


class Stage:
    """The rig as it stands: wires with what they have carried so far, devices with what they have heard."""

    __slots__ = ("_readers", "_receivers", "now")

    def __init__(self, receivers: Receivers, start: dict[str, DeviceNow] | None = None) -> None:
        self._receivers = receivers
        self._readers = {port: Reader() for port in receivers.by_port}
        self.now = {one.name: one.unit.start() for one in receivers.devices} | (start or {})
        """Where each device stands, by its name; nothing is known of those that `start` leaves out."""

    def feed(self, port: str, data: bytes) -> tuple[Acted, ...]:
        """What every device on the port makes of the bytes, event by event; KeyError for no port."""
        events = self._readers[port].feed(data)
        out: list[tuple[int, Acted]] = []
        for one in self._receivers.by_port[port]:
            self.now[one.name], told = one.told(self.now[one.name], events)
            out += [(n, Acted(one.name, took)) for n, took in enumerate(told)]
        return tuple(acted for _, acted in sorted(out, key=lambda pair: pair[0]))
