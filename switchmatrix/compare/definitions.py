"""What differs between two definitions, each thing with the old definition as it would be with that alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from switchmatrix.compare import words
from switchmatrix.compare.recast import with_control
from switchmatrix.compare.records import Names, Told
from switchmatrix.compile.remarks import milliseconds, values
from switchmatrix.definition.carriers import least_code, most_code
from switchmatrix.definition.controls import Control, Named
from switchmatrix.definition.definition import Definition
from switchmatrix.definition.programs import Programs
from switchmatrix.definition.values import decimal
from switchmatrix.source import Span


@dataclass(frozen=True, slots=True)
class DefinitionChange:
    """One thing that differs; `taken` is the old definition with it."""

    what: str
    part: Names
    was: Told | None
    now: Told | None
    taken: Definition


PROGRAMS = {
    "count": ("count",),
    "panel": ("panel",),
    "bank select": ("bank", "bank_size", "bank_always"),
    "remap": ("remap",),
    "settle": ("settle_us",),
    "repeat": ("repeat", "toggled"),
    "moved by the player": ("moved_by_player",),
    "channel": ("channel",),
}
"""Each thing that is said of programs, with the fields that it stands for."""

CONTROL = {
    "kind": ("kind", "scale"),
    "carrier": ("carrier", "channel", "also"),
    "values": ("scale",),
    "press": ("toggle",),
    "stored": ("stored",),
    "main": ("main",),
    "resets": ("resets",),
    "settle": ("settle_us",),
    "tolerance": ("tolerance",),
    "moved by the player": ("moved_by_player",),
    "writes memory": ("writes",),
    "hazard": ("hazard",),
}
"""Likewise of a control."""


def definition_changes(old: Definition, new: Definition) -> Iterator[DefinitionChange]:
    """Everything that differs, programs first, then controls in the new order."""
    yield from _whole(old, new)
    yield from _programs(old, new)
    there = {c.name: c for c in new.controls}
    for control in old.controls:
        if control.name not in there:
            taken = with_control(old, control.name, None)
            told = Told(_summary(control), control.span)
            yield DefinitionChange("control", Names(control.name, None), told, None, taken)
    for control in new.controls:
        was = old.control(control.name)
        if was is None:
            taken = replace(old, controls=(*old.controls, control))
            told = Told(_summary(control), control.span)
            yield DefinitionChange("control", Names(None, control.name), None, told, taken)
        else:
            yield from _control(old, was, control)
    yield from _order(old, new)


def _whole(old: Definition, new: Definition) -> Iterator[DefinitionChange]:
    was, now = _of_definition(old), _of_definition(new)
    for what, names in _WHOLE.items():
        if was[what] != now[what]:
            taken = _with(old, new, names)
            yield DefinitionChange(
                what, Names("", ""), Told(was[what], old.span), Told(now[what], new.span), taken
            )


_WHOLE = {
    "title": ("title",),
    "gap": ("gap_us",),
    "clock": ("clock",),
    "identity": ("identity",),
    "hazard": ("hazard",),
}


def _of_definition(given: Definition) -> dict[str, str]:
    return {
        "title": given.title,
        "gap": milliseconds(given.gap_us),
        "clock": words.yes(given.clock),
        "identity": words.identity(given.identity),
        "hazard": given.hazard or "none",
    }


def _with(old: Definition, new: Definition, names: tuple[str, ...]) -> Definition:
    return replace(old, **{name: getattr(new, name) for name in names})


def _programs(old: Definition, new: Definition) -> Iterator[DefinitionChange]:
    was, now = words.programs(old.programs), words.programs(new.programs)
    for what in dict.fromkeys((*was, *now)):
        if was.get(what) == now.get(what):
            continue
        taken = replace(old, programs=_with_programs(old.programs, new.programs, what))
        a, b = was.get(what), now.get(what)
        span, later = _span(old), _span(new)
        yield DefinitionChange(
            f"programs: {what}",
            Names("", ""),
            Told(a, span) if a is not None else None,
            Told(b, later) if b is not None else None,
            taken,
        )


def _span(definition: Definition) -> Span:
    return definition.programs.span if definition.programs is not None else definition.span


def _with_programs(old: Programs | None, new: Programs | None, what: str) -> Programs | None:
    """The programs with one thing as it is now; all of them where one side has none."""
    if old is None or new is None:
        return new
    return replace(old, **{name: getattr(new, name) for name in PROGRAMS[what]})


def _control(old: Definition, was: Control, now: Control) -> Iterator[DefinitionChange]:
    before, after = _of_control(was), _of_control(now)
    for what, names in CONTROL.items():
        if before[what] == after[what] or (what == "values" and was.kind != now.kind):
            continue
        changed = _fitting(replace(was, **{name: getattr(now, name) for name in names}), now)
        yield DefinitionChange(
            what,
            Names(was.name, now.name),
            Told(before[what], was.span),
            Told(after[what], now.span),
            with_control(old, was.name, changed),
        )


def _fitting(control: Control, now: Control) -> Control:
    """The control; with its carrier and its values as they are now, where the one cannot hold the other."""
    low, high = least_code(control.carrier), most_code(control.carrier)
    if all(low <= code <= high for code in _codes(control)):
        return control
    return replace(
        control,
        kind=now.kind,
        scale=now.scale,
        toggle=now.toggle,
        carrier=now.carrier,
        channel=now.channel,
        also=now.also,
    )


def _codes(control: Control) -> list[int]:
    """All codes that the control may be sent."""
    if control.toggle is not None:
        return [code for code in (control.toggle.press, control.toggle.release) if code is not None]
    if isinstance(control.scale, Named):
        return [codes.sent for _, codes in control.scale.words]
    bottom = [] if control.scale.bottom is None else [control.scale.bottom]
    return [*(code for code, _ in control.scale.points), *bottom]


def _of_control(control: Control) -> dict[str, str]:
    toggle = control.toggle
    return {
        "kind": control.kind,
        "carrier": words.carrier_of(control),
        "values": values(replace(control, toggle=None)),
        "press": "not flipped" if toggle is None else values(control),
        "stored": words.yes(control.stored),
        "main": words.yes(control.main),
        "resets": ", ".join(control.resets) or "none",
        "settle": milliseconds(control.settle_us),
        "tolerance": f"{decimal(control.tolerance * 100)} %",
        "moved by the player": words.yes(control.moved_by_player),
        "writes memory": words.yes(control.writes),
        "hazard": control.hazard or "none",
    }


def _summary(control: Control) -> str:
    return f"{control.kind}, {words.carrier_of(control)}"


def _order(old: Definition, new: Definition) -> Iterator[DefinitionChange]:
    """Controls are sent in definition order."""
    both = [c.name for c in old.controls if new.control(c.name) is not None]
    after = [c.name for c in new.controls if old.control(c.name) is not None]
    if both == after:
        return
    there = {c.name: c for c in old.controls}
    rest = tuple(c for c in old.controls if c.name not in after)
    taken = replace(old, controls=(*(there[name] for name in after), *rest))
    told = Told(", ".join(both), old.span), Told(", ".join(after), new.span)
    yield DefinitionChange("order of controls", Names("", ""), *told, taken)
