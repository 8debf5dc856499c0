"""The value of one control: text to meaning, held to its range and the rig's limits."""

from __future__ import annotations

from fractions import Fraction

from switchmatrix.bind.scope import Scope
from switchmatrix.controls import decode, encode, in_scale, missed, read
from switchmatrix.definition.controls import TRIGGER, Control, Linear
from switchmatrix.definition.values import Misread, NoteValue, Quantity, Value
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import DoneWithout, Limit
from switchmatrix.model.settings import AsStored, AtHome, AtTempo, Coded, Fired, Left, Meaning, Said, Target
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Scalar


def meaning(scope: Scope, target: Target, scalar: Scalar, found: list[Diagnostic]) -> Meaning | None:
    """What the text means to the control; None and a finding where it means nothing."""
    control = scope.control(target)
    text, span = scalar.text, scalar.span
    if control.hazard is not None:
        found.append(hazard(f"`{target}`", control.hazard, span))
        return None
    if control.writes:
        message = f"`{target}` writes the device's memory: no scene sends it"
        help = "take the line out, and do it at the box itself"
        related = (Related(control.span, "its definition says so"),)
        found.append(names.WRITES_MEMORY.at(span, message, help, related))
        return None
    if control.kind != TRIGGER:
        if text == "as stored":
            return _as_stored(control, target, span, found)
        if text == "home":
            return AtHome()
        if text == "leave":
            return _left(scope, target, span, found)
    value = read(control, text)
    if isinstance(value, Misread):
        found.append(misread_at(span, f"`{target}`", value))
        return None
    if target.device in scope.absents:
        return Said(value)
    if isinstance(value, NoteValue):
        return AtTempo(value)
    return held(control, target, value, span, scope.limits, found)


def misread_at(span: Span, what: str, misread: Misread) -> Diagnostic:
    """A value that means nothing, or is out of range."""
    kind = names.OUT_OF_RANGE if misread.out_of_range else names.BAD_VALUE
    return kind.at(span, f"{what}: {misread.message}", misread.help)


def hazard(what: str, why: str, span: Span) -> Diagnostic:
    """The refusal of anything hazardous."""
    message = f"{what} is a hazard ({why}): nothing is compiled for it or sent to it"
    help = (
        "take it out of the rig: such effects belong to persons licensed or competent as local law requires, "
        "with interlocks and an emergency stop of their own"
    )
    return names.HAZARD.at(span, message, help)


def _as_stored(control: Control, target: Target, span: Span, found: list[Diagnostic]) -> Meaning | None:
    if control.stored:
        return AsStored()
    message = f"no patch stores `{target}`, so it cannot be as stored"
    help = "say its value; if a patch recall does set it, write `stored: yes` in its definition"
    found.append(names.NOT_STORED.at(span, message, help))
    return None


def _left(scope: Scope, target: Target, span: Span, found: list[Diagnostic]) -> Meaning | None:
    if target in scope.hands or isinstance(scope.translations.get(target), DoneWithout):
        return Left()
    message = f"`{target}` is not in the player's hands, so it cannot be left to them"
    help = "say its value, or name it under `hands` in the rig or the song"
    found.append(names.NOT_IN_HANDS.at(span, message, help))
    return None


def held(
    control: Control,
    target: Target,
    value: Value,
    span: Span,
    limits: dict[Target, Limit],
    found: list[Diagnostic],
) -> Coded | Fired | None:
    """A value in range with its nearest code; findings where it misses by much or passes a limit."""
    code = encode(control, value)
    if control.kind == TRIGGER:
        return Fired(code)
    gets = decode(control, code)
    if gets is None:
        raise ValueError(f"{target} has a code {code} that it cannot decode")
    limit = limits.get(target)
    if limit is not None and isinstance(control.scale, Linear):
        for number in (_number(control, value), _number(control, gets)):
            if number is not None and _past(limit, number):
                found.append(_over(target, value, gets, limit, control.scale.unit, span))
                return None
    if missed(control, value, code) > control.tolerance:
        message = f"`{target}`: asked {value}, gets {gets}, the nearest that the device can hold"
        help = "ask for what it can do, or widen the control's `tolerance` in its definition"
        found.append(names.ROUNDED.at(span, message, help))
    return Coded(code, value, gets)


def _number(control: Control, value: Value) -> Fraction | float | None:
    quantity = in_scale(control, value) if isinstance(value, Quantity) else None
    return quantity.number if quantity is not None else None


def _past(limit: Limit, number: Fraction | float) -> bool:
    over = limit.most is not None and number > limit.most
    return over or (limit.least is not None and number < limit.least)


def _over(target: Target, value: Value, gets: Value, limit: Limit, unit: str, span: Span) -> Diagnostic:
    bounds = [
        f"{word} {Quantity(number, unit)}"
        for word, number in (("at least", limit.least), ("at most", limit.most))
        if number is not None
    ]
    does = f" ({gets} in the device)" if str(gets) != str(value) else ""
    message = f"`{target}`: {value}{does} passes the rig's limit, {' and '.join(bounds)}"
    help = "stay within the limit; whoever set it in the rig's file had a reason"
    return names.OVER_LIMIT.at(span, message, help, (Related(limit.span, "the limit is set here"),))
