"""Settings to a full state: note values at their tempo, what patches store, what is nobody's."""

from __future__ import annotations

from fractions import Fraction

from switchmatrix.bind.values import held
from switchmatrix.controls import at_tempo, in_scale, outside
from switchmatrix.definition.controls import TRIGGER, Control
from switchmatrix.definition.values import Quantity
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Device, Rig
from switchmatrix.model.settings import PATCH, AsStored, AtTempo, Chosen, Coded, Target
from switchmatrix.states.layers import Laid
from switchmatrix.states.state import (
    AsPatch,
    ControlState,
    DeviceState,
    Free,
    Origin,
    PatchIn,
    Set,
    State,
)


class Resolver:
    """Settings to states on one rig; a device that comes to the same settings again is the same object."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.targets = [
            (
                device,
                Target(device.name, PATCH),
                [Target(device.name, c.name) for c in device.definition.controls],
            )
            for device in rig.devices
        ]
        self.known: dict[tuple[object, ...], DeviceState] = {}

    def state(
        self,
        laid: dict[Target, Laid],
        hands: frozenset[Target],
        quarter_ms: Fraction | None,
        found: list[Diagnostic],
    ) -> State:
        """The state that the settings mean where a quarter note lasts `quarter_ms` (None: no tempo)."""
        return State(
            tuple(
                self._device(device, patch, controls, laid, hands, quarter_ms, found)
                for device, patch, controls in self.targets
            )
        )

    def _device(
        self,
        device: Device,
        patch: Target,
        controls: list[Target],
        laid: dict[Target, Laid],
        hands: frozenset[Target],
        quarter_ms: Fraction | None,
        found: list[Diagnostic],
    ) -> DeviceState:
        here = [laid.get(target) for target in controls]
        tempo = quarter_ms if any(x is not None and isinstance(x.meaning, AtTempo) for x in here) else None
        key = (device.name, laid.get(patch), tempo, hands, *here)
        state = self.known.get(key)
        if state is None:
            said: list[Diagnostic] = []
            state = self._resolved(
                device, _patch(device, laid.get(patch), patch, hands), here, hands, tempo, said
            )
            found += said
            if not said:
                self.known[key] = state
        return state

    def _resolved(
        self,
        device: Device,
        patch: PatchIn | Free | None,
        here: list[Laid | None],
        hands: frozenset[Target],
        quarter_ms: Fraction | None,
        found: list[Diagnostic],
    ) -> DeviceState:
        controls = tuple(
            _control(self.rig, device, control, patch, laid, hands, quarter_ms, found)
            for control, laid in zip(device.definition.controls, here, strict=True)
        )
        held = frozenset(
            n for n, c in enumerate(device.definition.controls) if Target(device.name, c.name) in hands
        )
        return DeviceState(device, patch, controls, held, Target(device.name, PATCH) in hands)


def _patch(
    device: Device, laid: Laid | None, target: Target, hands: frozenset[Target]
) -> PatchIn | Free | None:
    if device.definition.programs is None:
        return None
    if laid is not None and isinstance(laid.meaning, Chosen):
        return PatchIn(laid.meaning.patch, laid.origin)
    return Free.HELD if target in hands else Free.UNDETERMINED


def _control(
    rig: Rig,
    device: Device,
    control: Control,
    patch: PatchIn | Free | None,
    laid: Laid | None,
    hands: frozenset[Target],
    quarter_ms: Fraction | None,
    found: list[Diagnostic],
) -> ControlState:
    if control.kind == TRIGGER or control.hazard is not None or control.writes:
        return Free.NEVER_SENT
    target = Target(device.name, control.name)
    if laid is None:
        return Free.HELD if target in hands else _from_patch(control, patch, None)
    match laid.meaning:
        case Coded(code, asked, gets):
            return Set(code, asked, gets, laid.origin)
        case AtTempo():
            return _at_tempo(rig, control, target, laid, laid.meaning, quarter_ms, found)
        case AsStored() if not isinstance(patch, PatchIn):
            message = f"`{target}` is to be as stored, but no patch of `{device.name}` is chosen"
            help = f"choose one, here or under `home`: `{device.name}.patch: NAME`"
            related = (Related(device.span, f"`{device.name}` is here"),)
            found.append(names.AS_STORED_NOTHING.at(laid.origin.span, message, help, related))
            return Free.UNDETERMINED
        case _:
            return _from_patch(control, patch, laid)


def _from_patch(control: Control, patch: PatchIn | Free | None, laid: Laid | None) -> ControlState:
    """What the patch in force gives a control that nothing else sets."""
    if isinstance(patch, PatchIn) and control.stored:
        stored = patch.patch.stored(control.name)
        origin = laid.origin if laid is not None else patch.origin
        if stored is None:
            return AsPatch(patch.patch, None, None, origin)
        origin = Origin(stored.span, origin.layer, f"stored in {patch.patch.name}")
        return AsPatch(patch.patch, stored.code, stored.gets, origin)
    return Free.HELD if patch is Free.HELD and control.stored else Free.UNDETERMINED


def _at_tempo(
    rig: Rig,
    control: Control,
    target: Target,
    laid: Laid,
    meaning: AtTempo,
    quarter_ms: Fraction | None,
    found: list[Diagnostic],
) -> ControlState:
    span = laid.origin.span
    if quarter_ms is None:
        message = f"`{target}: {meaning.note}` is a note value, and there is no tempo to work it out from"
        help = "give the song one `tempo`, the scene a place or a `tempo`, or write the time in ms"
        found.append(names.NO_TEMPO.at(span, message, help))
        return Free.UNDETERMINED
    asked: Quantity = at_tempo(meaning.note, quarter_ms)
    misread = outside(control, asked)
    if misread is not None:
        message = f"`{target}: {meaning.note}` is {asked} at this tempo: out of range"
        found.append(names.OUT_OF_RANGE.at(span, message, misread.help))
        return Free.UNDETERMINED
    coded = held(control, target, asked, span, rig.limits, found)
    if not isinstance(coded, Coded):
        return Free.UNDETERMINED
    return Set(coded.code, in_scale(control, asked) or asked, coded.gets, laid.origin)
