"""A control's carrier: how its code travels, from the one key that names it."""

from __future__ import annotations

from collections.abc import Callable

from switchmatrix.bind.fields import Fields, byte_of, is_yes, whole
from switchmatrix.definition.carriers import (
    Carrier,
    Cc14Carrier,
    CcCarrier,
    NoteCarrier,
    ParameterCarrier,
    PitchBendCarrier,
    PressureCarrier,
    ProgramCarrier,
    Slot,
    SysexCarrier,
)
from switchmatrix.definition.controls import LEVEL, TIME, TRIGGER
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.midi.numbers import wire_bank
from switchmatrix.syntax.nodes import Scalar

NO_CONTROLS = {
    **dict.fromkeys(range(120, 128), "a channel mode message"),
    **dict.fromkeys((0, 32), "bank select"),
    **dict.fromkeys((6, 38, 96, 97), "data entry for a parameter number"),
    **dict.fromkeys((98, 99, 100, 101), "a parameter number"),
}
"""CC numbers that mean something else (MIDI Association, Control Change Messages, Table 3)."""

REAL_TIME, SHOW_CONTROL = 0x7F, 0x02
"""Universal real time and its sub-id of MIDI Show Control (MIDI Association, Table 4)."""

NULL = (127, 127)
"""The parameter number that closes a group (MIDI 1.0 Detailed Specification 4.2.1, p. 18)."""


def carrier_of(key: Scalar, kind: str, fields: Fields) -> Carrier | None:
    """The one carrier that the control names; None and a finding where it names none, or names it wrongly."""
    given = [name for name in _READ if fields.has(name)]
    if any(fields.broken(k) for k in (*_READ, *_BESIDE)):
        return None
    if len(given) != 1:
        count = "no carrier" if not given else "two carriers" if len(given) == 2 else f"{len(given)} carriers"
        help = "say how its code travels: `cc: 80`, `nrpn: [1, 8]`, or another of the manual's `carriers`"
        fields.found.append(names.CARRIER_WRONG.at(key.span, f"`{key.text}` names {count}", help))
        return None
    name = given[0]
    for beside, owners in _BESIDE.items():
        if fields.has(beside) and name not in owners:
            owner = " or ".join(f"`{owner}`" for owner in owners)
            _wrong(fields, beside, f"`{beside}` goes with {owner} only", "take it away")
            return None
    if name == "program" and kind in (LEVEL, TIME):
        message = f"`{key.text}` is a {kind}: it would take every program number of the device"
        fields.found.append(
            names.CARRIER_WRONG.at(key.span, message, "a program change carries a switch, choice or trigger")
        )
        return None
    if name == "sysex":
        return _sysex(key, kind, fields)
    return _READ[name](fields)


def _wrong(fields: Fields, key: str, message: str, help: str) -> None:
    scalar = fields.node.key(key)
    span = scalar.span if scalar is not None else fields.span
    fields.found.append(names.CARRIER_WRONG.at(span, message, help))


def cc_number(scalar: Scalar, found: list[Diagnostic]) -> int | None:
    """A CC number that may carry a control."""
    number = whole(scalar, 0, 127, "the CC number", found)
    if number in NO_CONTROLS:
        message = f"CC {number} is no control: it is {NO_CONTROLS[number]}"
        help = "look in the maker's implementation chart for the control's own number"
        found.append(names.CC_RESERVED.at(scalar.span, message, help))
        return None
    return number


def also_ccs(fields: Fields) -> tuple[int, ...] | None:
    """CC numbers that move the control too; None where one is wrong."""
    if fields.broken("also-cc"):
        return None
    numbers = [cc_number(scalar, fields.found) for scalar in fields.scalars("also-cc")]
    return None if None in numbers else tuple(n for n in numbers if n is not None)


def _cc(fields: Fields) -> Carrier | None:
    scalar = fields.scalar("cc")
    number = None if scalar is None else cc_number(scalar, fields.found)
    return None if number is None else CcCarrier(number)


def _cc14(fields: Fields) -> Carrier | None:
    numbers = [cc_number(scalar, fields.found) for scalar in fields.scalars("cc14")]
    if len(numbers) != 2 or numbers[0] is None or numbers[1] is None:
        return None
    if numbers[0] == numbers[1]:
        _wrong(fields, "cc14", f"both halves travel on CC {numbers[0]}", "give each its own number")
        return None
    return Cc14Carrier(numbers[0], numbers[1])


def _nrpn(fields: Fields) -> Carrier | None:
    return _parameter(fields, "nrpn", close=False)


def _rpn(fields: Fields) -> Carrier | None:
    return _parameter(fields, "rpn", close=True)


def _parameter(fields: Fields, key: str, *, close: bool) -> Carrier | None:
    """Number and width of the data; `close` is what the language says where the definition says nothing."""
    halves = [whole(s, 0, 127, "half of the parameter's number", fields.found) for s in fields.scalars(key)]
    if len(halves) != 2 or halves[0] is None or halves[1] is None:
        return None
    if (halves[0], halves[1]) == NULL:
        _wrong(fields, key, "127, 127 is the null parameter: it sets nothing", "look up the number")
        return None
    bits = fields.text("data")
    if bits is None:
        message = "it is not said whether the data is 7 bits wide (CC 6) or 14 (CC 6 and CC 38)"
        _wrong(fields, key, message, "write `data: 7` or `data: 14`: the maker's chart says the range")
        return None
    said = fields.text("close")
    return ParameterCarrier(
        key == "rpn", halves[0], halves[1], int(bits), close if said is None else is_yes(said)
    )


