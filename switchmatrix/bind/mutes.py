"""Mutes: what is held while other things move."""

from __future__ import annotations

from switchmatrix.bind import values
from switchmatrix.bind.fields import Fields
from switchmatrix.bind.pace import wait_us
from switchmatrix.bind.scope import Scope
from switchmatrix.definition.carriers import ProgramCarrier
from switchmatrix.definition.controls import TRIGGER
from switchmatrix.definition.definition import Definition
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Mute
from switchmatrix.model.settings import PATCH, Coded, Target
from switchmatrix.syntax.nodes import Mapping, Node, Scalar


def bind_mutes(scope: Scope, fields: Fields, found: list[Diagnostic]) -> tuple[Mute, ...]:
    """The section `mutes`; a mute with something wrong in it is left out."""
    mutes = []
    for item in fields.items("mutes"):
        mute = _mute(scope, item, found) if isinstance(item, Mapping) else None
        if mute is not None:
            mutes.append(mute)
    held: dict[Target, tuple[Mute, int]] = {}
    for mute in mutes:
        for target, coded in mute.holds:
            first, code = held.setdefault(target, (mute, coded.code))
            if code != coded.code:
                message = f"two mutes hold `{target}` at different values"
                related = (Related(first.span, "the other one"),)
                found.append(names.MUTE_UNSOUND.at(mute.span, message, "let them hold it alike", related))
    for mute in mutes:
        _among(scope, mute, [other for other in mutes if other is not mute], found)
    return tuple(mutes)


def _among(scope: Scope, mute: Mute, others: list[Mute], found: list[Diagnostic]) -> None:
    """What one mute holds is covered by none, nor is the recall that must go before it."""
    for target, _ in mute.holds:
        definition, stored = scope.definition(target.device), scope.control(target).stored
        if definition is None:
            continue
        for other in others:
            named = {moved.control for moved in other.covers if moved.device == target.device}
            waits = any(scope.control(held).stored for held, _ in other.holds)
            if target.control in named:
                message = f"one mute holds `{target}`, and another covers it"
                help = "let that one cover what this one covers"
            elif stored and (named & _recalled(definition) or (waits and named & _before(definition))):
                message = f"one mute holds `{target}`, which a recall moves, and another covers that recall"
                help = "hold a control that no patch stores"
            else:
                continue
            related = (Related(other.span, "the other one"),)
            found.append(names.MUTE_UNSOUND.at(mute.span, message, help, related))
            break


def _recalled(definition: Definition) -> frozenset[str]:
    """What a recall moves: the patch, what is stored, what a repeat flips."""
    programs = definition.programs
    flipped = {programs.toggled} if programs is not None and programs.toggled is not None else set()
    return frozenset({PATCH, *flipped, *(c.name for c in definition.controls if c.stored)})


def _before(definition: Definition) -> frozenset[str]:
    """What may move before a recall: choices that no patch stores, with all that they reload."""
    order, controls = definition.order, definition.controls
    first = (*order.first, *(n for n in order.resetting if not controls[n].stored))
    return frozenset(controls[n].name for n in order.moved_with(first))


def _mute(scope: Scope, item: Mapping, found: list[Diagnostic]) -> Mute | None:
    fields = Fields(item, found)
    covers = [_covered(scope, scalar, found) for scalar in fields.scalars("while")]
    covered = tuple(target for target in covers if target is not None)
    holds = [_held(scope, key, node, covered, found) for key, node in fields.each("hold")]
    before, after = wait_us(fields, "before"), wait_us(fields, "after")
    sound = tuple(hold for hold in holds if hold is not None)
    if (
        len(covered) != len(covers)
        or not sound
        or len(sound) != len(holds)
        or before is None
        or after is None
    ):
        return None
    return Mute(covered, sound, before, after, item.span)


def _covered(scope: Scope, scalar: Scalar, found: list[Diagnostic]) -> Target | None:
    target = scope.target(scalar, found)
    if target is not None and target.device in scope.absents:
        message = f"`{target}` is absent from this rig: nothing of it moves"
        found.append(names.UNKNOWN_NAME.at(scalar.span, message, "name the control that stands for it here"))
        return None
    if target is not None and scope.is_trigger(target):
        message = f"`{target}` is a trigger: it goes off when no mute holds any more"
        found.append(names.MUTE_UNSOUND.at(scalar.span, message, "name a control that has a state"))
        return None
    return target


def _held(
    scope: Scope, key: Scalar, node: Node, covered: tuple[Target, ...], found: list[Diagnostic]
) -> tuple[Target, Coded] | None:
    target = scope.target(key, found)
    if target is None or not isinstance(node, Scalar):
        return None
    device = scope.devices.get(target.device)
    problem = None if device is None else _problem(scope, target, covered)
    if device is None or problem is not None:
        message, help = problem or (f"`{target}` is absent from this rig", "hold a control of this rig's own")
        found.append(names.MUTE_UNSOUND.at(key.span, message, help))
        return None
    meaning = values.meaning(scope, target, node, found)
    if isinstance(meaning, Coded):
        return target, meaning
    if meaning is not None:
        message = f"`{node.text}` is no value that a mute can hold"
        found.append(names.MUTE_UNSOUND.at(node.span, message, "write the value itself, such as `on`"))
    return None


def _problem(scope: Scope, target: Target, covered: tuple[Target, ...]) -> tuple[str, str] | None:
    """Why a mute cannot hold the control, and what to do."""
    if target.control == PATCH:
        return "a mute holds controls, not patches", "name a switch or a level"
    control = scope.control(target)
    definition = scope.definition(target.device)
    if definition is None:
        return None
    programs = definition.programs
    if target in covered:
        return f"a mute cannot cover `{target}` while it holds it", "take it out of `while`"
    if control.kind == TRIGGER or control.toggle is not None:
        return (
            f"`{target}` cannot be set outright, so nothing can hold it",
            "hold a switch with an on and an off",
        )
    if target in scope.hands:
        return (
            f"`{target}` is in the player's hands, so nothing can hold it",
            "hold a control of the tool's own",
        )
    if isinstance(control.carrier, ProgramCarrier) and control.carrier.bank is not None:
        return f"`{target}` travels as a program change in a bank", "hold a control with a carrier of its own"
    if control.resets:
        return f"`{target}` resets other controls when it is set", "hold a control that resets nothing"
    resetter = next((other.name for other in definition.controls if control.name in other.resets), None)
    if resetter is not None:
        return f"`{target}` is moved whenever `{resetter}` is set", "hold a control that nothing resets"
    if programs is not None and programs.toggled == control.name:
        return f"a repeated program flips `{target}`", "hold a control that no program flips"
    moved = {covers.control for covers in covered if covers.device == target.device}
    if control.stored and moved & (_recalled(definition) | _before(definition)):
        return (
            f"the recall that the mute covers moves `{target}` itself"
            if moved & _recalled(definition)
            else f"the mute covers what goes before the recall that moves `{target}`",
            "hold a control that it does not store",
        )
    return None
