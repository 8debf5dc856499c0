"""The show's files have changed: the new show takes over where the old one stood, or is refused."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.compile.known import (
    UNKNOWN,
    DeviceKnown,
    Known,
    device_unknown,
    moved_by_recall,
    nothing_known,
    reach,
)
from switchmatrix.diagnostics import lines
from switchmatrix.diagnostics.diagnostic import Severity
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.inputs import ReloadRefused
from switchmatrix.live.stepping.moves import without
from switchmatrix.live.stepping.prepared import Prepared
from switchmatrix.live.stepping.state import RigNow, Stepping
from switchmatrix.live.stepping.stops import HOME, Key
from switchmatrix.live.stepping.turn import Turn, named
from switchmatrix.model.rig import Device, Rig
from switchmatrix.model.settings import PATCH, Target


def refused(turn: Turn, input: ReloadRefused) -> None:
    """A show with errors is not taken over."""
    errors = [one for one in input.found if one.severity is Severity.ERROR]
    count = f"{len(errors)} error{'' if len(errors) == 1 else 's'}"
    turn.say(f"the files have {count}: the running show goes on")
    for line in lines.render(errors).splitlines():
        turn.say(line)
    turn.log("reload", taken=False, errors=len(errors))


def reloaded(turn: Turn, show: Prepared) -> None:
    """A sound show is taken over at once, or when nothing is pending any more."""
    if any(id not in show.rigs for id in turn.state.show.rigs) or not show.by_key:
        turn.say("the show has lost a rig that is rehearsed, or all its scenes: the running show goes on")
        turn.log("reload", taken=False, errors=0)
        return
    turn.state = replace(turn.state, waiting=show)


def take_over(turn: Turn) -> None:
    """The waiting show takes over, where nothing is pending."""
    new, state = turn.state.waiting, turn.state
    if new is None or any(now.pending for now in state.rigs):
        return
    at = _same(new, state.at, state.place)
    place = new.places.get(at, min(state.place, max(len(new.stops) - 1, 0)))
    goal = state.goal if _has(new, state.goal) and state.goal != state.at else at
    peek = state.peek if state.peek is not None and state.peek < len(new.stops) else None
    changed = _changed(state, new, at)
    rigs = tuple(_carried(state, new, now) for now in state.rigs)
    turn.state = replace(state, show=new, at=at, place=place, goal=goal, peek=peek, rigs=rigs, waiting=None)
    turn.say("the show's files were read again")
    if at[1:] != state.at[1:]:
        turn.say(f"{state.show.label(state.at)} is no longer there: we stand at {new.label(at)}")
    elif changed:
        turn.say(f"{new.label(at)} is not as it was: go there again to hear it")
    turn.log("reload", taken=True, errors=0)
    turn.log("at", **named(at))


def _has(show: Prepared, key: Key) -> bool:
    return key in show.by_key or key == HOME


def _same(show: Prepared, at: Key, place: int) -> Key:
    """The stop of the same song and scene, nearest in the setlist; else one of the song, else the place."""
    if at in show.by_key:
        return at
    every = (*show.stops, *show.others)
    for alike in (slice(1, 4), slice(1, 3), slice(1, 2)):
        keys = [stop.key for stop in every if stop.key[alike] == at[alike]]
        if keys:
            return min(keys, key=lambda key: abs(key.item - at.item))
    left = show.stops or show.others
    return left[min(place, len(left) - 1)].key


def _changed(state: Stepping, new: Prepared, at: Key) -> bool:
    """Whether what a driven rig is in means something else now."""
    for id in state.driven:
        inside = state.rig(id).inside
        old, now = (None, None) if inside is None else (state.prepared(id).states.get(inside), None)
        if inside is not None:
            now = new.rigs[id].states.get(at if inside == state.at else inside)
        if old is not None and (now is None or now.key != old.key):
            return True
    return False


def _carried(state: Stepping, new: Prepared, now: RigNow) -> RigNow:
    """A rig under the new show: what is known of devices that are the same."""
    old_rig, rig = state.prepared(now.id).rig, new.rigs[now.id].rig
    if now.gate is Gate.FIRST:
        known = nothing_known(rig)
    else:
        known = Known(tuple(_device(old_rig, rig, device, now.known) for device in rig.devices))
    names, ports = {device.name for device in rig.devices}, {port.name for port in rig.ports}
    inside = now.inside if now.inside in new.rigs[now.id].states else None
    return replace(now, known=known, inside=inside, out=now.out & names, lost=now.lost & ports, by_hand=())


def _device(old: Rig, new: Rig, device: Device, known: Known) -> DeviceKnown:
    """What is known of a device, less what the player or a controller may have moved since."""
    index = next((n for n, one in enumerate(old.devices) if one == device), None)
    ports = {port.name: port for port in old.ports}
    if index is None or ports.get(device.port) != new.port(device.port):
        return device_unknown(device)
    stands, reached, controls = known.devices[index], reach(new, device), device.definition.controls
    held = {t.control for t in new.hands - old.hands if t.device == device.name}
    moved = set(reached.controls) | {n for n, control in enumerate(controls) if control.name in held}
    if reached.patch or PATCH in held:
        moved |= {n for n in range(len(controls)) if moved_by_recall(device, n)}
        stands = replace(stands, patch=UNKNOWN)
    if (reached.bank or Target(device.name, PATCH) in new.hands) and stands.bank is not None:
        stands = replace(stands, bank=UNKNOWN)
    return without(stands, device.definition.order.moved_with(moved))
