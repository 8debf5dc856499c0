"""The MIDI files that a plan should become, worked out from its microseconds and the song's own marks.

Where a message stands: at the first tick that is not before its moment, not before what it waits for
(where the port, sending one byte after another, would not hold the message back anyway), and not before
the message before it on its port, nor beside it where a player that merges tracks would turn them round.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil

from switchmatrix.compile.plan import SongPlan
from switchmatrix.compile.schedule import Timed
from switchmatrix.compile.step import Role, Step
from switchmatrix.model.rig import Mute, Port, Rig
from tests.outside.smf_readers import MESSAGES, Event, Smf, by_py_midicsv
from tests.outside.song_clock import QUARTER, SongClock, bar_tick, rounded

STEADY = SongClock(((1, 4, 4),), ((0, 500_000),))
"""4/4 at 120, what a file that says nothing has (RP-001 p. 3-7)."""

DIN_BYTE_US = 320
"""31,250 baud, ten bits a byte (MIDI 1.0 Detailed Specification 4.2.1, p. 1)."""

Placed = tuple[int, Timed]


@dataclass
class Wires:
    """What the ports and devices are still doing while a file is played; `last` is a tick and its track."""

    rig: Rig
    clock: SongClock
    last: dict[str, tuple[int, int]] = field(default_factory=dict)
    free: dict[str, Fraction] = field(default_factory=dict)
    settled: dict[str, Fraction] = field(default_factory=dict)

    def track(self, step: Step) -> int:
        """Which track of the song's file the message's device has."""
        return [device.name for device in self.rig.devices].index(step.device)

    def play(self, tick: int, step: Step) -> Fraction:
        """A message reaches its device; how long before the device takes it, 0 where it does."""
        usb = next(port.usb for port in self.rig.ports if port.name == step.port)
        starts = max(self.clock.moment(tick), self.free.get(step.port, Fraction(0)))
        early = self.settled.get(step.device, Fraction(0)) - starts
        self.last[step.port] = (tick, self.track(step))
        self.free[step.port] = starts + len(step.data) * (0 if usb else DIN_BYTE_US)
        self.settled[step.device] = self.free[step.port] + max(step.settle_us, step.gap_us)
        return max(early, Fraction(0))


Wait = tuple[Fraction, int, int]
"""Until when something waits, and the tick and the track of the message that it waits for."""


@dataclass
class Landings:
    """When each device last had something and had settled: in all, and of what a mute holds and covers."""

    rig: Rig
    every: dict[str, Wait] = field(default_factory=dict)
    held: dict[tuple[int, str], Wait] = field(default_factory=dict)
    covered: dict[tuple[int, str], Wait] = field(default_factory=dict)

    def waits(self, step: Step) -> list[Wait]:
        """What the first message of a unit waits for besides its own device."""
        if step.part > 1:
            return []
        waits = list(self.every.values()) if step.role is Role.TRIGGER else []
        for number, mute in enumerate(self.rig.mutes):
            if _covers(mute, step):
                waits += _later(self.held, number, mute.before_us)
            if _holds(mute, step):
                waits += _later(self.covered, number, mute.after_us)
        return waits

    def landed(self, step: Step, at: Wait) -> None:
        """A message is through, and its device has settled; of a unit the last one counts."""
        if step.role is not Role.TRIGGER:
            self.every[step.device] = at
        for number, mute in enumerate(self.rig.mutes):
            if _covers(mute, step) and step.part == step.parts:
                self.covered[number, step.device] = at
            if _holds(mute, step) and step.part == step.parts:
                self.held[number, step.device] = at


def _later(landed: dict[tuple[int, str], Wait], number: int, wait_us: int) -> list[Wait]:
    return [(at + wait_us, tick, track) for (n, _), (at, tick, track) in landed.items() if n == number]


def _covers(mute: Mute, step: Step) -> bool:
    named = {(target.device, target.control) for target in mute.covers}
    moved = {(step.device, control) for control in step.moves}
    return step.role in (Role.RECALL, Role.SET) and not named.isdisjoint(moved)


def _holds(mute: Mute, step: Step) -> bool:
    named = {(target.device, target.control) for target, _ in mute.holds}
    return not named.isdisjoint((step.device, control) for control in step.moves)


@dataclass
class Playing:
    """A file as far as it has been played: its wires, what has landed, and when the last visit had."""

    wires: Wires
    landings: Landings
    done: Fraction = Fraction(0)

    def visit(self, moments: list[Fraction], messages: tuple[Timed, ...]) -> tuple[Playing, list[Placed]]:
        """The messages of a visit at their ticks, none before its moment, and the file played so far."""
        on = deepcopy(self, {id(self.wires.rig): self.wires.rig})
        on.done = Fraction(0)
        return on, [(on._place(moment, m.step), m) for moment, m in zip(moments, messages, strict=True)]

    def _place(self, earliest: Fraction, step: Step) -> int:
        wires, track, none = self.wires, self.wires.track(step), Fraction(0)
        others = self.landings.waits(step)
        waits = max([wires.settled.get(step.device, none), *(moment for moment, _, _ in others)])
        if waits > wires.free.get(step.port, none):
            earliest = max(earliest, waits)
        behind = [*others, *([(none, *wires.last[step.port])] if step.port in wires.last else [])]
        least = max([at + (on_track > track) for _, at, on_track in behind], default=0)
        tick = wires.clock.first_tick(earliest, least)
        wires.play(tick, step)
        landed = wires.free[step.port] + step.settle_us
        self.landings.landed(step, (landed, tick, track))
        self.done = max(self.done, landed)
        return tick


def placed(rig: Rig, clock: SongClock, visits: list[tuple[int, bool, tuple[Timed, ...]]]) -> list[Placed]:
    """The messages of each visit (its tick, whether it lands on time, its messages) at their ticks.

    A visit that rounding makes land late begins that many ticks earlier, but never before the last has.
    """
    playing, out, free = Playing(Wires(rig, clock), Landings(rig)), list[Placed](), Fraction(0)
    for at, on_time, messages in visits:
        moment = clock.moment(at)
        planned = [moment + m.starts_us for m in messages]
        played, here = playing.visit(planned, messages)
        due, early = max([moment, *(moment + m.lands_us for m in messages)]), Fraction(0)
        one_tick = clock.moment(max(at, 1)) - clock.moment(max(at, 1) - 1)
        while on_time and played.done > due:
            early += ceil((played.done - due) / one_tick) * one_tick
            sooner, ticks = playing.visit([max(one - early, min(one, free)) for one in planned], messages)
            if sooner.done >= played.done:
                break
            played, here = sooner, ticks
        free = max([free, moment, *(clock.moment(tick) for tick, _ in here)])
        playing, out = played, out + here
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
        every = placed(rig, clock, [(v.visit.tick or 0, v.on_time, v.messages) for v in song.visits])
        head = _head(rig, title, clock, [(v.visit.tick or 0, v.visit.scene) for v in song.visits])
        out = {format: _files(rig, stem, head, every, format) for format in out}
    for state in song.scenes:
        scene = state.scene
        label = scene.scene if scene.nth == 1 else f"{scene.scene}@{scene.nth}"
        name = f"{stem}.scene-{scene.position:02d}-{re.sub('[^a-z0-9@-]', '-', label)}"
        every = placed(rig, STEADY, [(0, False, state.messages)])
        head = _head(rig, title, STEADY, [(0, label)])
        out = {format: done | _files(rig, name, head, every, format) for format, done in out.items()}
    return out


@dataclass(frozen=True)
class Visited:
    """A visit as a file has it: its tick, whether it lands on time (and is planned to), its messages."""

    tick: int
    on_time: bool
    in_time: bool
    messages: tuple[Placed, ...]


@dataclass(frozen=True)
class Run:
    """A MIDI file as it was written: its visits, each with its tick and its messages at their ticks."""

    rig: Rig
    clock: SongClock
    visits: tuple[Visited, ...]

    @property
    def longest_tick_us(self) -> Fraction:
        """How long a tick lasts at the slowest tempo."""
        return Fraction(max(us for _, us in self.clock.tempos), QUARTER)

    @property
    def as_sent(self) -> list[Visited]:
        """The visits that begin at their places."""
        return [visit for visit in self.visits if visit.messages and not visit.on_time]


def as_written(rig: Rig, song: SongPlan, written: dict[str, bytes]) -> list[Run]:
    """The song's file, if it has places, and those of its states, as format 0 has `written` them."""
    ports = [p.name for p in rig.ports if any(d.port == p.name for d in rig.devices)]
    read = [by_py_midicsv(data) for data in written.values()]
    plans = [(STEADY, [(0, False, False, state.messages)]) for state in song.scenes]
    if song.states.placed:
        visits = [(v.visit.tick or 0, v.on_time, v.late_us <= 0, v.messages) for v in song.visits]
        plans.insert(0, (song_clock(song), visits))
    runs = []
    for n, (clock, visits) in enumerate(plans):
        sent = {port: _sent(read[n * len(ports) + k]) for k, port in enumerate(ports)}
        done = [
            Visited(tick, on_time, in_time, tuple(_paired(sent[m.step.port], m) for m in messages))
            for tick, on_time, in_time, messages in visits
        ]
        runs.append(Run(rig, clock, tuple(done)))
    return runs


