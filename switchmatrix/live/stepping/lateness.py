"""Messages that left late: what follows is planned from when they left, not from when they should have."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from typing import TypeVar

from switchmatrix.compile.schedule import Busy, Timed
from switchmatrix.live.stepping.inputs import Late
from switchmatrix.live.stepping.state import Pending
from switchmatrix.live.stepping.turn import Turn
from switchmatrix.model.rig import Rig

_Named = TypeVar("_Named", str, int)


def late(turn: Turn, report: Late) -> None:
    """What a port has been handed goes later, and so does all that it sets going."""
    now, rig = turn.state.rig(report.rig), turn.state.prepared(report.rig).rig
    turn.log("late", rig=now.id, port=report.port, send=report.send, by_us=report.by_us)
    pending = tuple(_later(rig, one, report) for one in now.pending)
    turn.put(replace(now, pending=pending, busy=_busier(rig, now.busy, report)))


def _later(rig: Rig, pending: Pending, report: Late) -> Pending:
    """A send with the messages later that the port had yet to send."""
    if pending.send < report.send:
        return pending
    own = pending.send == report.send
    since = report.due_us if own else 0

    def moved(message: Timed) -> Timed:
        if message.step.port != report.port or message.starts_us < since:
            return message
        starts, lands = message.starts_us + report.by_us, message.lands_us + report.by_us
        return Timed(message.step, starts, lands)

    before = pending.busy_before if own else _busier(rig, pending.busy_before, report)
    return replace(pending, messages=tuple(map(moved, pending.messages)), busy_before=before)


def _busier(rig: Rig, busy: Busy, report: Late) -> Busy:
    """Until when all is busy; what a mute holds for may hang on any port, so that all mutes count."""
    on_port = {device.name for device in rig.devices if device.port == report.port}
    return Busy(
        _longer(busy.ports, {report.port}, report.by_us),
        _longer(busy.devices, on_port, report.by_us),
        _longer(busy.holds, busy.holds, report.by_us),
        _longer(busy.lets_go, busy.lets_go, report.by_us),
        _longer(busy.gaps, on_port, report.by_us),
    )


def _longer(until: Mapping[_Named, int], these: Collection[_Named], by_us: int) -> dict[_Named, int]:
    return {name: moment + by_us if name in these else moment for name, moment in until.items()}
