"""What can be named on one rig: its devices, absent devices and entries; None for a broken one."""

from __future__ import annotations

from dataclasses import dataclass, field

from switchmatrix.definition.controls import TRIGGER, Control
from switchmatrix.definition.definition import Definition
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.model.rig import Absent, Device, DoneWithout, Entry, Limit, Passed, Words
from switchmatrix.model.settings import PATCH, Target
from switchmatrix.syntax.nodes import Scalar


@dataclass(slots=True)
class Scope:
    """The names of one rig while its files are being bound.

    `hands` holds what the player moves; of a control that is handed on, both ends.

    `absent_patches` are the patch names that the translations of each absent device give.
    """

    devices: dict[str, Device | None] = field(default_factory=dict)
    absents: dict[str, Absent | None] = field(default_factory=dict)
    entries: dict[str, Entry | None] = field(default_factory=dict)
    limits: dict[Target, Limit] = field(default_factory=dict)
    translations: dict[Target, Words | Passed | DoneWithout] = field(default_factory=dict)
    hands: frozenset[Target] = frozenset()
    absent_patches: dict[str, tuple[str, ...] | None] = field(default_factory=dict)

    def definition(self, device: str) -> Definition | None:
        """What the device or absent device of that name understands; None for a broken one."""
        found = self.devices.get(device) or self.absents.get(device)
        return found.definition if found is not None else None

    def known(self, device: str) -> bool:
        """Whether there is a device or absent device of that name, broken or not."""
        return device in self.devices or device in self.absents

    def target(self, scalar: Scalar, found: list[Diagnostic]) -> Target | None:
        """The control or patch that a dotted name means; a device alone means its main switch."""
        device, dot, rest = scalar.text.partition(".")
        if not self.known(device):
            if any(scalar.text.startswith(f"{name}.") for name, d in self.devices.items() if d is None):
                return None
            known = (*self.devices, *self.absents)
            message = f"no device is called `{device}`"
            found.append(names.UNKNOWN_NAME.at(scalar.span, message, did_you_mean(device, known, "devices")))
            return None
        definition = self.definition(device)
        if definition is None:
            return None
        if not dot:
            return self.main(device, scalar, found)
        return Target(device, rest) if self.has(definition, device, rest, scalar, found) else None

    def main(self, device: str, scalar: Scalar, found: list[Diagnostic]) -> Target | None:
        """The device's main switch."""
        definition = self.definition(device)
        main = definition.main if definition is not None else None
        if main is not None:
            return Target(device, main.name)
        if definition is not None and not (definition.broken - {PATCH}):
            message = f"`{device}` has no main switch to turn on or off"
            help = "name one of its controls, or mark one `main: yes` in its definition"
            found.append(names.UNKNOWN_NAME.at(scalar.span, message, help))
        return None

    def has(
        self, definition: Definition, device: str, control: str, scalar: Scalar, found: list[Diagnostic]
    ) -> bool:
        """Whether the device has the control (or patches, for `patch`); says so where it has not."""
        if control == PATCH:
            if definition.programs is None and PATCH not in definition.broken:
                message = f"`{device}` has no programs, so no patch"
                found.append(names.UNKNOWN_NAME.at(scalar.span, message, "name one of its controls"))
            return definition.programs is not None
        if definition.control(control) is not None:
            return True
        if control not in definition.broken:
            known = [c.name for c in definition.controls]
            message = f"`{device}` has no control `{control}`"
            help = did_you_mean(control, known, f"controls of `{device}`")
            found.append(names.UNKNOWN_NAME.at(scalar.span, message, help))
        return False

    def control(self, target: Target) -> Control:
        """The control that a target found by this scope means; KeyError for a patch."""
        definition = self.definition(target.device)
        control = definition.control(target.control) if definition is not None else None
        if control is None:
            raise KeyError(target)
        return control

    def is_trigger(self, target: Target) -> bool:
        """Whether the target is a trigger."""
        return target.control != PATCH and self.control(target).kind == TRIGGER

    def with_hands(self, more: frozenset[Target]) -> frozenset[Target]:
        """The player's controls and `more`; of a control handed on to another, both."""
        held = self.hands | more
        ends = [(t, p.target) for t, p in self.translations.items() if isinstance(p, Passed)]
        return held | {end for pair in ends if held.intersection(pair) for end in pair}

    def moved_by_player(self) -> frozenset[Target]:
        """What the definitions say that the player moves; programs stand for the patch."""
        moved: set[Target] = set()
        for device in (*self.devices, *self.absents):
            definition = self.definition(device)
            if definition is not None:
                moved.update(Target(device, c.name) for c in definition.controls if c.moved_by_player)
                if definition.programs is not None and definition.programs.moved_by_player:
                    moved.add(Target(device, PATCH))
        return frozenset(moved)

    def triggers(self) -> frozenset[Target]:
        """Every trigger of the rig's devices and absent devices."""
        return frozenset(
            Target(device, control.name)
            for device in (*self.devices, *self.absents)
            if (definition := self.definition(device)) is not None
            for control in definition.controls
            if control.kind == TRIGGER
        )

    def every_target(self, device: str) -> tuple[Target, ...]:
        """The device's patch and each of its controls that has a state."""
        definition = self.definition(device)
        if definition is None:
            return ()
        controls = tuple(Target(device, c.name) for c in definition.controls if c.kind != TRIGGER)
        return ((Target(device, PATCH),) if definition.programs is not None else ()) + controls
