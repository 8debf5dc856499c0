"""MIDI clock for the devices that want it: beside what else a port is sent, and never in its way.

24 clocks a quarter note (MIDI 1.0 Detailed Specification 4.2.1, p. 30). Clocks run without a start
message: the devices want the tempo, and no sequencer is to run off.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from switchmatrix.live.records import Due
from switchmatrix.midi.wire import DIN_BYTE_US, USB_BYTE_US, wire_time_us
from switchmatrix.model.rig import Rig
from switchmatrix.model.song import Song
from switchmatrix.states.state import Visit
from switchmatrix.states.visits import SongStates

CLOCK = b"\xf8"
PER_QUARTER = 24
QUARTERS_TOLD = 4
"""Quarter notes for which a lone scene is sent with clock: enough to be counted in by."""

Span = tuple[int, int]
"""From a moment until just before another, in nanoseconds."""


@dataclass(frozen=True, slots=True)
class Clock:
    """Clocks at one tempo: number 0 at `start_ns`, exact over any length."""

    quarter_ms: Fraction
    start_ns: int

    def moment(self, number: int) -> int:
        """When a clock is due."""
        return self.start_ns + (number * self.quarter_ms * 1_000_000 / PER_QUARTER).__floor__()

    def between(self, from_ns: int, until_ns: int) -> tuple[int, ...]:
        """The moments from one until just before another."""
        first = ((from_ns - self.start_ns) * PER_QUARTER / (self.quarter_ms * 1_000_000)).__ceil__()
        moments: list[int] = []
        number = max(0, first)
        while (moment := self.moment(number)) < until_ns:
            moments += [moment] if moment >= from_ns else []
            number += 1
        return tuple(moments)


def clear_of(moments: Iterable[int], taken: Sequence[Span], byte_ns: int) -> tuple[int, ...]:
    """The clocks moved out of the way of what else the port sends: later, in order, none left out.

    A clock that would still be on the wire when a message is due goes after that message.
    """
    spans = sorted(taken)
    out: list[int] = []
    free = 0
    for moment in moments:
        at = max(moment, free)
        for begins, ends in spans:
            if at < ends and begins < at + max(byte_ns, 1):
                at = ends
        out.append(at)
        free = at + byte_ns
    return tuple(out)


def clocked_ports(rig: Rig) -> tuple[str, ...]:
    """The ports on which some device wants MIDI clock."""
    wanting = {device.port for device in rig.devices if device.definition.clock}
    return tuple(port.name for port in rig.ports if port.name in wanting)


def beside(
    rig: Rig, clock: Clock, from_ns: int, until_ns: int, planned: Iterable[tuple[str, Due]]
) -> dict[str, tuple[Due, ...]]:
    """The clocks of each port that wants them, clear of what it is to be sent meanwhile."""
    given = tuple(planned)
    out: dict[str, tuple[Due, ...]] = {}
    for port in clocked_ports(rig):
        byte_us = USB_BYTE_US if rig.port(port).usb else DIN_BYTE_US
        taken = [
            (due.moment_ns, due.moment_ns + wire_time_us(len(due.data), byte_us) * 1000)
            for name, due in given
            if name == port
        ]
        moments = clear_of(clock.between(from_ns, until_ns), taken, byte_us * 1000)
        out[port] = tuple(Due(moment, CLOCK) for moment in moments)
    return out


def quarter_of(states: SongStates, scene: str, visit: Visit | None) -> Fraction | None:
    """How long a quarter note is where a scene stands, in milliseconds; None for a song without a tempo."""
    song: Song = states.song.song
    if visit is not None and visit.tick is not None:
        tempo = states.timeline.tempo_at(visit.tick)
        return None if tempo is None else tempo.quarter_ms
    found = song.scene(scene.partition("@")[0])
    if found is not None and found.tempo is not None:
        return 60000 / found.tempo
    return song.tempos[0].quarter_ms if song.tempos else None
