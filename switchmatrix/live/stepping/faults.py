"""Ports that go and come back, and sends that fail."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.compile.known import Known, device_unknown
from switchmatrix.live.stepping.actions import DropQueue
from switchmatrix.live.stepping.breaking import broken, dropped_busy
from switchmatrix.live.stepping.gate import CAUTION, MOST_UNASKED, Gate
from switchmatrix.live.stepping.inputs import Done, PortBack, PortLost, SendFailed
from switchmatrix.live.stepping.sending import pass_gate
from switchmatrix.live.stepping.state import RigNow
from switchmatrix.live.stepping.turn import Turn
from switchmatrix.model.rig import Rig


def done(turn: Turn, report: Done) -> None:
    """A send is out; what was handed over before it may not be."""
    now = turn.state.rig(report.rig)
    if all(one.send != report.send or one.done for one in now.pending):
        return
    turn.log("sent", rig=report.rig, send=report.send)
    pending = [replace(p, done=True) if p.send == report.send else p for p in now.pending]
    while pending and pending[0].done:
        pending.pop(0)
    turn.put(replace(now, pending=tuple(pending)))


def fault(turn: Turn, report: PortLost | SendFailed) -> None:
    """A port is gone, or a send failed: the rig is sent nothing until a person has spoken."""
    now, rig = turn.state.rig(report.rig), turn.state.prepared(report.rig).rig
    what = "is lost" if isinstance(report, PortLost) else "did not send"
    turn.say(f"{rig.title}: the port {report.port} {what}: {report.reason}")
    turn.log("fault", rig=report.rig, port=report.port, lost=isinstance(report, PortLost), why=report.reason)
    now = _stopped(turn, now, rig, report)
    if isinstance(report, SendFailed):
        now = replace(now, failed=now.failed + 1)
    if isinstance(report, PortLost):
        now = replace(now, lost=now.lost | {report.port})
        if now.gate is not Gate.FIRST:
            now = replace(now, known=_gone(rig, now.known, report.port))
    _closed(turn, now)


def back(turn: Turn, report: PortBack) -> None:
    """A port is there again, and what hangs on it may stand anywhere."""
    now, rig = turn.state.rig(report.rig), turn.state.prepared(report.rig).rig
    if report.port not in now.lost:
        return
    turn.say(f"{rig.title}: the port {report.port} is back")
    turn.log("back", rig=report.rig, port=report.port)
    _closed(turn, replace(now, lost=now.lost - {report.port}))


def _stopped(turn: Turn, now: RigNow, rig: Rig, report: PortLost | SendFailed) -> RigNow:
    """The rig with all that was pending broken off."""
    if not now.pending:
        return now
    turn.actions.append(DropQueue(now.id))
    after = broken(rig, now.pending, report.counts)
    for target in after.muted:
        turn.say(f"{rig.title}: broken off inside a mute, {target} may still be held")
    busy = dropped_busy(turn.state.prepared(now.id).moves.spaced, now.pending, turn.at_us)
    return replace(now, known=after.known, pending=(), busy=busy)


def _gone(rig: Rig, known: Known, port: str) -> Known:
    """Nothing is known of the devices on a port that is gone."""
    pairs = zip(rig.devices, known.devices, strict=True)
    return Known(tuple(device_unknown(device) if device.port == port else stands for device, stands in pairs))


def _closed(turn: Turn, now: RigNow) -> None:
    """The gate shuts behind a rig that had passed it, unless the show goes on without asking."""
    if now.gate is not Gate.OPEN:
        turn.put(now)
    else:
        turn.put(replace(now, gate=Gate.FAULT, inside=None, by_hand=()))
    if now.id not in turn.state.driven:
        return
    if now.gate is Gate.FIRST or turn.state.options.asks_after_fault or now.failed > MOST_UNASKED:
        turn.ask_at_gate(again=True)
        return
    turn.say(CAUTION)
    pass_gate(turn, now.id)
