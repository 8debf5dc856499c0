"""The open ports of a rig: what was handed to each, and what of it went out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from switchmatrix.live.gate import Gate
from switchmatrix.live.matching import Match
from switchmatrix.live.records import MS, Due, Heard, Lost, Refused, Sent
from switchmatrix.live.rig_ports import RigPort
from switchmatrix.live.transport import Input, Output, Transport

LOOK_NS = 20 * MS
"""How often a wait looks whether a person wants it to end."""

CALM_NS = 120 * MS
"""How long a server is left alone once its ports are open, before anything is sent."""

PROVED_NS = 1_000 * MS
"""How long it may take until the server has proved that all went through."""


@dataclass(slots=True, eq=False)
class Wire:
    """One port: its output, its return where it has one, and all that it was handed since it was opened.

    Messages count from 1. `log` is what left, in that order; `came` what came in and nobody has taken.
    """

    name: str
    output: Output
    input: Input | None
    handed: dict[int, Due] = field(default_factory=dict)
    log: list[Sent] = field(default_factory=list)
    came: list[Heard] = field(default_factory=list)

    @property
    def lost(self) -> Lost | None:
        """How the port was lost, its return counted in."""
        return self.output.lost or (None if self.input is None else self.input.lost)

    def hand(self, messages: Sequence[Due]) -> range | Refused:
        """Have a batch sent; the numbers of its messages."""
        refused = self.output.hand(messages)
        if refused is not None:
            return refused
        numbers = range(len(self.handed) + 1, len(self.handed) + 1 + len(messages))
        self.handed.update(zip(numbers, messages, strict=True))
        return numbers

    def pump(self) -> tuple[Sent, ...]:
        """What left since this was last asked; what came in is kept."""
        news = self.output.news()
        self.log += news
        self.came += () if self.input is None else self.input.news()
        return news

    def surely(self) -> frozenset[int]:
        """The messages that went through: all that left, or what a lost port is sure of."""
        lost = self.output.lost
        log = self.log if lost is None else self.log[: lost.certain]
        return frozenset(sent.number for sent in log)

    def perhaps(self) -> frozenset[int]:
        """The messages that may have gone out, those that surely did among them."""
        left = [sent.number for sent in self.log]
        lost = self.output.lost
        if lost is not None:
            waiting = [number for number in self.handed if number not in set(left)]
            waiting.sort(key=lambda number: (self.handed[number].moment_ns, number))
            left += waiting[: max(0, lost.unknown - len(left))]
        return frozenset(left)

    @property
    def proved(self) -> bool:
        """Whether all that left is known to be through; without beats nothing more can be known."""
        return not self.output.beats or self.output.certain >= len(self.log)


class Wires:
    """All open ports of a rig; nothing is handed to them while the gate is shut."""

    def __init__(self, transport: Transport, wires: Iterable[Wire], gate: Gate) -> None:
        self.transport, self.gate = transport, gate
        self.by_port = {wire.name: wire for wire in wires}

    @property
    def lost(self) -> tuple[Lost, ...]:
        """The ports that were lost, and how."""
        return tuple(wire.lost for wire in self.by_port.values() if wire.lost is not None)

    @property
    def watched(self) -> bool:
        """Whether a lost server is noticed at all."""
        return all(wire.output.beats for wire in self.by_port.values())

    @property
    def missed(self) -> int:
        """Beats that the server dropped."""
        return max((wire.output.missed for wire in self.by_port.values()), default=0)

    def hand(self, batches: Mapping[str, Sequence[Due]]) -> dict[str, range] | Refused:
        """Have a batch sent on each port: every one of them or none."""
        self.gate.need()
        taken: dict[str, range] = {}
        for port, messages in batches.items():
            numbers = self.by_port[port].hand(messages)
            if isinstance(numbers, Refused):
                self.stop()
                return numbers
            taken[port] = numbers
        return taken

    def stop(self) -> None:
        """Send nothing more, from the next message boundary on, and take note of what had left."""
        for wire in self.by_port.values():
            wire.output.stop()
            wire.pump()

    def waiting(self) -> bool:
        """Whether anything is still to be sent."""
        return any(wire.output.waiting() for wire in self.by_port.values() if wire.lost is None)

    def wait(self, until_ns: int) -> None:
        """Let time pass until then, or a little less; take note of what left."""
        self.transport.wait(min(until_ns, self.transport.now_ns() + LOOK_NS))
        for wire in self.by_port.values():
            wire.pump()

    def heard(self) -> dict[str, tuple[Heard, ...]]:
        """What came in on each return since this was last asked."""
        heard: dict[str, tuple[Heard, ...]] = {}
        for wire in self.by_port.values():
            wire.pump()
            if wire.input is not None:
                heard[wire.name], wire.came = tuple(wire.came), []
        return heard

    def run(self, stop: Callable[[], bool]) -> bool:
        """Wait until all is sent and proved; whether nothing went wrong and nobody wished it to end."""
        while self.waiting() and not self.lost and not stop():
            self.wait(self.transport.now_ns() + LOOK_NS)
        if self.lost or stop():
            self.stop()
            return False
        end = self.transport.now_ns() + PROVED_NS
        while self.transport.now_ns() < end and not self.lost and not self._proved():
            self.wait(end)
        return not self.lost

    def _proved(self) -> bool:
        return all(wire.proved for wire in self.by_port.values())

    def close(self) -> None:
        """Close every port."""
        self.transport.close()


def open_wires(
    transport: Transport, ports: Iterable[RigPort], gate: Gate, *, share: bool = False, inputs: bool = False
) -> Wires | Refused:
    """Open the rig's ports, which were all found; with `inputs` their returns too. All of them or none."""
    opened: list[Wire] = []
    for one in ports:
        wire = _opened(transport, one, share, inputs)
        if isinstance(wire, Refused):
            transport.close()
            return wire
        opened.append(wire)
    wires = Wires(transport, opened, gate)
    # Opening ports can cost the server a beat, which is noticed a little later: it is nobody's message.
    end = transport.now_ns() + CALM_NS
    while transport.now_ns() < end and not wires.lost:
        wires.wait(end)
    return wires


def _opened(transport: Transport, one: RigPort, share: bool, inputs: bool) -> Wire | Refused:
    if not isinstance(one.out, Match):
        raise TypeError(f"{one.port.name} was not found")
    output = transport.open_output(one.out.name, share=share)
    if isinstance(output, Refused):
        return output
    if not inputs or not isinstance(one.input, Match):
        return Wire(one.port.name, output, None)
    back = transport.open_input(one.input.name)
    return back if isinstance(back, Refused) else Wire(one.port.name, output, back)
