"""What someone else's messages may have moved: heard by the simulator, to doubts."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.definition.controls import TRIGGER
from switchmatrix.live.stepping.inputs import Doubt
from switchmatrix.model.settings import PATCH
from switchmatrix.simulate.receiver import Receiver
from switchmatrix.simulate.rig import Receivers
from switchmatrix.simulate.stream import CONTROL_CHANGE, Event, Voice

_BANK_SELECT = (0, 32)


def doubts(rig: str, receivers: Receivers, port: str, events: Iterable[Event]) -> tuple[Doubt, ...]:
    """What the events on a port may have moved, wherever the devices stood; the tool's own are no doubt."""
    given = tuple(events)
    found = (_doubt(rig, one, given) for one in receivers.by_port.get(port, ()))
    return tuple(doubt for doubt in found if doubt is not None)


def _doubt(rig: str, one: Receiver, events: tuple[Event, ...]) -> Doubt | None:
    _, told = one.told(one.unit.start(), events)
    triggers = {control.name for control in one.unit.definition.controls if control.kind == TRIGGER}
    moved = {name for took in told for name in took.moved} - triggers
    bank = one.unit.scheme is not None and any(took.noted and _selects(took.event) for took in told)
    if not moved and not bank:
        return None
    return Doubt(rig, one.name, frozenset(moved - {PATCH}), PATCH in moved, bank)


def _selects(event: Event) -> bool:
    return isinstance(event, Voice) and event.nibble == CONTROL_CHANGE and event.data[0] in _BANK_SELECT
