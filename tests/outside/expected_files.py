"""The MIDI files that a plan should become, worked out from its microseconds and the song's own marks.

Where a message stands: at the first tick that is not before its moment, not before its device has
settled (where the port, sending one byte after another, would not hold the message back anyway), and
not before the message before it on its port.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from switchmatrix.compile.plan import SongPlan
from switchmatrix.compile.schedule import Timed
from switchmatrix.model.rig import Port, Rig
from tests.outside.smf_readers import Event, Smf, by_py_midicsv
from tests.outside.song_clock import QUARTER, SongClock, bar_tick, rounded

STEADY = SongClock(((1, 4, 4),), ((0, 500_000),))
"""4/4 at 120, what a file that says nothing has (RP-001 p. 3-7)."""

DIN_BYTE_US = 320
"""31,250 baud, ten bits a byte (MIDI 1.0 Detailed Specification 4.2.1, p. 1)."""

Placed = tuple[int, Timed]


@dataclass
class Wires:
    """What the ports and devices are still doing while a file is played."""

    clock: SongClock
    byte_us: dict[str, int]
    tick: dict[str, int] = field(default_factory=dict)
    free: dict[str, Fraction] = field(default_factory=dict)
    settled: dict[str, Fraction] = field(default_factory=dict)

    def play(self, port: str, device: str, tick: int, length: int, settle_us: int) -> Fraction:
        """A message reaches its device; how long before the device has settled, 0 where it has."""
        starts = max(self.clock.moment(tick), self.free.get(port, Fraction(0)))
        early = self.settled.get(device, Fraction(0)) - starts
        self.tick[port] = tick
        self.free[port] = starts + length * self.byte_us[port]
        self.settled[device] = self.free[port] + settle_us
        return max(early, Fraction(0))


def wires(rig: Rig, clock: SongClock) -> Wires:
    """The rig's wires, all idle."""
    return Wires(clock, {port.name: 0 if port.usb else DIN_BYTE_US for port in rig.ports})


def placed(at: Wires, visit_tick: int, messages: tuple[Timed, ...]) -> list[Placed]:
    """The messages of a visit at their ticks."""
    out: list[Placed] = []
    for m in messages:
        device, port = m.step.device, m.step.port
        earliest = at.clock.moment(visit_tick) + m.starts_us
        settled = at.settled.get(device, Fraction(0))
        if settled > at.free.get(port, Fraction(0)):
            earliest = max(earliest, settled)
        tick = at.clock.first_tick(earliest, max(visit_tick, at.tick.get(port, 0)))
        at.play(port, device, tick, len(m.step.data), m.step.settle_us)
        out.append((tick, m))
    return out


def song_clock(song: SongPlan) -> SongClock:
    """The song's clock from its meter and tempo marks; 120 where it gives no tempo."""
    whole = song.states.song.song
    meters = tuple((m.at.bar, m.beats, m.unit) for m in whole.meters)
    tempos = tuple(
        (bar_tick(meters, t.at.bar, t.at.beat), rounded(60_000_000 / (t.bpm * t.beat))) for t in whole.tempos
    )
    return SongClock(meters, tempos or STEADY.tempos)


def files(rig: Rig, song: SongPlan) -> dict[int, dict[str, Smf]]:
    """For formats 1 and 0 every file by name: the song's, if it has places, and each distinct state's."""
    stem = f"{song.number:02d}-{song.states.song.song.id}"
    title = song.states.song.song.title
    out: dict[int, dict[str, Smf]] = {1: {}, 0: {}}
    if song.states.placed:
        clock = song_clock(song)
        at = wires(rig, clock)
        visits = [(v.visit.tick or 0, v.visit.scene, v.messages) for v in song.visits]
        every = [one for tick, _, messages in visits for one in placed(at, tick, messages)]
        head = _head(title, clock, [(tick, scene) for tick, scene, _ in visits])
        out = {format: _files(rig, stem, head, every, format) for format in out}
    for state in song.scenes:
        scene = state.scene
        label = scene.scene if scene.nth == 1 else f"{scene.scene}@{scene.nth}"
        name = f"{stem}.scene-{scene.position:02d}-{re.sub('[^a-z0-9@-]', '-', label)}"
        every = placed(wires(rig, STEADY), 0, state.messages)
        head = _head(title, STEADY, [(0, label)])
        out = {format: done | _files(rig, name, head, every, format) for format, done in out.items()}
    return out


@dataclass(frozen=True)
class Run:
    """A MIDI file as it was written: its visits, each with its tick and its messages at their ticks."""

    rig: Rig
    clock: SongClock
    visits: tuple[tuple[int, tuple[Placed, ...]], ...]

    @property
    def longest_tick_us(self) -> Fraction:
        """How long a tick lasts at the slowest tempo."""
        return Fraction(max(us for _, us in self.clock.tempos), QUARTER)


