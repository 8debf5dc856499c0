"""Messages in time: one at a time on a port, ports side by side, no device disturbed while it settles.

Whenever a port is free it takes, of the messages that may go now, the one with the longest way still
ahead of it (its device's waits and later messages, and what waits for those): longest tail first.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from switchmatrix.compile.jobs import Job, covers, holds, jobs_of
from switchmatrix.compile.step import Role, Step
from switchmatrix.midi.wire import DIN_BYTE_US, USB_BYTE_US
from switchmatrix.model.rig import Rig


@dataclass(frozen=True, slots=True)
class Busy:
    """Until when ports and devices are still doing something, in microseconds; nothing where not named.

    By the number of a mute of the rig: from when it `holds` (its `before` included), and when it may be
    let go, since what it covers `lets_go` of it (its `after` included). `gaps` are those of devices that
    hear what others on their channel are sent.
    """

    ports: dict[str, int] = field(default_factory=dict)
    devices: dict[str, int] = field(default_factory=dict)
    holds: dict[int, int] = field(default_factory=dict)
    lets_go: dict[int, int] = field(default_factory=dict)
    gaps: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Timed:
    """A message with its moments, in microseconds on the clock that the schedule was given.

    `starts_us` is its first byte's, `lands_us` the one when the device has it and has settled.
    """

    step: Step
    starts_us: int
    lands_us: int


@dataclass(frozen=True, slots=True)
class Scheduled:
    """A transition in time, and what is still going on after it."""

    messages: tuple[Timed, ...]
    busy: Busy

    def change_time_us(self) -> int:
        """From the first byte until the last device has settled; 0 where nothing is sent."""
        if not self.messages:
            return 0
        return max(m.lands_us for m in self.messages) - min(m.starts_us for m in self.messages)


def byte_times(rig: Rig) -> dict[str, int]:
    """Microseconds that a byte takes on each port."""
    return {port.name: USB_BYTE_US if port.usb else DIN_BYTE_US for port in rig.ports}


def schedule(rig: Rig, steps: tuple[Step, ...], at_us: int = 0, busy: Busy | None = None) -> Scheduled:
    """Each message as early as its port, its device and what it waits for allow, from `at_us` on."""
    board = _Board(rig, jobs_of(rig, steps, byte_times(rig)), at_us, busy or Busy())
    out = [board.next() for _ in steps]
    out.sort(key=lambda timed: timed.starts_us)
    return Scheduled(tuple(out), board.busy)


Lane = tuple[str, int]
"""A port and a channel; channel 0 for all of the port."""


def omni_ports(rig: Rig) -> frozenset[str]:
    """The ports on which some device hears all channels."""
    return frozenset(device.port for device in rig.devices if device.omni)


def lane_of(step: Step, omni: frozenset[str]) -> Lane:
    """Where nothing comes inside a unit: its channel, or all of a port with an omni device."""
    return step.port, 0 if step.port in omni else step.channel


def beside(rig: Rig, omni: frozenset[str]) -> dict[Lane, tuple[str, ...]]:
    """The devices that hear each lane."""
    heard: dict[Lane, list[str]] = {}
    for device in rig.devices:
        if device.port in omni:
            heard.setdefault((device.port, 0), []).append(device.name)
            continue
        for channel in dict.fromkeys(device.channel_of(name) for name in device.definition.channels):
            heard.setdefault((device.port, channel), []).append(device.name)
    return {lane: tuple(names) for lane, names in heard.items()}


class _Board:
    """What is still to be sent, and until when each port and device is taken."""

    def __init__(self, rig: Rig, jobs: list[Job], at_us: int, busy: Busy) -> None:
        self.rig, self.jobs, self.at_us = rig, jobs, at_us
        self.busy = Busy(
            dict(busy.ports), dict(busy.devices), dict(busy.holds), dict(busy.lets_go), dict(busy.gaps)
        )
        self.ready: dict[int, int] = {}
        self.waiting = [len(job.after) for job in jobs]
        self.earliest = [self._earliest(job.step) for job in jobs]
        self.open: dict[Lane, int] = {}
        self.omni = omni_ports(rig)
        self.beside = beside(rig, self.omni)
        self.gap_us = {device.name: device.definition.gap_us for device in rig.devices}
        for n, count in enumerate(self.waiting):
            if count == 0:
                self.ready[n] = self.earliest[n]

    def _earliest(self, step: Step) -> int:
        """When what is still going on lets a message go; a trigger waits until all of that is over."""
        busy = self.busy
        waits = [self.at_us, busy.devices.get(step.device, 0)]
        for number, mute in enumerate(self.rig.mutes):
            waits += [busy.holds.get(number, 0)] if covers(mute, step) else []
            waits += [busy.lets_go.get(number, 0)] if holds(mute, step) else []
        waits += busy.devices.values() if step.role is Role.TRIGGER else ()
        return max(waits)

    def next(self) -> Timed:
        """Send one message more: the first port that can send something does."""
        best: tuple[int, int, int] | None = None
        for n, ready in self.ready.items():
            step = self.jobs[n].step
            owner = self.open.get(self._lane(step))
            if owner is not None and owner != n:
                continue
            starts = max(ready, self.busy.ports.get(step.port, 0), self._heard_whole(step))
            rank = (starts, -self.jobs[n].tail_us, n)
            if best is None or rank < best:
                best = rank
        if best is None:
            raise ValueError("the messages wait for each other in a circle")
        return self._send(best[2], best[0])

    def _lane(self, step: Step) -> Lane:
        return lane_of(step, self.omni)

    def _heard_whole(self, step: Step) -> int:
        """When all who hear the channel can: their gaps are over, and for a unit they have settled.

        A device that hears half of a unit might take its data for its own.
        """
        hearing = self.beside.get(self._lane(step), ())
        waits = [self.busy.gaps.get(name, 0) for name in hearing]
        if step.part == 1 and step.parts > 1:
            waits += [self.busy.devices.get(name, 0) for name in hearing if name != step.device]
        return max(waits, default=0)

    def _send(self, n: int, starts: int) -> Timed:
        job = self.jobs[n]
        step, sent = job.step, starts + job.wire_us
        del self.ready[n]
        self._take(job, sent)
        if step.parts > 1:
            if step.part < step.parts:
                self.open[self._lane(step)] = n + 1
            else:
                del self.open[self._lane(step)]
        for follower, lag in job.before:
            self.earliest[follower] = max(self.earliest[follower], sent + lag)
            self.waiting[follower] -= 1
            if self.waiting[follower] == 0:
                self.ready[follower] = self.earliest[follower]
        return Timed(step, starts, sent + step.settle_us)

    def _take(self, job: Job, sent: int) -> None:
        """A message has been sent: its port is free, its device and its mutes are not."""
        step, busy = job.step, self.busy
        busy.ports[step.port] = sent
        for name in self.beside.get(self._lane(step), ()):
            if self.gap_us[name]:
                busy.gaps[name] = sent + self.gap_us[name]
        busy.devices[step.device] = sent + job.hold_us
        landed = sent + step.settle_us
        for number, mute in enumerate(self.rig.mutes):
            if holds(mute, step):
                busy.holds[number] = max(busy.holds.get(number, 0), landed + mute.before_us)
            if covers(mute, step):
                busy.lets_go[number] = max(busy.lets_go.get(number, 0), landed + mute.after_us)
