"""Where a stand-in's devices stand, in words; every line says that it is a stand-in."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.live.stand_in.rig import StandIn
from switchmatrix.simulate.words import Says, code_said, device_said

MARK = "stand-in: "
"""How every line begins."""


def row(stand_in: StandIn, name: str, says: Says = code_said) -> str:
    """One device with its patch and controls."""
    one = next(one for one in stand_in.receivers.devices if one.name == name)
    now = stand_in.now[name]
    said = device_said(one.unit, now, says)
    if all(text == "unknown" for _, text in said):
        return f"{MARK}{name}  has heard nothing yet"
    parts = [f"{what} {text}" for what, text in said]
    fired = [
        f"{one.name_of(n)} {'may have fired' if code is None else 'fired'}"
        for n, code in dict.fromkeys(now.fired)
    ]
    return f"{MARK}{name}  {', '.join([*parts, *fired])}"


def table(stand_in: StandIn, says: Says = code_said) -> list[str]:
    """Every device, in rig-file order."""
    return [row(stand_in, device.name, says) for device in stand_in.rig.devices]


def rows(stand_in: StandIn, names: Iterable[str], says: Says = code_said) -> list[str]:
    """Some of the devices."""
    return [row(stand_in, name, says) for name in names]
