"""The mutes of a rig that have something to give back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import Target
from switchmatrix.states.state import State


def mutable(rig: Rig, states: Iterable[State]) -> Rig:
    """The rig less the mutes whose held control one of the states gives no code: a check speaks of those."""
    mutes = rig.mutes
    for state in states if mutes else ():
        coded = {
            Target(device.device.name, control.name)
            for device in state.devices
            for control, want in zip(device.device.definition.controls, device.wants, strict=True)
            if isinstance(want, int)
        }
        mutes = tuple(mute for mute in mutes if coded.issuperset(target for target, _ in mute.holds))
    return rig if mutes == rig.mutes else replace(rig, mutes=mutes)
