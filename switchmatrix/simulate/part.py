"""What each control of a device comes to for whoever receives its messages."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from switchmatrix.definition.carriers import Cc14Carrier, NoteCarrier, ParameterCarrier
from switchmatrix.definition.controls import TRIGGER, Codes, Control, Named
from switchmatrix.definition.definition import Definition
from switchmatrix.simulate.standing import UNKNOWN, Reloaded, Standing


class Role(Enum):
    """What a control does with a code."""

    STANDS = "stands at it"
    FLIPS = "flips at a press"
    FIRES = "goes off"


@dataclass(frozen=True, slots=True)
class Part:
    """One control. `below` are those that setting it reloads, and all that those reload in turn.

    `pending` is its place among the upper halves that wait: of toggles and triggers of 14 bits, which
    act when the lower half has come.
    """

    control: Control
    role: Role
    below: tuple[int, ...]
    reloaded: Reloaded
    pending: int | None

    @property
    def lets_go(self) -> bool:
        """Whether letting its key go is one of its positions."""
        note = isinstance(self.control.carrier, NoteCarrier) and self.control.toggle is None
        return note and any(codes.sent == 0 for codes in _words(self.control).values())

    def fires_at(self, code: int) -> bool:
        """Whether a trigger goes off at the code."""
        return any(codes.low <= code <= codes.high for codes in _words(self.control).values())

    def flipped(self, standing: Standing) -> Standing:
        """The other position of a switch."""
        words = _words(self.control)
        if not isinstance(standing, int) or words.keys() != {"on", "off"}:
            return UNKNOWN
        for here, there in (("on", "off"), ("off", "on")):
            if words[here].low <= standing <= words[here].high:
                return words[there].sent
        return UNKNOWN


def _words(control: Control) -> dict[str, Codes]:
    return dict(control.scale.words) if isinstance(control.scale, Named) else {}


def parts_of(definition: Definition) -> tuple[Part, ...]:
    """The controls in definition order."""
    place = {control.name: n for n, control in enumerate(definition.controls)}
    out: list[Part] = []
    waiting = 0
    for control in definition.controls:
        role = Role.FIRES if control.kind == TRIGGER else Role.FLIPS if control.toggle else Role.STANDS
        waits = role is not Role.STANDS and is_wide(control)
        below = tuple(place[name] for name in _below(control.name, definition))
        out.append(Part(control, role, below, Reloaded(control.name), waiting if waits else None))
        waiting += waits
    return tuple(out)


def is_wide(control: Control) -> bool:
    """Whether its code comes in two control changes."""
    match control.carrier:
        case Cc14Carrier() | ParameterCarrier(bits=14):
            return True
        case _:
            return False


def _below(owner: str, definition: Definition) -> list[str]:
    """All that a control reloads: a reloaded control reloads its own."""
    resets = {control.name: control.resets for control in definition.controls}
    out: list[str] = []
    waiting = list(resets[owner])
    while waiting:
        name = waiting.pop(0)
        if name not in out:
            out.append(name)
            waiting += resets[name]
    return out
