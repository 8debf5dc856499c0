"""What a tech works through at the front panels: for a whole rig, or from what differs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from switchmatrix.compare import words
from switchmatrix.compare.records import RackDevice, RackList, RigChange, RigDiff, Task
from switchmatrix.definition.controls import Control
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.show import Run
from switchmatrix.states.state import AsPatch, DeviceState, Set

CONNECT, DISCONNECT, SET, RECEIVE = "connect", "disconnect", "set", "receive"
MAKE, CHANGE, RENUMBER, REMOVE = "make", "change", "renumber", "remove"


def rack(rig: Rig, runs: Iterable[Run]) -> RackList:
    """Everything that must be so on the rig's panels, for the runs given (none: for all that could be)."""
    sent = _sent([run for run in runs if run.rig is rig])
    devices = tuple(_device(rig, device, _whole(device, sent)) for device in rig.devices)
    return RackList(rig.id, rig.title, devices)


def _device(rig: Rig, device: Device, tasks: Iterable[Task]) -> RackDevice:
    return RackDevice(
        device.name,
        device.definition.title,
        device.port,
        _out(rig, device),
        words.channels(device),
        "" if device.id is None else str(device.id),
        device.gang,
        tuple(tasks),
    )


def _out(rig: Rig, device: Device) -> str:
    return next((port.out for port in rig.ports if port.name == device.port), device.port)


_Sent = dict[str, frozenset[str]] | None
"""The controls of each device that are sent something; None where that is not known."""


def _sent(runs: list[Run]) -> _Sent:
    if not runs:
        return None
    found: dict[str, set[str]] = {device.name: set() for device in runs[0].rig.devices}
    states = {id(d): d for r in runs for _, song in r.songs for s in song.states for d in s.state.devices}
    for state in states.values():
        found[state.device.name] |= _of_state(state)
    for trigger in (t for run in runs for _, song in run.songs for v in song.visits for t in v.triggers):
        found[trigger.device.name].add(trigger.control)
    for mute in runs[0].rig.mutes:
        for target, _ in mute.holds:
            found[target.device].add(target.control)
    return {name: frozenset(controls) for name, controls in found.items()}


def _of_state(state: DeviceState) -> set[str]:
    return {
        control.name
        for control, value in zip(state.device.definition.controls, state.controls, strict=True)
        if isinstance(value, Set) or (isinstance(value, AsPatch) and value.code is not None)
    }


def _whole(device: Device, sent: _Sent) -> Iterator[Task]:
    """How the device must stand, what it must receive, what must be stored in it."""
    yield Task(SET, "channel", "", words.channels(device))
    yield Task(SET, "omni", "", "on, it hears all channels" if device.omni else "off")
    if device.id is not None:
        yield Task(SET, "system exclusive id", "", str(device.id))
    if device.powers_up:
        yield Task(SET, "after power-up", "", words.powers_up(device))
    yield from _receives(device, sent)
    for patch in device.patches:
        yield Task(MAKE, patch.name, patch.panel, words.stores(patch))


def _receives(device: Device, sent: _Sent) -> Iterator[Task]:
    programs = device.definition.programs
    if programs is not None and device.patches:
        select = words.bank_select(programs)
        yield Task(RECEIVE, "patches", "", "program changes")
        if programs.bank is not None:
            yield Task(RECEIVE, "banks", "", f"bank select by {select}")
        if programs.remap:
            yield Task(SET, "program table", "", words.remapped(programs))
    for control in device.definition.controls:
        if _needed(control, device, sent):
            yield Task(RECEIVE, control.name, "", words.carrier_of(control))
    if device.definition.clock:
        yield Task(RECEIVE, "tempo", "", "MIDI clock")


def _needed(control: Control, device: Device, sent: _Sent) -> bool:
    if sent is None:
        return control.hazard is None and not control.writes
    return control.name in sent[device.name]


def rack_of_diff(diff: RigDiff, old: Rig, new: Rig, runs: Iterable[Run]) -> RackList:
    """What a tech must do so that the old rig becomes the new one."""
    sent = _sent([run for run in runs if run.rig is new])
    devices = [_changed(diff, new, device, sent) for device in new.devices]
    gone = [d for d in old.devices if any(_goes(change, d) for change in diff.changes)]
    listed = [d for d in devices if d.tasks]
    listed += [_device(old, device, [Task(DISCONNECT, device.name, "", _where(device))]) for device in gone]
    return RackList(new.id, new.title, tuple(listed))


def _where(device: Device) -> str:
    return f"from {device.port}, channel {words.channels(device)}"


def _goes(change: RigChange, device: Device) -> bool:
    return change.what == "device" and change.of.was == device.name and change.of.now is None


def _changed(diff: RigDiff, rig: Rig, device: Device, sent: _Sent) -> RackDevice:
    changes = [c for c in diff.changes if c.of.now == device.name and c.panel]
    tasks: list[Task] = []
    for change in changes:
        if change.what == "device" or change.what == "model":
            was = change.was.text if change.was is not None else None
            there = f"{device.definition.title} to {device.port}"
            tasks += [Task(CONNECT, device.name, "", there, was, len(change.touches)), *_whole(device, sent)]
    if not tasks:
        tasks = [task for change in changes for task in _task(change, device)]
        tasks += _of_definition(diff, device, sent)
    of_port = [c for c in diff.changes if c.what == "port of the rig" and c.of.name == device.port]
    tasks += [_cable(change) for change in of_port]
    return _device(rig, device, tasks)


def _cable(change: RigChange) -> Task:
    now = change.now.text if change.now is not None else "gone"
    was = change.was.text if change.was is not None else None
    return Task(CONNECT, f"port {change.of.name}", "", now, was, len(change.touches))


def _task(change: RigChange, device: Device) -> Iterator[Task]:
    """The rack work that one change of a device makes."""
    now = change.now.text if change.now is not None else ""
    was = change.was.text if change.was is not None else None
    count = len(change.touches)
    match change.what:
        case "patch":
            number, _, stored = (now or was or "").partition(": ")
            yield Task(MAKE if now else REMOVE, change.part.name, number, stored or "not said", None, count)
        case "patch number":
            patch = device.patch(change.part.name)
            detail = words.stores(patch) if patch is not None else ""
            yield Task(RENUMBER, change.part.name, now, detail, was, count)
        case "patch stores":
            patch = device.patch(change.part.name)
            yield Task(CHANGE, change.part.name, patch.panel if patch is not None else "", now, was, count)
        case "port" | "thru-of":
            yield Task(CONNECT, change.what, "", now, was, count)
        case "gang":
            yield Task(CONNECT, "boxes moving together", "", now, was, count)
        case what:
            yield Task(SET, "system exclusive id" if what == "id" else what, "", now, was, count)


def _of_definition(diff: RigDiff, device: Device, sent: _Sent) -> Iterator[Task]:
    """What a device must receive from now on because its definition says something else."""
    for change in diff.changes:
        if change.of.now != device.definition.id or change.now is None:
            continue
        control = device.definition.control(change.part.name) if change.part.now else None
        if change.what == "definition carrier" and control is not None and _needed(control, device, sent):
            was = change.was.text if change.was is not None else None
            yield Task(RECEIVE, control.name, "", change.now.text, was, len(change.touches))
        elif change.what == "definition control" and control is not None and _needed(control, device, sent):
            yield Task(RECEIVE, control.name, "", words.carrier_of(control), None, len(change.touches))
        elif change.what == "definition programs: bank select":
            was = change.was.text if change.was is not None else None
            yield Task(RECEIVE, "banks", "", f"bank select by {change.now.text}", was, len(change.touches))
