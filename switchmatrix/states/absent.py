"""Absent devices: what the songs' names for them become on this rig."""

from __future__ import annotations

from switchmatrix.bind.values import held
from switchmatrix.controls import outside, read
from switchmatrix.definition.values import NoteValue, Value
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.model.rig import DoneWithout, Joint, Passed, Rig, Words
from switchmatrix.model.settings import PATCH, Chosen, Meaning, Said, Setting, Target, Timed
from switchmatrix.states.laying import Laid, Table, Translated


def translate(rig: Rig, table: Table, found: list[Diagnostic]) -> list[Translated]:
    """What the laid names of absent devices bring, a device's patch before its other names."""
    said = {target: laid for target, laid in table.laid.items() if isinstance(laid.meaning, Said)}
    out: list[Translated] = []
    for joint in rig.joints:
        row = _joined(joint, said)
        if row is not None:
            out.append(row)
            for target in joint.of:
                del said[target]
    names_in_order = [
        Target(absent.name, label)
        for absent in rig.absents
        for label in (PATCH, *(control.name for control in absent.definition.controls))
    ]
    for target in names_in_order:
        laid = said.get(target)
        if laid is not None and isinstance(laid.meaning, Said):
            settings = _becomes(rig, target, laid, laid.meaning.value, found)
            if settings:
                out.append(Translated(target.device, settings, laid.by))
    return out


def _joined(joint: Joint, said: dict[Target, Laid]) -> Translated | None:
    """The first row of the table that fits, in the deepest layer of its names."""
    if not all(target in said for target in joint.of):
        return None
    values = tuple(said[target].meaning for target in joint.of)
    row = next((row for row in joint.rows if row.values == values), None)
    if row is None:
        return None
    deepest = max((said[target] for target in joint.of), key=lambda laid: laid.by.depth)
    label = " and ".join(dict.fromkeys(target.device for target in joint.of))
    return Translated(label, row.settings, deepest.by)


def _becomes(
    rig: Rig, target: Target, laid: Laid, value: Value, found: list[Diagnostic]
) -> tuple[Setting, ...]:
    span = laid.by.line.span
    match rig.translations.get(target):
        case None:
            message = f"`{target}` is absent from this rig, and nothing says what stands for it"
            help = f"under `vocabulary` write `{target}: DEVICE.CONTROL`, or `{target}: nothing`"
            absent = next(a for a in rig.absents if a.name == target.device)
            related = (Related(absent.span, f"`{target.device}` is said to be absent here"),)
            found.append(names.NOT_TRANSLATED.at(span, message, help, related))
            return ()
        case DoneWithout():
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
    found.append(names.UNKNOWN_WORD.at(laid.by.line.span, message, help))
    return ()


def _handed_on(
    rig: Rig, target: Target, own: Target, laid: Laid, value: Value, found: list[Diagnostic]
) -> Meaning | None:
    """The absent device's value as a value of the rig's own control."""
    span = laid.by.line.span
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
        return Timed(value)
    misread = outside(control, value)
    if misread is not None:
        message = f"`{target}: {value}` becomes `{own}` on this rig: {misread.message}"
        found.append(names.OUT_OF_RANGE.at(span, message, misread.help))
        return None
    return held(control, own, value, span, rig.limits, found)


def hands_of(rig: Rig, hands: frozenset[Target]) -> frozenset[Target]:
    """What the player moves on this rig: a control handed on is in the hands that held it."""
    on = {t.target for name, t in rig.translations.items() if name in hands and isinstance(t, Passed)}
    return hands | on
