"""Messages in time: one at a time on a port, ports side by side, no device disturbed while it settles."""

from __future__ import annotations

from dataclasses import dataclass, field

from switchmatrix.compile.transition import Step
from switchmatrix.midi.wire import DIN_BYTE_US, USB_BYTE_US, wire_time_us
from switchmatrix.model.rig import Rig


@dataclass(frozen=True, slots=True)
class Busy:
    """Until when ports and devices are still doing something, in microseconds; nothing where not named."""

    ports: dict[str, int] = field(default_factory=dict)
    devices: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Timed:
    """A message with its moments, in microseconds on the clock that the schedule was given.

    `starts_us` is its first byte's, `lands_us` the one when the device has it and has settled.
    """

    step: Step
    starts_us: int
    lands_us: int


@dataclass(frozen=True, slots=True)
class Scheduled:
    """A transition in time, and what is still going on after it."""

    messages: tuple[Timed, ...]
    busy: Busy

    def change_time_us(self) -> int:
        """From the first byte until the last device has settled; 0 where nothing is sent."""
        if not self.messages:
            return 0
        return max(m.lands_us for m in self.messages) - min(m.starts_us for m in self.messages)


def schedule(rig: Rig, steps: tuple[Step, ...], at_us: int = 0, busy: Busy | None = None) -> Scheduled:
    """Each message as early as its port and its device allow, in the order given on each port."""
    ports = dict(busy.ports) if busy is not None else {}
    devices = dict(busy.devices) if busy is not None else {}
    byte_us = {port.name: USB_BYTE_US if port.usb else DIN_BYTE_US for port in rig.ports}
    out = []
    for step in steps:
        starts = max(at_us, ports.get(step.port, 0), devices.get(step.device, 0))
        sent = starts + wire_time_us(len(step.data), byte_us[step.port])
        lands = sent + step.settle_us
        ports[step.port], devices[step.device] = sent, lands
        out.append(Timed(step, starts, lands))
    out.sort(key=lambda timed: timed.starts_us)
    return Scheduled(tuple(out), Busy(ports, devices))