def as_written(rig: Rig, song: SongPlan, written: dict[str, bytes]) -> list[Run]:
    """The song's file, if it has places, and those of its states, as format 0 has `written` them."""
    ports = [p.name for p in rig.ports if any(d.port == p.name for d in rig.devices)]
    read = [by_py_midicsv(data) for data in written.values()]
    plans = [(STEADY, [(0, state.messages)]) for state in song.scenes]
    if song.states.placed:
        plans.insert(0, (song_clock(song), [(v.visit.tick or 0, v.messages) for v in song.visits]))
    runs = []
    for n, (clock, visits) in enumerate(plans):
        sent = {port: _sent(read[n * len(ports) + k]) for k, port in enumerate(ports)}
        done = [(tick, tuple(_paired(sent[m.step.port], m) for m in messages)) for tick, messages in visits]
        runs.append(Run(rig, clock, tuple(done)))
    return runs


def _paired(sent: Iterator[Event], m: Timed) -> Placed:
    """The next message of the file, which has to be this one."""
    tick = int(str((event := next(sent))[0]))
    if event != _event(tick, m):
        raise ValueError(f"{event} stands where {m.step.data.hex(' ')} was planned")
    return (tick, m)


def too_early(run: Run) -> list[tuple[int, str, float]]:
    """Messages that reach a device before it has settled: tick, device, by how many microseconds."""
    at = wires(run.rig, run.clock)
    every = [one for _, messages in run.visits for one in messages]
    played = [
        (
            tick,
            m.step.device,
            float(at.play(m.step.port, m.step.device, tick, len(m.step.data), m.step.settle_us)),
        )
        for tick, m in every
    ]
    return [one for one in played if one[2] > 0]


def _sent(seen: Smf) -> Iterator[Event]:
    """The channel messages of a file of one track."""
    return iter([event for event in seen.tracks[0] if event[1] in ("control", "program")])


def _head(title: str, clock: SongClock, markers: list[tuple[int, str]]) -> list[Event]:
    """Title, meters, tempos and markers; those of one tick in that order."""
    meters: list[Event] = [
        (bar_tick(clock.meters, bar, 1), "meter", beats, unit.bit_length() - 1, _click(beats, unit), 8)
        for bar, beats, unit in clock.meters
    ]
    tempos: list[Event] = [(tick, "tempo", us) for tick, us in clock.tempos]
    events: list[Event] = [(0, "name", title), *meters, *tempos]
    events += [(tick, "marker", scene) for tick, scene in markers]
    order = ("name", "meter", "tempo", "marker")
    return sorted(events, key=lambda event: (event[0], order.index(str(event[1]))))


def _click(beats: int, unit: int) -> int:
    """MIDI clocks, 24 a quarter note, between clicks: three eighths in 6/8 (RP-001 p. 10)."""
    return 24 * 4 // unit * (3 if unit >= 8 and beats in (6, 9, 12) else 1)


def _files(rig: Rig, name: str, head: list[Event], every: list[Placed], format: int) -> dict[str, Smf]:
    if format == 1:
        tracks = [head]
        for device in rig.devices:
            port = next(p for p in rig.ports if p.name == device.port)
            named: list[Event] = [(0, "name", device.name), (0, "device", port.out)]
            tracks.append(named + [_event(t, m) for t, m in every if m.step.device == device.name])
        return {f"{name}.mid": Smf(1, QUARTER, tuple(_ended(track) for track in tracks))}
    ports = [p for p in rig.ports if any(d.port == p.name for d in rig.devices)]
    return {
        f"{name}.{port.name}.mid" if len(ports) > 1 else f"{name}.mid": _one_track(port, head, every)
        for port in ports
    }


def _one_track(port: Port, head: list[Event], every: list[Placed]) -> Smf:
    sent = [_event(t, m) for t, m in every if m.step.port == port.name]
    events: list[Event] = [(0, "device", port.out), *head, *sent]
    return Smf(0, QUARTER, (_ended(sorted(events, key=lambda event: int(str(event[0])))),))


def _event(tick: int, m: Timed) -> Event:
    """Bn is a control change, Cn a program change (MIDI 1.0 Detailed Specification 4.2.1, Table I)."""
    status, data = m.step.data[0], m.step.data[1:]
    return (tick, {0xB0: "control", 0xC0: "program"}[status & 0xF0], status & 0x0F, *data)


def _ended(track: list[Event]) -> tuple[Event, ...]:
    """With its end, which stands at its last event."""
    return (*track, (track[-1][0], "end"))