def _program(fields: Fields) -> Carrier | None:
    if not fields.has("bank"):
        return ProgramCarrier(None)
    bank = fields.whole("bank", 1, 16384)
    return None if bank is None else ProgramCarrier(wire_bank(bank))


def _note(fields: Fields) -> Carrier | None:
    number = fields.whole("note", 0, 127)
    return None if number is None else NoteCarrier(number, fields.yes("release"))


def _bend(fields: Fields) -> Carrier | None:  # noqa: ARG001
    return PitchBendCarrier()


def _pressure(fields: Fields) -> Carrier | None:  # noqa: ARG001
    return PressureCarrier()


def _sysex(key: Scalar, kind: str, fields: Fields) -> Carrier | None:
    block = fields.block("sysex")
    if block is None or block.broken("body") or block.broken("checksum"):
        return None
    given = block.scalars("body")
    body = [_body_byte(scalar, fields.found) for scalar in given]
    parts = tuple(part for part in body if part is not None)
    if len(parts) != len(block.items("body")):
        return None
    problem = _template_problem(parts, kind, block)
    if problem is not None:
        message, help = problem
        fields.found.append(names.TEMPLATE_WRONG.at(block.span, f"`{key.text}`: {message}", help))
        return None
    third = parts[2] if len(parts) > 2 else None
    if parts[0] == REAL_TIME and (third == SHOW_CONTROL or isinstance(third, Slot)):
        message = f"`{key.text}` is MIDI Show Control, which fires what nobody here can know"
        help = (
            "take it out: show control belongs to the stage's own systems, with their interlocks and "
            "emergency stop, and to persons licensed or competent as local law requires"
        )
        fields.found.append(names.HAZARD.at(block.span, message, help))
        return None
    return SysexCarrier(parts, block.yes("signed"), _summed(block))


def _body_byte(scalar: Scalar, found: list[Diagnostic]) -> int | Slot | None:
    if scalar.text in {slot.value for slot in Slot}:
        return Slot(scalar.text)
    number = byte_of(scalar)
    if number <= 0x7F:
        return number
    message = f"`{scalar.text}` does not fit in seven bits"
    help = "F0 and F7 are put round it: write what stands between them"
    if number not in (0xF0, 0xF7):
        help = "system exclusive holds bytes from 0 to 127 (0x7F): look it up in the maker's manual"
    found.append(names.TEMPLATE_WRONG.at(scalar.span, message, help))
    return None


def _template_problem(parts: tuple[int | Slot, ...], kind: str, block: Fields) -> tuple[str, str] | None:
    """What is wrong with a template, and what to do."""
    slots = [part for part in parts if isinstance(part, Slot)]
    if len(set(slots)) != len(slots):
        return "a part of the template stands there twice", "keep one"
    values = {slot for slot in slots if slot not in (Slot.ID, Slot.CHECKSUM)}
    if not values and kind != TRIGGER:
        return "the template has no place for the value", "write `value`, or `value-msb` and `value-lsb`"
    if values and values not in ({Slot.VALUE}, {Slot.VALUE_MSB, Slot.VALUE_LSB}):
        return "the value is neither one byte nor two", "write `value`, or `value-msb` and `value-lsb`"
    maker = parts[:3] if parts[0] == 0 else parts[:1]
    if not all(isinstance(part, int) for part in maker) or len(maker) == 2 or set(maker) == {0}:
        help = "begin with it: one byte, such as `0x7D`, or three, the first of them 0"
        return "the template does not begin with the maker's number", help
    summed = _summed(block)
    if (Slot.CHECKSUM in slots) != (summed is not None):
        help = "`body` holds `checksum`, and `checksum: [5, 8]` says from which byte to which, counted from 1"
        return "a checksum needs its place and the bytes that it is over", help
    if summed is not None:
        first, last = summed
        if not 0 <= first <= last < len(parts) or first <= parts.index(Slot.CHECKSUM) <= last:
            return (
                "the checksum is over bytes that are not there, or over itself",
                "count the bytes of `body` from 1",
            )
    return None


def _summed(block: Fields) -> tuple[int, int] | None:
    """The first and last byte that the checksum is over, from 0."""
    bounds = [int(scalar.text) if len(scalar.text) <= 9 else 10**9 for scalar in block.scalars("checksum")]
    return (bounds[0] - 1, bounds[1] - 1) if len(bounds) == 2 else None


_READ: dict[str, Callable[[Fields], Carrier | None]] = {
    "cc": _cc,
    "cc14": _cc14,
    "nrpn": _nrpn,
    "rpn": _rpn,
    "program": _program,
    "note": _note,
    "pitch-bend": _bend,
    "channel-pressure": _pressure,
    "sysex": lambda fields: None,  # noqa: ARG005 - it is read with its control's name and kind
}
"""The keys that name a carrier."""

_BESIDE = {
    "data": ("nrpn", "rpn"),
    "close": ("nrpn", "rpn"),
    "bank": ("program",),
    "release": ("note",),
}
"""Keys that say more of a carrier, with the carriers that they go with."""
