"""One model of device."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from switchmatrix.definition.controls import TRIGGER, Control
from switchmatrix.definition.programs import Programs
from switchmatrix.source import Span


@dataclass(frozen=True, slots=True)
class Identity:
    """The reply to the universal Identity Request (MIDI 1.0 Detailed Specification 4.2.1, p. 40).

    `manufacturer` is one byte, or three that begin with 0; family and member are 14-bit numbers;
    `version` the four bytes of the software revision, where they matter.
    """

    manufacturer: tuple[int, ...]
    family: int
    member: int
    version: tuple[int, ...] | None


@dataclass(frozen=True, slots=True)
class Order:
    """In which order controls are set, by index.

    `first` are choices that reload others and that no patch stores: they go before a recall. `resetting`
    are the other choices that reload some, each before what it reloads; `others` all the rest, in
    definition order. `reloads` are the controls that each control reloads.
    """

    first: tuple[int, ...]
    resetting: tuple[int, ...]
    others: tuple[int, ...]
    reloads: tuple[tuple[int, ...], ...]

    def moved_with(self, moved: Iterable[int]) -> frozenset[int]:
        """The controls, and all that setting them reloads."""
        seen: set[int] = set()
        waiting = list(moved)
        while waiting:
            at = waiting.pop()
            if at not in seen:
                seen.add(at)
                waiting += self.reloads[at]
        return frozenset(seen)


def order_of(controls: tuple[Control, ...]) -> Order:
    """The order of a definition's controls, whose resets make no circle."""
    place = {control.name: n for n, control in enumerate(controls)}
    reloads = tuple(tuple(place[name] for name in c.resets if name in place) for c in controls)
    resetting = [n for n, below in enumerate(reloads) if below]
    ordered: list[int] = []
    while len(ordered) < len(resetting):
        left = [n for n in resetting if n not in ordered]
        free = [n for n in left if not any(n in reloads[above] for above in left)]
        ordered += free or left
    late: set[int] = set()
    for n in ordered:
        if controls[n].stored or any(n in reloads[above] for above in late):
            late.add(n)
    others = tuple(n for n, c in enumerate(controls) if c.kind != TRIGGER and not reloads[n])
    first = tuple(n for n in ordered if n not in late)
    return Order(first, tuple(n for n in ordered if n in late), others, reloads)


@dataclass(frozen=True, slots=True)
class Definition:
    """What one model of device understands; it has no channel, and rigs share it.

    `broken` names the controls (and `patch`, for the programs) whose lines could not be read, so that
    nobody calls them unknown. `gap_us` is the least time between two messages to it, in microseconds;
    `clock` where it wants MIDI clock; `identity` None for a box that does not answer.
    """

    id: str
    title: str
    programs: Programs | None
    controls: tuple[Control, ...]
    hazard: str | None
    broken: frozenset[str]
    span: Span = field(compare=False)
    gap_us: int = 0
    clock: bool = False
    identity: Identity | None = None
    order: Order = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "order", order_of(self.controls))

    def control(self, name: str) -> Control | None:
        """The control of that name, if there is one."""
        return next((c for c in self.controls if c.name == name), None)

    @property
    def main(self) -> Control | None:
        """The switch that `DEVICE: on` means."""
        return next((c for c in self.controls if c.main), None)

    @property
    def channels(self) -> tuple[str, ...]:
        """The names of the channels that it listens on, in the order met."""
        met = [c.channel for c in self.controls]
        if self.programs is not None:
            met.insert(0, self.programs.channel)
        return tuple(dict.fromkeys(met))

    @property
    def loops(self) -> tuple[Control, ...]:
        """The switches that `loops: [1, 3]` sets, in loop order."""
        return tuple(c for c in self.controls if c.loop is not None)