def landings(run: Run) -> list[tuple[Visited, Fraction]]:
    """When all that each visit with messages sends has landed, where the file is played on its wires."""
    at, out = Wires(run.rig, run.clock), list[tuple[Visited, Fraction]]()
    for visit in run.visits:
        landed = []
        for tick, m in visit.messages:
            at.play(tick, m.step)
            landed.append(at.free[m.step.port] + m.step.settle_us)
        out += [(visit, max(landed))] if landed else []
    return out


def _paired(sent: Iterator[Event], m: Timed) -> Placed:
    """The next message of the file, which has to be this one."""
    tick = int(str((event := next(sent))[0]))
    if event != event_of(tick, m):
        raise ValueError(f"{event} stands where {m.step.data.hex(' ')} was planned")
    return (tick, m)


def too_early(run: Run) -> list[tuple[int, str, float]]:
    """Messages that reach a device before it has settled: tick, device, by how many microseconds."""
    at = Wires(run.rig, run.clock)
    every = [one for visit in run.visits for one in visit.messages]
    played = [(tick, m.step.device, float(at.play(tick, m.step))) for tick, m in every]
    return [one for one in played if one[2] > 0]


def _sent(seen: Smf) -> Iterator[Event]:
    """The messages of a file of one track."""
    return iter([event for event in seen.tracks[0] if event[1] in MESSAGES])


