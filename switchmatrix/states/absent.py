"""Absent devices: what the songs' names for them become on this rig."""

from __future__ import annotations

from collections.abc import Callable

from switchmatrix.bind.values import held, misread_at
from switchmatrix.controls import outside, read
from switchmatrix.definition.values import NoteValue, Value
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.model.rig import DoneWithout, Joint, Passed, Rig, Words
from switchmatrix.model.settings import PATCH, AtTempo, Chosen, Meaning, Said, Setting, Target
from switchmatrix.source import Span
from switchmatrix.states.layers import Laid
from switchmatrix.states.laying import Table, Translated

Lookup = Callable[[Setting, Span], Meaning | None]
"""The meaning of a setting of a row, `home` looked up, for the line at a place."""


def translate(
    rig: Rig,
    table: Table,
    fires: list[tuple[int, Target, Laid]],
    lookup: Lookup,
    found: list[Diagnostic],
) -> list[Translated]:
    """What the laid names of absent devices bring, a device's patch before its other names.

    `fires` are absent triggers of the scene itself, each with its layer.
    """
    said = {
        target: (table.depth_of[target], laid)
        for target, laid in table.laid.items()
        if isinstance(laid.meaning, Said)
    }
    out: list[Translated] = []
    for joint in rig.joints:
        row = _joined(joint, said, lookup)
        if row is not None:
            out.append(row)
            for target in joint.of:
                del said[target]
    said.update((target, (depth, laid)) for depth, target, laid in fires)
    names_in_order = [
        Target(absent.name, label)
        for absent in rig.absents
        for label in (PATCH, *(control.name for control in absent.definition.controls))
    ]
    _untranslated(rig, {target: laid for target, (_, laid) in said.items()}, found)
    for target in names_in_order:
        depth, laid = said.get(target, (0, None))
        if laid is not None and isinstance(laid.meaning, Said):
            settings = _becomes(rig, target, laid, laid.meaning.value, found)
            if settings:
                out.append(_translated(depth, (target,), settings, laid, lookup))
    return out


def _translated(
    depth: int, of: tuple[Target, ...], settings: tuple[Setting, ...], by: Laid, lookup: Lookup
) -> Translated:
    absent = frozenset(target.device for target in of)
    placed: list[tuple[Target, Laid]] = []
    for setting in sorted(settings, key=lambda setting: setting.target.control != PATCH):
        meaning = lookup(setting, by.origin.span)
        if meaning is not None:
            placed.append((setting.target, Laid(meaning, by.origin, setting.span, absent=absent)))
    patches = frozenset(target.device for target in of if target.control == PATCH)
    return Translated(depth, tuple(placed), patches)


def _joined(joint: Joint, said: dict[Target, tuple[int, Laid]], lookup: Lookup) -> Translated | None:
    """The first row of the table that fits, in the deepest layer of its names."""
    if not all(target in said for target in joint.of):
        return None
    values = tuple(said[target][1].meaning for target in joint.of)
    row = next((row for row in joint.rows if row.values == values), None)
    if row is None:
        return None
    depth, laid = max((said[target] for target in joint.of), key=lambda pair: pair[0])
    return _translated(depth, joint.of, row.settings, laid, lookup)


def _untranslated(rig: Rig, said: dict[Target, Laid], found: list[Diagnostic]) -> None:
    """The names that nothing stands for: one finding a line and device."""
    missing: dict[tuple[str, Span], list[Target]] = {}
    for target, laid in said.items():
        if target not in rig.translations:
            missing.setdefault((target.device, laid.origin.span), []).append(target)
    for (device, span), targets in missing.items():
        shown = ", ".join(f"`{target}`" for target in targets)
        message = f"{shown} is absent from this rig, and nothing says what stands for it"
        one = targets[0] if len(targets) == 1 else device
        help = f"under `vocabulary` write `{targets[0]}: DEVICE.CONTROL`, or `{one}: nothing`"
        absent = next(a for a in rig.absents if a.name == device)
        related = (Related(absent.span, f"`{device}` is said to be absent here"),)
        found.append(names.NOT_TRANSLATED.at(span, message, help, related))


def _becomes(
    rig: Rig, target: Target, laid: Laid, value: Value, found: list[Diagnostic]
) -> tuple[Setting, ...]:
    span = laid.origin.span
    match rig.translations.get(target):
        case None | DoneWithout():
            return ()
        case Passed(own):
            meaning = _handed_on(rig, target, own, laid, value, found)
            return () if meaning is None else (Setting(own, meaning, span),)
        case Words(words):
            return _row(rig, target, laid, value, words, found)


def _row(
    rig: Rig,
    target: Target,
    laid: Laid,
    value: Value,
    words: tuple[tuple[str, tuple[Setting, ...]], ...],
    found: list[Diagnostic],
) -> tuple[Setting, ...]:
    absent = next(a for a in rig.absents if a.name == target.device)
    control = absent.definition.control(target.control)
    for text, settings in words:
        if text == str(value) or (control is not None and read(control, text) == value):
            return settings
    message = f"this rig has no row for `{target}: {value}`"
    help = did_you_mean(str(value), [text for text, _ in words], "rows")
    found.append(names.UNKNOWN_WORD.at(laid.origin.span, message, help))
    return ()


def _handed_on(
    rig: Rig, target: Target, own: Target, laid: Laid, value: Value, found: list[Diagnostic]
) -> Meaning | None:
    """The absent device's value as a value of the rig's own control."""
    span = laid.origin.span
    device = rig.device(own.device)
    if device is None:
        return None
    if own.control == PATCH:
        patch = device.patch(str(value))
        return Chosen(patch) if patch is not None else None
    control = device.definition.control(own.control)
    if control is None:
        return None
    if isinstance(value, NoteValue):
        return AtTempo(value)
    misread = outside(control, value)
    if misread is not None:
        found.append(misread_at(span, f"`{target}: {value}` becomes `{own}` on this rig", misread))
        return None
    return held(control, own, value, span, rig.limits, found)
