"""Controls of one definition that one name, or one message, stands for."""

from __future__ import annotations

from switchmatrix.definition.carriers import (
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
from switchmatrix.definition.controls import Control, Linear
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related

_MAKER = "each control needs its own; look in the maker's implementation chart"


def collisions(controls: list[Control], found: list[Diagnostic]) -> None:
    """Two controls of one name, two that one message moves, and two main switches: one finding a pair."""
    seen: dict[object, Control] = {}
    said: set[tuple[int, int]] = set()
    for control in controls:
        for key, what, help in _keys(control):
            first = seen.setdefault(key, control)
            pair = (id(first), id(control))
            if first is control:
                if key in _also(control) and key in _own(control):
                    message = f"`{control.name}` names {what} twice: it is its carrier already"
                    found.append(names.CARRIER_TWICE.at(control.span, message, "take it out of `also-cc`"))
            elif pair not in said:
                said.add(pair)
                found.append(_finding(control, first, what, help))
    exclusive = [control for control in controls if isinstance(control.carrier, SysexCarrier)]
    for n, control in enumerate(exclusive):
        other = next((o for o in exclusive[:n] if _overlap(o, control)), None)
        if other is not None and (id(other), id(control)) not in said:
            found.append(_finding(control, other, "one system exclusive message", _MAKER))


def _finding(control: Control, first: Control, what: str, help: str) -> Diagnostic:
    message = f"`{control.name}` and `{first.name}` both have {what}"
    if what == "the name":
        message = f"two controls are called `{control.name}`"
    related = (Related(first.span, f"`{first.name}` has it here"),)
    return names.CARRIER_TWICE.at(control.span, message, help, related)


def _keys(control: Control) -> list[tuple[object, str, str]]:
    """What must be the control's alone: what people call it, and what to do where it is not."""
    keys: list[tuple[object, str, str]] = [
        (key, what, _MAKER) for key, what in {**_own(control), **_also(control)}.items()
    ]
    keys.append((("name", control.name), "the name", "rename one of them"))
    if control.main:
        keys.append(("main", "the main switch", "keep `main: yes` on one of them"))
    return keys


def _also(control: Control) -> dict[object, str]:
    return {(control.channel, "cc", n): f"CC {n}" for n in control.also}


def _own(control: Control) -> dict[object, str]:
    """The messages that are the control's own; system exclusive is compared apart."""
    at = control.channel
    match control.carrier:
        case CcCarrier(number):
            return {(at, "cc", number): f"CC {number}"}
        case Cc14Carrier(msb, lsb):
            return {(at, "cc", n): f"CC {n}" for n in (msb, lsb)}
        case ParameterCarrier(registered, msb, lsb):
            name = "RPN" if registered else "NRPN"
            return {(at, name, msb, lsb): f"{name} {msb}, {lsb}"}
        case ProgramCarrier(bank):
            return {(at, "program", bank, n): f"program {n} on the wire" for n in _programs(control)}
        case NoteCarrier(number):
            return {(at, "note", number): f"note {number}"}
        case PitchBendCarrier():
            return {(at, "bend"): "pitch bend"}
        case PressureCarrier():
            return {(at, "pressure"): "channel pressure"}
        case SysexCarrier():
            return {}


def _programs(control: Control) -> list[int]:
    """The programs that a program-carried control answers to."""
    if control.toggle is not None:
        return [n for n in (control.toggle.press, control.toggle.release) if n is not None]
    if isinstance(control.scale, Linear):
        return list(range(128))
    return [n for _, codes in control.scale.words for n in range(codes.low, codes.high + 1)]


def _overlap(one: Control, other: Control) -> bool:
    """Whether one system exclusive message could be both: a slot may hold anything."""
    if not isinstance(one.carrier, SysexCarrier) or not isinstance(other.carrier, SysexCarrier):
        return False
    here, there = one.carrier.body, other.carrier.body
    return len(here) == len(there) and all(
        a == b or isinstance(a, Slot) or isinstance(b, Slot) for a, b in zip(here, there, strict=True)
    )
