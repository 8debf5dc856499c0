"""What differs in a rig's devices: where they stand on the wire, their patches, what they understand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from switchmatrix.compare import words
from switchmatrix.compare.definitions import definition_changes
from switchmatrix.compare.impact import Impact, Taken
from switchmatrix.compare.recast import as_on, redefined, restored
from switchmatrix.compare.records import Names, RigChange, Told, Touch
from switchmatrix.compare.renames import Renames
from switchmatrix.definition.definition import Definition
from switchmatrix.midi.numbers import Address
from switchmatrix.model.rig import Device, Rig
from switchmatrix.model.settings import PATCH, Patch

NOBODY = Names("", "")

_PLACE: dict[str, tuple[tuple[str, ...], bool]] = {
    "port": (("port",), True),
    "channel": (("channel", "channels"), True),
    "id": (("id",), True),
    "omni": (("omni",), True),
    "gang": (("gang",), True),
    "thru-of": (("thru_of",), True),
    "powers up": (("powers_up",), True),
    "pickup": (("pickup",), False),
}
"""Each thing that a rig says of a device: the fields that it stands for, and whether it is rack work."""


def device_changes(old: Rig, new: Rig, same: Renames, impact: Impact) -> Iterator[RigChange]:
    """Devices that come and go, then those that stay, in rig-file order, then definitions."""
    known = {a.name for a, _ in same.devices}, {b.name for _, b in same.devices}
    for device in (d for d in old.devices if d.name not in known[0]):
        told = Told(_summary(device), device.span)
        touches = impact.without(device, gone=True)
        yield RigChange("device", Names(device.name, None), NOBODY, told, None, True, touches)
    for device in (d for d in new.devices if d.name not in known[1]):
        told = Told(_summary(device), device.span)
        touches = impact.without(device, gone=False)
        yield RigChange("device", Names(None, device.name), NOBODY, None, told, True, touches)
    for was, now in same.devices:
        yield from _Device(old, was, now, same, impact).changes()
    yield from _definitions(same, impact)
    yield from _order(old, new, same, impact)


def _summary(device: Device) -> str:
    where = f"{device.port}, channel {words.channels(device)}"
    return f"{device.definition.title} on {where}"


class _Device:
    """One device that both rigs have."""

    def __init__(self, rig: Rig, old: Device, new: Device, same: Renames, impact: Impact) -> None:
        self.old, self.new, self.impact = old, new, impact
        self.index = rig.devices.index(old)
        self.names = Names(old.name, new.name)
        self.same = same
        self.patches = same.patches[old.name]

    def touched(self, became: Device, patches: dict[str, str] | None = None) -> tuple[Touch, ...]:
        """The scenes that send something else to the device as it would be."""
        recast = as_on(became, patches)

        def taken(rig: Rig) -> Taken:
            devices = list(rig.devices)
            devices[self.index] = became
            return Taken(replace(rig, devices=tuple(devices)), self.index, recast)

        return self.impact.touched(taken)

    def changes(self) -> Iterator[RigChange]:
        old, new = self.old, self.new
        if old.name != new.name:
            told = Told(old.name, old.span), Told(new.name, new.span)
            yield RigChange(
                "name", self.names, NOBODY, *told, False, self.touched(replace(old, name=new.name))
            )
        was = {**_place(old), "thru-of": self.same.device(old.thru_of or "none")}
        now = _place(new)
        for what, (fields, panel) in _PLACE.items():
            if was[what] != now[what] and (what != "powers up" or old.definition.id == new.definition.id):
                became = replace(old, **{name: getattr(new, name) for name in fields})
                told = Told(was[what], old.span), Told(now[what], new.span)
                yield RigChange(what, self.names, NOBODY, *told, panel, self.touched(became))
        if old.definition.id != new.definition.id:
            told = Told(old.definition.title, old.span), Told(new.definition.title, new.span)
            became = redefined(old, new.definition)
            yield RigChange("model", self.names, NOBODY, *told, True, self.touched(became))
        yield from self._patches()

    def _patches(self) -> Iterator[RigChange]:
        after = {p.name: p for p in self.new.patches}
        for patch in self.old.patches:
            if patch.name in self.patches:
                yield from self._patch(patch, after[self.patches[patch.name]])
            else:
                told = Told(words.numbered(patch), patch.span)
                part = Names(patch.name, None)
                yield RigChange("patch", self.names, part, told, None, True, self._chosen(patch.name))
        for patch in self.new.patches:
            if patch.name not in self.patches.values():
                told = Told(words.numbered(patch), patch.span)
                part = Names(None, patch.name)
                yield RigChange("patch", self.names, part, None, told, True, self._chosen(patch.name))

    def _chosen(self, patch: str) -> tuple[Touch, ...]:
        """The scenes that have gone over to the patch, or from it to another."""
        control = f"{self.new.name}.{PATCH}"
        return self.impact.from_cells(control, patch)

    def _patch(self, was: Patch, now: Patch) -> Iterator[RigChange]:
        part = Names(was.name, now.name)
        if was.name != now.name:
            told = Told(was.name, was.span), Told(now.name, now.span)
            became = self._with(was, replace(was, name=now.name))
            touches = self.touched(became, {was.name: now.name})
            yield RigChange("patch name", self.names, part, *told, False, touches)
        if was.panel != now.panel:
            told = Told(was.panel, was.span), Told(now.panel, now.span)
            moved = replace(was, panel=now.panel, address=self._address(now))
            yield RigChange(
                "patch number", self.names, part, *told, True, self.touched(self._with(was, moved))
            )
        if not words.store_the_same(was, now):
            told = Told(words.stores(was), was.span), Told(words.stores(now), now.span)
            kept = restored(self.new.definition, self.old.definition, now.stores)
            became = self._with(was, replace(was, stores=kept))
            yield RigChange("patch stores", self.names, part, *told, True, self.touched(became))

    def _with(self, was: Patch, patch: Patch) -> Device:
        patches = tuple(patch if p is was else p for p in self.old.patches)
        return replace(self.old, patches=patches)

    def _address(self, now: Patch) -> Address:
        """The new number's address, as the old definition would have it."""
        programs = self.old.definition.programs
        at = programs.position(now.panel) if programs is not None else None
        address = programs.address(at) if programs is not None and at is not None else None
        return address if address is not None else now.address


