"""The rack list as text: a box to tick for each thing to do."""

from __future__ import annotations

from switchmatrix.compare.records import RackDevice, RackList, Task

BOX = "[ ]"


def rack_text(racks: tuple[RackList, ...]) -> str:
    """The lists of several rigs, one below the other."""
    return "\n".join("\n".join(_rack(rack)) for rack in racks) or "nothing to do at the rack\n"


def _rack(rack: RackList) -> list[str]:
    lines = [f"{rack.title} ({rack.rig})", ""]
    if not rack.devices:
        return [*lines, "nothing to do at the rack", ""]
    for device in rack.devices:
        lines += [_head(device), *(f"  {BOX} {_task(task)}" for task in device.tasks), ""]
    return lines


def _head(device: RackDevice) -> str:
    said = [device.model, f"port {device.port} (out {device.out})", f"channel {device.channel}"]
    said += [f"id {device.id}"] if device.id else []
    said += [f"{device.gang} boxes alike"] if device.gang > 1 else []
    return f"{device.name}: {', '.join(said)}"


def _task(task: Task) -> str:
    was = f"; it was {task.was}" if task.was is not None else ""
    if task.scenes is None:
        touched = ""
    elif task.scenes == 0:
        touched = "; alters no message"
    else:
        touched = f"; for {task.scenes} scene{'' if task.scenes == 1 else 's'}"
    return f"{_do(task)}{was}{touched}"


def _do(task: Task) -> str:
    match task.do:
        case "set":
            return f"{task.what} {task.detail}"
        case "receive":
            return f"receives {task.detail}, for {task.what}"
        case "connect":
            return f"connect {task.what}: {task.detail}"
        case "disconnect":
            return f"disconnect it {task.detail}"
        case "make":
            return f"patch {task.number}, {task.what}: {_stores(task)}"
        case "change":
            return f"store patch {task.number}, {task.what}, again: {_stores(task)}"
        case "renumber":
            return f"store patch {task.what} at {task.number}: {_stores(task)}"
        case "remove":
            return f"patch {task.number}, {task.what}, is no longer called"
        case other:
            return f"{other} {task.what}: {task.detail}"


def _stores(task: Task) -> str:
    return "what it stores is not said" if task.detail == "not said" else task.detail
