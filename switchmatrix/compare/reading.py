"""A state read for comparison: each control's value in words, under the names of the new rig."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.compare.records import Told
from switchmatrix.compare.renames import Renames
from switchmatrix.definition.controls import TRIGGER
from switchmatrix.model.settings import PATCH
from switchmatrix.states.state import AsPatch, ControlState, DeviceState, Free, Origin, PatchIn, Set, State


@dataclass(frozen=True, slots=True)
class Cell:
    """A control's value, and the line that gave it."""

    told: Told
    origin: Origin | None


Cells = dict[str, Cell]
"""`device.control` (or `device.patch`) to its value."""


class Reader:
    """Reads states; a device's state that comes again is read once. `renames` None for the new side."""

    def __init__(self, renames: Renames | None = None) -> None:
        self.renames = renames
        self.read: dict[int, tuple[DeviceState, Cells]] = {}

    def state(self, state: State) -> Cells:
        """Every control of the rig, triggers apart."""
        cells: Cells = {}
        for device in state.devices:
            cells |= self.device(device)
        return cells

    def device(self, state: DeviceState) -> Cells:
        """Every control of one device, its patch first."""
        if id(state) not in self.read:
            self.read[id(state)] = (state, dict(self._cells(state)))
        return self.read[id(state)][1]

    def _cells(self, state: DeviceState) -> list[tuple[str, Cell]]:
        device = state.device.name
        name = self.renames.device(device) if self.renames is not None else device
        cells = [] if state.patch is None else [(f"{name}.{PATCH}", self._patch(device, state.patch))]
        return cells + [
            (f"{name}.{control.name}", self._control(device, value, control.name))
            for control, value in zip(state.device.definition.controls, state.controls, strict=True)
            if control.kind != TRIGGER
        ]

    def _patch(self, device: str, patch: PatchIn | Free) -> Cell:
        if isinstance(patch, Free):
            return Cell(Told(patch.value, None), None)
        return Cell(Told(self._named(device, patch.patch.name), patch.origin.span), patch.origin)

    def _control(self, device: str, value: ControlState, control: str) -> Cell:
        if isinstance(value, Free):
            return Cell(Told(value.value, None), None)
        span = value.origin.span
        if isinstance(value, Set):
            asked = str(value.asked) if str(value.asked) != str(value.gets) else None
            return Cell(Told(str(value.gets), span, asked), value.origin)
        patch = self._named(device, value.patch.name)
        if value.code is None:
            return Cell(Told(f"as {patch} stores it", span, None, patch), value.origin)
        return Cell(Told(str(value.gets), span, _asked(value, control), patch), value.origin)

    def _named(self, device: str, patch: str) -> str:
        return self.renames.patch(device, patch) if self.renames is not None else patch


def _asked(value: AsPatch, control: str) -> str | None:
    stored = value.patch.stored(control)
    differs = stored is not None and str(stored.asked) != str(stored.gets)
    return str(stored.asked) if stored is not None and differs else None
