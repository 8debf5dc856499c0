"""Definitions: what one model of device understands, and a definition's own mistakes."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from switchmatrix.bind.fields import Fields, whole
from switchmatrix.bind.naming import CONTROL_WORDS, name
from switchmatrix.bind.scales import named_scale, scale_of, switch_codes
from switchmatrix.controls import most_code, numbers, times
from switchmatrix.definition.controls import (
    CHOICE,
    SWITCH,
    Carrier,
    CcCarrier,
    Control,
    Named,
    ProgramCarrier,
)
from switchmatrix.definition.definition import Definition
from switchmatrix.definition.programs import Programs, Repeat
from switchmatrix.definition.values import Misread, Quantity
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.midi.numbers import PanelNumber
from switchmatrix.model.settings import PATCH
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Mapping, Node, Scalar

TOLERANCE = Fraction(2, 100)
"""The part of a value that may be missed without a warning, where a control says nothing."""

LONGEST_SETTLE_MS = 60_000
"""The longest that a recall may take: past that no change comes in time."""

NO_CONTROLS = {
    **dict.fromkeys(range(120, 128), "a channel mode message"),
    **dict.fromkeys((0, 32), "bank select"),
    **dict.fromkeys((6, 38, 96, 97), "data entry for a parameter number"),
    **dict.fromkeys((98, 99, 100, 101), "a parameter number"),
}
"""CC numbers that mean something else (MIDI Association, Control Change Messages, Table 3)."""


def bind_definition(id: str, root: Node, found: list[Diagnostic]) -> Definition | None:
    """The definition in a file's root node; None where the file could not be read."""
    if not isinstance(root, Mapping):
        return None
    fields = Fields(root, found)
    controls: list[Control] = []
    broken: set[str] = set()
    for section, _ in root.entries:
        if section.text == "controls":
            _controls(fields, controls, broken)
        elif section.text == "crosspoint":
            _crosspoints(fields, controls, broken)
        elif section.text == "loops":
            _loops(fields, controls)
    _clashes(controls, found)
    programs = _programs(fields, controls, broken)
    if programs is None and (fields.has("programs") or any(c.stored for c in controls)):
        broken.add(PATCH)
    hazard = fields.text("hazard")
    stored_hazard = next((c.hazard for c in controls if c.hazard and c.stored), None)
    title = fields.text("definition") or id
    return Definition(
        id, title, programs, tuple(controls), hazard or stored_hazard, frozenset(broken), root.span
    )


def _controls(fields: Fields, controls: list[Control], broken: set[str]) -> None:
    for key, node in fields.each("controls"):
        label = name(key, "a control", fields.found, CONTROL_WORDS)
        control = _control(key, node, fields.found) if label is not None else None
        if control is not None:
            controls.append(control)
        else:
            broken.add(key.text)


def _control(key: Scalar, node: Node, found: list[Diagnostic]) -> Control | None:
    if not isinstance(node, Mapping):
        return None
    fields = Fields(node, found)
    kind = fields.text("kind")
    if kind is None or any(fields.broken(k) for k in ("main", "stored", "hazard")):
        return None
    carrier = _carrier(key, fields)
    if carrier is None:
        return None
    scale = scale_of(kind, key, fields, most_code(carrier))
    tolerance = _tolerance(fields)
    if scale is None or tolerance is None:
        return None
    return Control(
        name=key.text,
        kind=kind,
        scale=scale,
        carrier=carrier,
        stored=fields.yes("stored"),
        main=fields.yes("main"),
        tolerance=tolerance,
        loop=None,
        hazard=fields.text("hazard"),
        span=key.span,
    )


def _carrier(key: Scalar, fields: Fields) -> Carrier | None:
    """The one carrier that the control names."""
    if fields.broken("cc") or fields.broken("program"):
        return None
    given = [carrier for carrier in ("cc", "program") if fields.has(carrier)]
    if len(given) != 1:
        message = f"`{key.text}` names {'no carrier' if not given else 'two carriers'}"
        help = "say how its code travels: `cc: 80`, or `program: yes`"
        fields.found.append(names.CARRIER_WRONG.at(key.span, message, help))
        return None
    if given == ["program"]:
        return ProgramCarrier()
    scalar = fields.scalar("cc")
    number = None if scalar is None else cc_number(scalar, fields.found)
    return None if number is None else CcCarrier(number)


def cc_number(scalar: Scalar, found: list[Diagnostic]) -> int | None:
    """A CC number that may carry a control."""
    number = whole(scalar, 0, 127, "the CC number", found)
    if number in NO_CONTROLS:
        message = f"CC {number} is no control: it is {NO_CONTROLS[number]}"
        help = "look in the maker's implementation chart for the control's own number"
        found.append(names.CC_RESERVED.at(scalar.span, message, help))
        return None
    return number


def _tolerance(fields: Fields) -> Fraction | None:
    scalar = fields.scalar("tolerance")
    if scalar is None:
        return None if fields.broken("tolerance") else TOLERANCE
    quantity = numbers.parse(scalar.text)
    if quantity is None or quantity.unit != "%" or not 0 <= quantity.number <= 100:
        help = "write it like `5 %`: of the value asked, for levels of the range"
        fields.found.append(names.BAD_VALUE.at(scalar.span, f"`{scalar.text}` is no tolerance", help))
        return None
    return Fraction(quantity.number) / 100


