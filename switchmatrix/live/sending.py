"""A change on the wires: each message at its moment, what went out, and what is then known of the rig."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from switchmatrix.compile.broken import BrokenOff, broken_off
from switchmatrix.compile.schedule import Timed
from switchmatrix.live.changes import Change
from switchmatrix.live.records import MS, Due, Lost, Refused
from switchmatrix.live.wires import Wires
from switchmatrix.model.rig import Rig

LEAD_NS = 50 * MS
"""From handing a change to its first message: every port's process has it by then."""


@dataclass(frozen=True, slots=True)
class Delivery:
    """What became of a change. `surely` and `perhaps` are places in its messages, from 0.

    `late_ns` is how late each message left; `missed` counts beats that a living server dropped, and
    with them maybe messages.
    """

    change: Change
    surely: frozenset[int]
    perhaps: frozenset[int]
    late_ns: Mapping[int, int]
    stopped: bool
    lost: tuple[Lost, ...]
    refused: Refused | None
    missed: int

    @property
    def whole(self) -> bool:
        """Whether all of it went out."""
        return len(self.surely) == len(self.change.messages) and not self.faulty

    @property
    def faulty(self) -> bool:
        """Whether something went wrong on the wire, so that a person must look."""
        return bool(self.lost or self.refused or self.missed)

    def sent(self) -> tuple[Timed, ...]:
        """The messages that surely went out, in the order sent."""
        return tuple(m for n, m in enumerate(self.change.messages) if n in self.surely)

    def doubtful(self) -> tuple[Timed, ...]:
        """The messages that may have gone out."""
        return tuple(m for n, m in enumerate(self.change.messages) if n in self.perhaps - self.surely)


def deliver(
    wires: Wires,
    change: Change,
    stop: Callable[[], bool],
    clocks: Callable[[int], Mapping[str, Sequence[Due]]] | None = None,
) -> Delivery:
    """Send a change, one batch a port, and wait until all of it has landed.

    It ends early when a port is lost or when `stop` says so, between two messages. `clocks` gives what
    else the ports are sent beside it, from the moment that it begins.
    """
    start = wires.transport.now_ns() + LEAD_NS
    missed = wires.missed
    places = _by_port(change.messages)
    batches = {
        port: [Due(start + _ns(change.messages[n]), change.messages[n].step.data) for n in here]
        for port, here in places.items()
    }
    taken = wires.hand(batches)
    if isinstance(taken, Refused):
        return _delivery(wires, change, places, {}, stop(), taken, 0)
    if clocks is not None:
        wires.hand(clocks(start))
    sent = wires.run(stop)
    landed = start + change.us * 1000 + _latest(wires, taken)
    while sent and wires.transport.now_ns() < landed and not wires.lost and not stop():
        wires.wait(landed)
    return _delivery(wires, change, places, taken, stop(), None, wires.missed - missed)


def _latest(wires: Wires, taken: Mapping[str, range]) -> int:
    """How late the latest of these messages left: so much later all of it has landed, at most."""
    return max(
        (
            s.sent_ns - s.due_ns
            for port, numbers in taken.items()
            for s in wires.by_port[port].log
            if s.number in numbers
        ),
        default=0,
    )


def _ns(message: Timed) -> int:
    return message.starts_us * 1000


def _by_port(messages: Sequence[Timed]) -> dict[str, list[int]]:
    places: dict[str, list[int]] = {}
    for n, message in enumerate(messages):
        places.setdefault(message.step.port, []).append(n)
    return places


def _delivery(
    wires: Wires,
    change: Change,
    places: Mapping[str, Sequence[int]],
    taken: Mapping[str, range],
    stopped: bool,
    refused: Refused | None,
    missed: int,
) -> Delivery:
    surely: set[int] = set()
    perhaps: set[int] = set()
    late: dict[int, int] = {}
    for port, numbers in taken.items():
        wire = wires.by_port[port]
        place = dict(zip(numbers, places[port], strict=True))
        surely |= {place[number] for number in wire.surely() if number in place}
        perhaps |= {place[number] for number in wire.perhaps() if number in place}
        late |= {place[s.number]: s.sent_ns - s.due_ns for s in wire.log if s.number in place}
    return Delivery(change, frozenset(surely), frozenset(perhaps), late, stopped, wires.lost, refused, missed)


def known_after(rig: Rig, delivery: Delivery) -> BrokenOff:
    """What is known of the rig, and what a mute may still hold."""
    change = delivery.change
    if delivery.whole:
        return BrokenOff(change.after, ())
    order = [m.step for m in delivery.sent()] + [m.step for m in delivery.doubtful()]
    never = [m.step for n, m in enumerate(change.messages) if n not in delivery.perhaps]
    surely = 0 if delivery.missed else len(delivery.surely)
    return broken_off(rig, change.before, [*order, *never], surely, len(order))
