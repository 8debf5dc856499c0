"""Which device and patch of one rig is which of another, whatever it is called."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from switchmatrix.compare.likeness import alike, matched
from switchmatrix.model.rig import Device, Rig
from switchmatrix.model.settings import Patch


@dataclass(frozen=True, slots=True)
class Renames:
    """The pairs of devices of two rigs, and for each old device its patches' new names.

    A device or patch that has no pair is in neither.
    """

    devices: tuple[tuple[Device, Device], ...]
    patches: dict[str, dict[str, str]]

    def device(self, old: str) -> str:
        """What the old rig's device is called now."""
        return next((b.name for a, b in self.devices if a.name == old), old)

    def patch(self, device: str, old: str) -> str:
        """What the old rig's patch is called now."""
        return self.patches.get(device, {}).get(old, old)


def renames(old: Rig, new: Rig) -> Renames:
    """Devices of one name are one; of the others those that are alike enough."""
    there = {d.name: d for d in new.devices}
    pairs = [(d, there[d.name]) for d in old.devices if d.name in there]
    known = {d.name for d, _ in pairs}
    gone = [d for d in old.devices if d.name not in known]
    come = [d for d in new.devices if d.name not in known]
    pairs += matched(gone, come, _alike)
    place = {d.name: n for n, d in enumerate(old.devices)}
    pairs.sort(key=lambda pair: place[pair[0].name])
    return Renames(tuple(pairs), {a.name: patch_names(a, b) for a, b in pairs})


def _alike(old: Device, new: Device) -> Fraction:
    """The same model, at the same place on the wire, with the same patches."""
    model = Fraction(2, 5) * (old.definition.id == new.definition.id)
    wire = Fraction(3, 10) * ((old.port, old.channel, old.channels) == (new.port, new.channel, new.channels))
    if not old.patches and not new.patches:
        return model + wire + Fraction(3, 20)
    return model + wire + Fraction(3, 10) * alike(_stored(old), _stored(new))


def _stored(device: Device) -> list[tuple[str, str]]:
    return [(p.name, p.panel) for p in device.patches]


def patch_names(old: Device, new: Device) -> dict[str, str]:
    """The new name of each of the old device's patches that is still there."""
    there = {p.name for p in new.patches}
    names = {p.name: p.name for p in old.patches if p.name in there}
    gone = [p for p in old.patches if p.name not in names]
    come = [p for p in new.patches if p.name not in names]
    return names | {a.name: b.name for a, b in matched(gone, come, _same_sound)}


def _same_sound(old: Patch, new: Patch) -> Fraction:
    """Patches of one number that do not contradict each other, or that store the same."""
    a, b = ({control: stored.code for control, stored in p.stores} for p in (old, new))
    if old.panel == new.panel:
        contradict = any(a[control] != b[control] for control in a.keys() & b.keys())
        return Fraction(0) if contradict else Fraction(1)
    return Fraction(9, 10) if a and a == b else Fraction(0)
