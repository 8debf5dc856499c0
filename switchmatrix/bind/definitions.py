"""Definitions: what one model of device understands, and a definition's own mistakes."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from switchmatrix.bind.carriers import also_ccs, carrier_of, cc_number
from switchmatrix.bind.collisions import collisions
from switchmatrix.bind.fields import Fields, byte_of
from switchmatrix.bind.naming import CONTROL_WORDS, name
from switchmatrix.bind.pace import wait_us
from switchmatrix.bind.programs import programs_of
from switchmatrix.bind.resets import with_resets
from switchmatrix.bind.scales import named_scale, scale_of, switch_codes, toggle_of
from switchmatrix.controls import numbers
from switchmatrix.definition.carriers import (
    Carrier,
    CcCarrier,
    NoteCarrier,
    ProgramCarrier,
    least_code,
    most_code,
)
from switchmatrix.definition.controls import CHOICE, MAIN, SWITCH, Control, Named, Scale, Toggle
from switchmatrix.definition.definition import Definition, Identity
from switchmatrix.definition.programs import Programs
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.model.settings import PATCH
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Mapping, Node, Scalar

TOLERANCE = Fraction(2, 100)
"""The part of a value that may be missed without a warning, where a control says nothing."""


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
            _loops(fields, controls, broken)
    collisions(controls, found)
    controls = with_resets(fields, controls, broken)
    programs = programs_of(fields, controls, broken)
    if programs is None and (fields.has("programs") or any(c.stored for c in controls)):
        broken.add(PATCH)
    _program_banks(controls, programs, broken, found)
    hazard = fields.text("hazard")
    toggled = programs.toggled if programs is not None else None
    recalled = (c.hazard for c in controls if c.hazard is not None and (c.stored or c.name == toggled))
    return Definition(
        id=id,
        title=fields.text("definition") or id,
        programs=programs,
        controls=tuple(controls),
        hazard=hazard if hazard is not None else next(recalled, None),
        broken=frozenset(broken),
        span=root.span,
        gap_us=wait_us(fields, "gap") or 0,
        clock=fields.yes("clock"),
        identity=_identity(fields),
    )


def _controls(fields: Fields, controls: list[Control], broken: set[str]) -> None:
    for key, node in fields.each("controls"):
        label = name(key, "a control", fields.found, CONTROL_WORDS)
        control = _control(key, node, fields.found) if label is not None else None
        if control is not None:
            controls.append(control)
        else:
            broken |= {key.text, key.text.partition(".")[0]}


def _control(key: Scalar, node: Node, found: list[Diagnostic]) -> Control | None:
    if not isinstance(node, Mapping):
        return None
    fields = Fields(node, found)
    kind = fields.text("kind")
    unread = ("main", "stored", "hazard", "channel", "moved-by", "writes", "resets")
    if kind is None or any(fields.broken(k) for k in unread):
        return None
    carrier, also, settle_us = carrier_of(key, kind, fields), also_ccs(fields), wait_us(fields, "settle")
    if carrier is None or also is None or settle_us is None:
        return None
    toggle, sound = toggle_of(fields, carrier)
    scale = scale_of(kind, key, fields, least_code(carrier), most_code(carrier), toggle) if sound else None
    tolerance = _tolerance(fields)
    if scale is None or tolerance is None or _let_go_at_once(key, carrier, scale, toggle, found):
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
        channel=fields.text("channel") or MAIN,
        toggle=toggle,
        also=also,
        settle_us=settle_us,
        moved_by_player=fields.yes("moved-by"),
        writes=fields.yes("writes"),
    )


def _let_go_at_once(
    key: Scalar, carrier: Carrier, scale: Scale, toggle: Toggle | None, found: list[Diagnostic]
) -> bool:
    """Whether a key that is held while the switch is on would be let go as soon as it is struck."""
    if not isinstance(carrier, NoteCarrier) or not carrier.release or toggle is not None:
        return False
    if not isinstance(scale, Named) or all(codes.sent for _, codes in scale.words):
        return False
    message = f"`{key.text}` is off when its key is let go, and `release` lets it go at once"
    found.append(names.CARRIER_WRONG.at(key.span, message, "take `release` away"))
    return True


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


def _plain(label: str, kind: str, scale: Named, number: int, block: Fields, span: Span) -> Control:
    """A crosspoint's output or a loop: a control whose carrier is a CC."""
    return Control(
        name=label,
        kind=kind,
        scale=scale,
        carrier=CcCarrier(number),
        stored=block.yes("stored"),
        main=False,
        tolerance=TOLERANCE,
        loop=None,
        hazard=None,
        span=span,
        channel=block.text("channel") or MAIN,
        settle_us=wait_us(block, "settle") or 0,
    )


