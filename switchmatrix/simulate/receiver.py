"""What one device does with what it hears: a table of messages, and the walk through it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from switchmatrix.model.rig import Device
from switchmatrix.model.settings import PATCH
from switchmatrix.simulate.box import PATCH_MOVED, Box
from switchmatrix.simulate.exclusive import Template
from switchmatrix.simulate.standing import DeviceNow, Halves
from switchmatrix.simulate.stream import (
    CONTROL_CHANGE,
    NOTE_OFF,
    NOTE_ON,
    PITCH_BEND,
    SYSTEM_RESET,
    Event,
    Exclusive,
    RealTime,
    Voice,
)
from switchmatrix.simulate.table import Act, Key, table_of, templates_of
from switchmatrix.simulate.unit import Unit, unit

Deed = tuple[Callable[[Box, int, int, int], None], int, int, int]
"""An act with its value."""

_ADDRESSED = (NOTE_OFF, NOTE_ON, CONTROL_CHANGE)


@dataclass(frozen=True, slots=True)
class Told:
    """One event as a device took it: what it `moved` (controls by name, `patch`).

    `noted` where it only waits for more: bank select, a parameter's number. Neither: it is ignored.
    """

    event: Event
    moved: tuple[str, ...]
    noted: bool

    @property
    def ignored(self) -> bool:
        """Whether the device did nothing with it."""
        return not self.moved and not self.noted


@dataclass(frozen=True, slots=True, eq=False)
class Receiver:
    """A device with the table of the messages that it minds; compared by identity."""

    unit: Unit
    rows: dict[int, int]
    table: dict[Key, tuple[Act, ...]]
    templates: tuple[Template, ...]

    @property
    def name(self) -> str:
        """The device's name in the rig."""
        return self.unit.device.name

    def hear(self, now: DeviceNow, events: Iterable[Event]) -> DeviceNow:
        """Where the device stands when it has heard the events."""
        return self.run(now, self.deeds(events))

    def deeds(self, events: Iterable[Event]) -> tuple[Deed, ...]:
        """What the events do, wherever the device stands: to be kept, where the same bytes come often."""
        return tuple(deed for event in events for deed in self._deeds(event))

    def run(self, now: DeviceNow, deeds: Iterable[Deed]) -> DeviceNow:
        """Where the device stands when all that is done."""
        box = Box(self.unit, now)
        for act, first, second, value in deeds:
            act(box, first, second, value)
        return box.now()

    def told(self, now: DeviceNow, events: Iterable[Event]) -> tuple[DeviceNow, tuple[Told, ...]]:
        """The same as `hear`, and what the device did with each of the events."""
        box = Box(self.unit, now)
        out = []
        for event in events:
            box.moved, box.noted = [], False
            for act, first, second, value in self._deeds(event):
                act(box, first, second, value)
            moved = tuple(self.name_of(n) for n in dict.fromkeys(box.moved))
            out.append(Told(event, moved, box.noted))
        return box.now(), tuple(out)

    def minds(self, event: Event) -> bool:
        """Whether the event could do anything to the device, wherever it stands."""
        return bool(self._deeds(event))

    def _deeds(self, event: Event) -> list[Deed]:
        match event:
            case Voice(nibble, channel, data):
                row = self.rows.get(channel)
                if row is None:
                    return []
                acts = self.table.get((nibble, row, data[0] if nibble in _ADDRESSED else 0), ())
                value = data[-1] if nibble != PITCH_BEND else data[0] + data[1] * 128
                return [(act, first, second, value) for act, first, second in acts]
            case Exclusive(body, closed):
                # Cut off, it is ended by the standard; but a careful box may have thrown it away.
                act = Box.take if closed else Box.unsure
                codes = [(one.index, one.code(body)) for one in self.templates]
                return [(act, n, 0, code) for n, code in codes if code is not None]
            case RealTime(status) if status == SYSTEM_RESET:
                return [(Box.forget, 0, 0, 0)]
            case _:
                return []

    def addressed(self, now: DeviceNow) -> tuple[str, ...]:
        """The parameters that data entry is sure to reach: nobody has closed their group."""
        box = Box(self.unit, now)
        reached = [box.addressed(row) for row in range(len(self.unit.rows))]
        return tuple(self.name_of(n) for controls, sure in reached if sure for n in controls)

    def name_of(self, n: int) -> str:
        """The name of a control, or of the patch."""
        return PATCH if n == PATCH_MOVED else self.unit.parts[n].control.name


def receiver(device: Device, halves: Halves = Halves.ZEROED) -> Receiver:
    """The device with its table."""
    one = unit(device, halves)
    rows = dict.fromkeys(range(16), 0) if device.omni else {channel: n for n, channel in enumerate(one.rows)}
    return Receiver(one, rows, table_of(one), templates_of(one))
