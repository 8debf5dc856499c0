"""Devices that go and come, that someone else has moved, that a person has set; and which rigs are driven."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from switchmatrix.compile.known import (
    UNKNOWN,
    DeviceKnown,
    Known,
    all_in_doubt,
    device_unknown,
    moved_by_recall,
)
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.inputs import BringBack, Doubt, TakeOut
from switchmatrix.live.stepping.moves import without
from switchmatrix.live.stepping.sending import bring, pass_gate
from switchmatrix.live.stepping.turn import Turn, touched
from switchmatrix.model.rig import Device, Rig

Touch = Callable[[Known], Known]


def take_out(turn: Turn, input: TakeOut) -> None:
    """A device is sent nothing from now on."""
    index = _index(turn, input.rig, input.device)
    now = turn.state.rig(input.rig)
    if index is None or input.device in now.out:
        return
    rig = turn.state.prepared(input.rig).rig
    turn.put(touched(replace(now, out=now.out | {input.device}), _unknown(rig, index)))
    turn.say(f"{rig.title}: {input.device} is out, and is sent nothing")
    turn.log("out", rig=input.rig, device=input.device)


def bring_back(turn: Turn, input: BringBack) -> None:
    """A device is there again: it is sent all of what the rig is in."""
    index = _index(turn, input.rig, input.device)
    now = turn.state.rig(input.rig)
    if index is None or input.device not in now.out:
        return
    rig = turn.state.prepared(input.rig).rig
    turn.put(touched(replace(now, out=now.out - {input.device}), _unknown(rig, index)))
    turn.say(f"{rig.title}: {input.device} is back")
    turn.log("in", rig=input.rig, device=input.device)
    if now.gate is Gate.OPEN and now.id in turn.state.driven and now.inside is not None:
        bring(turn, now.id, now.inside)


def _index(turn: Turn, rig: str, device: str) -> int | None:
    """Where the device stands among the rig's."""
    devices = turn.state.prepared(rig).rig.devices
    found = next((n for n, one in enumerate(devices) if one.name == device), None)
    if found is None:
        turn.say(f"{turn.state.prepared(rig).rig.title} has no device {device}")
    return found


def _unknown(rig: Rig, index: int) -> Touch:
    return lambda known: _with(known, index, device_unknown(rig.devices[index]))


def _all_unknown(rig: Rig) -> Touch:
    return lambda _: all_in_doubt(rig)


def _with(known: Known, index: int, device: DeviceKnown) -> Known:
    devices = known.devices
    return Known((*devices[:index], device, *devices[index + 1 :]))


def doubt(turn: Turn, input: Doubt) -> None:
    """Someone else has moved something: it is sent with the next change."""
    index = _index(turn, input.rig, input.device)
    if index is None:
        return
    now, rig = turn.state.rig(input.rig), turn.state.prepared(input.rig).rig
    before = now.known
    now = touched(now, lambda known: _with(known, index, doubted(rig.devices[index], input, known, index)))
    if now.known != before:
        what = ", ".join(sorted(input.controls | ({"patch"} if input.patch else set()))) or "bank"
        turn.say(f"{rig.title}: {input.device} was changed from elsewhere, in doubt: {what}")
        turn.log("doubt", rig=input.rig, device=input.device, what=what)
    turn.put(now)


def doubted(device: Device, doubt: Doubt, known: Known, index: int) -> DeviceKnown:
    """What is still known of a device that someone else has changed."""
    stands = known.devices[index]
    controls = device.definition.controls
    moved = {n for n, control in enumerate(controls) if control.name in doubt.controls}
    if doubt.patch:
        moved |= {n for n in range(len(controls)) if moved_by_recall(device, n)}
        stands = replace(stands, patch=UNKNOWN)
    if (doubt.bank or doubt.patch) and stands.bank is not None:
        stands = replace(stands, bank=UNKNOWN)
    return without(stands, device.definition.order.moved_with(moved))


def drive(turn: Turn, rigs: Iterable[str]) -> None:
    """Those rigs are sent to from now on; one that is left may be changed behind our back."""
    wanted = tuple(id for id in turn.state.show.rigs if id in set(rigs))
    if not wanted or wanted == turn.state.driven:
        return
    come = [id for id in wanted if id not in turn.state.driven]
    for id in turn.state.driven:
        now = turn.state.rig(id)
        if id not in wanted and now.gate is not Gate.FIRST:
            rig = turn.state.prepared(id).rig
            turn.put(touched(replace(now, inside=None, by_hand=()), _all_unknown(rig)))
    turn.state = replace(turn.state, driven=wanted)
    titles = [turn.state.prepared(id).rig.title for id in wanted]
    turn.say(f"driving {' and '.join(titles)}")
    turn.log("drive", rigs=list(wanted))
    for id in come:
        gate = turn.state.rig(id).gate
        if gate is Gate.OPEN:
            bring(turn, id, turn.state.goal)
        elif turn.state.options.said and gate is not Gate.FAULT:
            pass_gate(turn, id)
    turn.ask_at_gate(again=bool(come))


def set_by_hand(turn: Turn) -> None:
    """The switches that were named stand as was said; what still waits could flip them once more."""
    for id in turn.state.driven:
        now = turn.state.rig(id)
        if now.by_hand and now.pending:
            title = turn.state.prepared(id).rig.title
            turn.say(f"{title}: a change is still under way, say so once more when it is over")
            continue
        for hand in now.by_hand:
            now = touched(now, _put(hand.device, hand.index, int(hand.on)))
        if now.by_hand:
            turn.log("by hand", rig=id, what=[hand.text for hand in now.by_hand])
        turn.put(replace(now, by_hand=()))


def _put(device: int, index: int, code: int) -> Touch:
    """A control that stands at a code."""

    def put(known: Known) -> Known:
        stands = known.devices[device]
        controls = (*stands.controls[:index], code, *stands.controls[index + 1 :])
        return _with(known, device, replace(stands, controls=controls))

    return put
