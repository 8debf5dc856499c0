"""Silence from one point of a chain on: one finding, at the place where to look."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from switchmatrix.live.line_check.records import Result, Verdict
from switchmatrix.model.rig import Device, Rig

_DEAD = (Verdict.SILENT, Verdict.EYE_NO)


def chains(rig: Rig, results: Sequence[Result]) -> tuple[str, ...]:
    """Where several devices of one port are silent together, what that points to.

    A port on which nobody responds is one finding; so is a device with nothing but silence behind its thru.
    """
    found: list[str] = []
    by_name = {one.device: one for one in results}
    for port in rig.ports:
        here = [one for one in results if one.port == port.name and _is_judged(one)]
        if len(here) > 1 and all(one.verdict in _DEAD for one in here):
            found.append(f"nothing on {port.name} responds: look at the interface and at its first cable")
        else:
            found += _behind([d for d in rig.devices if d.port == port.name], by_name)
    return tuple(found)


def _is_judged(result: Result) -> bool:
    return result.verdict not in (Verdict.NOT_CHECKED, Verdict.LEFT_OUT)


def _behind(devices: Sequence[Device], results: dict[str, Result]) -> Iterable[str]:
    """A finding for each device from which on the chain is silent."""
    for device in devices:
        before = None if device.thru_of is None else results.get(device.thru_of)
        if not _dead(results.get(device.name)) or _dead(before):
            continue
        behind = _after(device, devices)
        judged = [one for name in behind if (one := results.get(name)) is not None and _is_judged(one)]
        if judged and all(one.verdict in _DEAD for one in judged):
            names = ", ".join([device.name, *(one.device for one in judged)])
            where = "its cable" if device.thru_of is None else f"the cable from the thru of {device.thru_of}"
            yield f"from {device.name} on nothing responds ({names}): look at its power and at {where}"


def _dead(result: Result | None) -> bool:
    return result is not None and result.verdict in _DEAD


def _after(device: Device, devices: Sequence[Device]) -> list[str]:
    """All that hangs behind a device's thru."""
    names = [device.name]
    for name in names:
        names += [one.name for one in devices if one.thru_of == name]
    return names[1:]