def _plain(label: str, kind: str, scale: Named, number: int, stored: bool, span: Span) -> Control:
    return Control(label, kind, scale, CcCarrier(number), stored, False, TOLERANCE, None, None, span)


def _crosspoints(fields: Fields, controls: list[Control], broken: set[str]) -> None:
    """Each output of a crosspoint is a choice of inputs."""
    for key, node in fields.each("crosspoint"):
        label = name(key, "an output", fields.found, CONTROL_WORDS)
        output = Fields(node, fields.found) if isinstance(node, Mapping) else None
        scalar = output.scalar("cc") if output is not None else None
        number = cc_number(scalar, fields.found) if scalar is not None else None
        scale = named_scale(output, "inputs", 127) if output is not None else None
        if label is None or output is None or number is None or scale is None:
            broken.add(key.text)
            continue
        controls.append(_plain(label, CHOICE, scale, number, output.yes("stored"), key.span))


def _loops(fields: Fields, controls: list[Control]) -> None:
    """`loop-1`, `loop-2`, ...: a switch for each CC number."""
    loops = fields.block("loops")
    if loops is None:
        return
    codes = switch_codes(loops, 127)
    for position, scalar in enumerate(loops.scalars("cc"), 1):
        number = cc_number(scalar, fields.found)
        if number is not None and codes is not None:
            label = f"loop-{position}"
            plain = _plain(label, SWITCH, codes, number, loops.yes("stored"), scalar.span)
            controls.append(replace(plain, loop=position))


def _clashes(controls: list[Control], found: list[Diagnostic]) -> None:
    """Two controls of one name or one carrier, and two main switches."""
    seen: dict[object, Control] = {}
    for control in controls:
        keys: list[tuple[object, str]] = [
            (control.carrier, _carrier_text(control)),
            (control.name, "the name"),
        ]
        if control.main:
            keys.append(("main switch", "the main switch"))
        for key, what in keys:
            first = seen.setdefault(key, control)
            if first is not control:
                message = f"`{control.name}` and `{first.name}` both have {what}"
                related = (Related(first.span, f"`{first.name}` has it here"),)
                help = "each control needs its own; look in the maker's implementation chart"
                if key == "main switch":
                    help = "keep `main: yes` on one of them"
                elif key == control.name:
                    message, help = f"two controls are called `{control.name}`", "rename one of them"
                found.append(names.CARRIER_TWICE.at(control.span, message, help, related))


def _carrier_text(control: Control) -> str:
    match control.carrier:
        case CcCarrier(number):
            return f"CC {number}"
        case ProgramCarrier():
            return "the program change for carrier"


def _programs(fields: Fields, controls: list[Control], broken: set[str]) -> Programs | None:
    block = fields.block("programs")
    if block is None:
        stored = next((c for c in controls if c.stored), None)
        if stored is not None and not fields.has("programs"):
            message = f"`{stored.name}` is stored, but the device has no programs to store it in"
            fields.found.append(
                names.REPEAT_MISSING.at(stored.span, message, "write `programs:`, or take `stored` away")
            )
        return None
    count, first = block.whole("count", 1, 128), block.whole("first", 0, 1)
    settle_us = _settle_us(block)
    repeat, toggled = _repeat(block, controls, broken)
    if count is None or first is None or settle_us is None or repeat is None:
        return None
    return Programs(count, PanelNumber(first), settle_us, repeat, toggled, block.span)


def _settle_us(block: Fields) -> int | None:
    """The settle in microseconds, rounded up; 0 where none is given."""
    scalar = block.scalar("settle")
    if scalar is None:
        return None if block.broken("settle") else 0
    value = times.read(scalar.text, numbers.parse(scalar.text))
    within = isinstance(value, Quantity) and value.unit == "ms" and value.number <= LONGEST_SETTLE_MS
    if isinstance(value, Misread) or not isinstance(value, Quantity) or not within:
        message = f"`{scalar.text}` is no time to settle in"
        block.found.append(names.BAD_VALUE.at(scalar.span, message, "write it like `35 ms`"))
        return None
    return -((-Fraction(value.number) * 1000).__floor__())


def _repeat(block: Fields, controls: list[Control], broken: set[str]) -> tuple[Repeat | None, str | None]:
    scalar = block.scalar("repeat")
    if scalar is None:
        if any(c.stored for c in controls) and not block.broken("repeat"):
            message = "it is not said what a repeated program does, and controls are stored"
            help = (
                "write `repeat: recalls`, `repeat: nothing` or `repeat: toggles CONTROL`: call the same "
                "program twice on the box, with an edit in between, and look"
            )
            block.found.append(names.REPEAT_MISSING.at(block.span, message, help))
            return None, None
        return (None if block.broken("repeat") else Repeat.RECALLS), None
    word, _, control = scalar.text.partition(" ")
    if word == "toggles" and control:
        known = [c.name for c in controls if c.kind == SWITCH]
        if control in broken:
            return None, None
        if control in known:
            return Repeat.TOGGLES, control
        message = f"`{control}` is no switch of this definition"
        block.found.append(names.UNKNOWN_NAME.at(scalar.span, message, "name one of its switches"))
        return None, None
    if scalar.text in ("nothing", "recalls"):
        return Repeat(scalar.text), None
    message = f"`{scalar.text}` does not say what a repeated program does"
    help = "write `recalls`, `nothing`, or `toggles CONTROL`"
    block.found.append(names.BAD_VALUE.at(scalar.span, message, help))
    return None, None