def _place(device: Device) -> dict[str, str]:
    return {
        "port": device.port,
        "channel": words.channels(device),
        "id": "none" if device.id is None else str(device.id),
        "omni": words.yes(device.omni),
        "gang": str(device.gang),
        "thru-of": device.thru_of or "none",
        "powers up": words.powers_up(device),
        "pickup": device.pickup or "none",
    }


def _definitions(same: Renames, impact: Impact) -> Iterator[RigChange]:
    """Each definition that both rigs use for the same device, once."""
    done: set[str] = set()
    for was, now in same.devices:
        old, new = was.definition, now.definition
        if old.id == new.id and old.id not in done:
            done.add(old.id)
            users = {a.name for a, _ in same.devices if a.definition.id == old.id}
            for found in definition_changes(old, new):
                touches = _by(users, impact, found.taken)
                yield RigChange(
                    f"definition {found.what}",
                    Names(old.id, new.id),
                    found.part,
                    found.was,
                    found.now,
                    False,
                    touches,
                )


def _by(users: set[str], impact: Impact, definition: Definition) -> tuple[Touch, ...]:
    """The scenes touched by way of any of the devices."""
    touches: list[Touch] = []
    for name in sorted(users):

        def taken(rig: Rig, name: str = name) -> Taken:
            index = next(n for n, d in enumerate(rig.devices) if d.name == name)
            devices = list(rig.devices)
            devices[index] = redefined(devices[index], definition)
            return Taken(replace(rig, devices=tuple(devices)), index, as_on(devices[index]))

        touches += impact.touched(taken)
    return tuple(dict.fromkeys(touches))


def _order(old: Rig, new: Rig, same: Renames, impact: Impact) -> Iterator[RigChange]:
    """Devices are sent to in rig-file order."""
    now_was = {b.name: a.name for a, b in same.devices}
    before = [a.name for a, _ in same.devices]
    after = [now_was[d.name] for d in new.devices if d.name in now_was]
    if before == after:
        return
    place = {d.name: n for n, d in enumerate(old.devices)}
    order = (*(place[name] for name in after), *(place[d.name] for d in old.devices if d.name not in after))

    def taken(rig: Rig) -> Taken:
        return Taken(replace(rig, devices=tuple(rig.devices[n] for n in order)), order=order)

    told = Told(", ".join(same.device(a) for a in before), old.span)
    later = Told(", ".join(same.device(a) for a in after), new.span)
    yield RigChange("order of devices", NOBODY, NOBODY, told, later, False, impact.touched(taken))