def _crosspoints(fields: Fields, controls: list[Control], broken: set[str]) -> None:
    """Each output of a crosspoint is a choice of inputs."""
    for key, node in fields.each("crosspoint"):
        label = name(key, "an output", fields.found, CONTROL_WORDS)
        output = Fields(node, fields.found) if isinstance(node, Mapping) else None
        scalar = output.scalar("cc") if output is not None else None
        number = cc_number(scalar, fields.found) if scalar is not None else None
        scale = named_scale(output, "inputs", 0, 127) if output is not None else None
        if label is None or output is None or number is None or scale is None:
            broken.add(key.text)
            continue
        controls.append(_plain(label, CHOICE, scale, number, output, key.span))


def _loops(fields: Fields, controls: list[Control], broken: set[str]) -> None:
    """`loop-1`, `loop-2`, ...: a switch for each CC number."""
    loops = fields.block("loops")
    if loops is None or loops.broken("cc"):
        broken |= {f"loop-{n}" for n in range(1, 129)}
        return
    codes = switch_codes(loops, 0, 127)
    for position, scalar in enumerate(loops.scalars("cc"), 1):
        number, label = cc_number(scalar, fields.found), f"loop-{position}"
        if number is None or codes is None:
            broken.add(label)
            continue
        plain = _plain(label, SWITCH, codes, number, loops, scalar.span)
        controls.append(replace(plain, loop=position))


def _program_banks(
    controls: list[Control], programs: Programs | None, broken: set[str], found: list[Diagnostic]
) -> None:
    """On a device with banks, a control that travels as a program says its bank; on any other it cannot."""
    if PATCH in broken:
        return
    banked = programs is not None and programs.bank is not None
    for control in controls:
        if not isinstance(control.carrier, ProgramCarrier) or (control.carrier.bank is not None) == banked:
            continue
        if banked:
            message = f"`{control.name}` travels as a program change, and the device has banks"
            help = "say which bank its programs lie in, counted from 1: `bank: 3`"
        else:
            message = f"`{control.name}` has a `bank`, and the device's programs have no bank select"
            help = "take it away, or say `bank: cc0`, `cc32` or `both` under `programs`"
        found.append(names.CARRIER_WRONG.at(control.span, message, help))


def _identity(fields: Fields) -> Identity | None:
    """The reply to the Identity Request; None where the box has none or it is written wrongly."""
    block = fields.block("identity")
    if block is None:
        return None
    manufacturer = _bytes(block, "manufacturer", 127)
    version = _bytes(block, "version", 127) if block.has("version") else ()
    codes = [_bytes(block, key, 16383) for key in ("family", "member")]
    if manufacturer is None or version is None or codes[0] is None or codes[1] is None:
        return None
    if len(manufacturer) != (3 if manufacturer[0] == 0 else 1):
        message = "a maker's number is one byte, or three that begin with 0"
        node = block.node.get("manufacturer")
        span = node.span if node is not None else block.span
        help = "write it like `[0x7D]` or `[0, 0x21, 0x09]`"
        fields.found.append(names.BAD_VALUE.at(span, message, help))
        return None
    return Identity(manufacturer, codes[0][0], codes[1][0], version or None)


def _bytes(block: Fields, key: str, most: int) -> tuple[int, ...] | None:
    """The numbers under a key; None and a finding where one is too large."""
    out = []
    for scalar in block.scalars(key):
        number = byte_of(scalar)
        if number > most:
            message = f"`{key}` is {scalar.text}; it goes from 0 to {most}"
            block.found.append(
                names.NUMBER_OUTSIDE.at(scalar.span, message, f"write a number from 0 to {most}")
            )
            return None
        out.append(number)
    return tuple(out) or None
