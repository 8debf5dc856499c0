"""Two names for one patch."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.midi.numbers import Address
from switchmatrix.model.settings import Patch
from switchmatrix.states.show import ShowStates


def patch_twice(show: ShowStates) -> list[Diagnostic]:
    """Each patch whose program an earlier patch of the device has."""
    found = []
    for rig in show.rigs:
        for device in rig.devices:
            first: dict[Address, Patch] = {}
            for patch in device.patches:
                other = first.setdefault(patch.address, patch)
                if other is not patch:
                    message = (
                        f"`{patch.name}` and `{other.name}` of `{device.name}` are one patch, {patch.panel}"
                    )
                    help = "keep one name, or look up the other's number on the front panel"
                    related = (Related(other.span, f"`{other.name}` is here"),)
                    found.append(names.PATCH_TWICE.at(patch.span, message, help, related))
    return found