def _head(rig: Rig, title: str, clock: SongClock, markers: list[tuple[int, str]]) -> list[Event]:
    """Title, what is set by hand, meters, tempos and markers; those of one tick in that order."""
    by_hand: list[Event] = [
        (
            0,
            "text",
            f"set by hand before this: {d.name}.{d.definition.controls[n].name} {'on' if on else 'off'}",
        )
        for d in rig.devices
        for n, on in d.powers_up
    ]
    meters: list[Event] = [
        (bar_tick(clock.meters, bar, 1), "meter", beats, unit.bit_length() - 1, _click(beats, unit), 8)
        for bar, beats, unit in clock.meters
    ]
    tempos: list[Event] = [(tick, "tempo", us) for tick, us in clock.tempos]
    events: list[Event] = [(0, "name", title), *by_hand, *meters, *tempos]
    events += [(tick, "marker", scene) for tick, scene in markers]
    order = ("name", "text", "meter", "tempo", "marker")
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
            tracks.append(named + [event_of(t, m) for t, m in every if m.step.device == device.name])
        return {f"{name}.mid": Smf(1, QUARTER, tuple(_ended(track) for track in tracks))}
    ports = [p for p in rig.ports if any(d.port == p.name for d in rig.devices)]
    return {
        f"{name}.{port.name}.mid" if len(ports) > 1 else f"{name}.mid": _one_track(port, head, every)
        for port in ports
    }


def _one_track(port: Port, head: list[Event], every: list[Placed]) -> Smf:
    sent = [event_of(t, m) for t, m in every if m.step.port == port.name]
    events: list[Event] = [(0, "device", port.out), *head, *sent]
    return Smf(0, QUARTER, (_ended(sorted(events, key=lambda event: int(str(event[0])))),))


VOICES = {
    0x80: "note off",
    0x90: "note on",
    0xB0: "control",
    0xC0: "program",
    0xD0: "pressure",
    0xE0: "bend",
}
"""The upper half of a status byte (MIDI 1.0 Detailed Specification 4.2.1, Table I, p. T-1)."""


def event_of(tick: int, m: Timed) -> Event:
    """As the readers tell it: a bend as one number, LSB first (p. 19); exclusive with its length after F0."""
    status, data = m.step.data[0], m.step.data[1:]
    if status == 0xF0:
        return (tick, "exclusive", len(data), *data)
    kind = VOICES[status & 0xF0]
    if kind == "bend":
        return (tick, kind, status & 0x0F, data[0] + 128 * data[1])
    return (tick, kind, status & 0x0F, *data)


def _ended(track: list[Event]) -> tuple[Event, ...]:
    """With its end, which stands at its last event."""
    return (*track, (track[-1][0], "end"))
