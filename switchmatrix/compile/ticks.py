"""Messages at ticks: rounded so that no wait shrinks and no order changes."""

from __future__ import annotations

from collections.abc import Sequence

from switchmatrix.compile.jobs import jobs_of
from switchmatrix.compile.plan import PlannedVisit
from switchmatrix.compile.schedule import Timed, byte_times
from switchmatrix.model.rig import Rig
from switchmatrix.states.timeline import TICKS_PER_QUARTER, Timeline

Placed = tuple[Timed, int]
"""A message and its tick."""


def song_ticks(rig: Rig, line: Timeline, visits: Sequence[PlannedVisit]) -> list[Placed]:
    """The messages of a song's visits at their ticks.

    Rounding up would make a visit that lands on time late by a tick or two: it begins that many ticks
    earlier, but not before the visit before it has.
    """
    every = _Every(rig, line, [message for visit in visits for message in visit.messages])
    wires, free = _Wires(), 0
    for visit in visits:
        at, here = visit.visit.tick or 0, len(visit.messages)
        moment, tick = line.moment(at), line.moment(max(at, 1)) - line.moment(max(at, 1) - 1)
        due = moment + max(0, visit.late_us) * TICKS_PER_QUARTER
        played, early = every.play(wires, moment, here), 0
        while visit.on_time and played.landed > due:
            early += -(-(played.landed - due) // tick) * tick
            sooner = every.play(wires, moment, here, early, free)
            if sooner.landed >= played.landed:
                break
            played = sooner
        free = max([free, moment, *(line.moment(sent) for sent in played.ticks[len(wires.ticks) :])])
        wires = played
    return every.placed(wires)


def scene_ticks(rig: Rig, line: Timeline, messages: Sequence[Timed]) -> list[Placed]:
    """The messages of one transition, which begins at tick 0."""
    every = _Every(rig, line, messages)
    return every.placed(every.play(_Wires(), 0, len(messages)))


class _Wires:
    """Ports and devices while a file is played: `ticks` are those of the messages so far.

    Moments are in 960ths of a microsecond. `last` is the tick and the track of each port's last message,
    `free` when it is out; `waits` the moment and the tick that a message still to come waits for;
    `landed` when all that the last visit sent has settled.
    """

    def __init__(self, before: _Wires | None = None) -> None:
        self.ticks: list[int] = list(before.ticks) if before else []
        self.last: dict[str, tuple[int, int]] = dict(before.last) if before else {}
        self.free: dict[str, int] = dict(before.free) if before else {}
        self.waits: dict[int, tuple[int, int]] = dict(before.waits) if before else {}
        self.landed = 0


class _Every:
    """All messages of a file, and what each waits for.

    Rounding up may make messages queue on a port, so what counts is when a player's wire really
    carries them: ports send one byte after another, in the order planned. A player merges tracks in
    their order, so a message whose track stands before that of one that it must follow takes a later
    tick.
    """

    def __init__(self, rig: Rig, line: Timeline, messages: Sequence[Timed]) -> None:
        self.line, self.messages = line, messages
        self.jobs = jobs_of(rig, tuple(message.step for message in messages), byte_times(rig))
        track = {device.name: n for n, device in enumerate(rig.devices)}
        self.track = [track[message.step.device] for message in messages]

    def placed(self, wires: _Wires) -> list[Placed]:
        """The messages at their ticks."""
        return list(zip(self.messages, wires.ticks, strict=True))

    def play(self, before: _Wires, moment: int, count: int, early: int = 0, free: int = 0) -> _Wires:
        """The next `count` messages, which count from a moment, up to `early` before they were planned.

        None of them is brought forward past `free`.
        """
        wires = _Wires(before)
        for n in range(len(before.ticks), len(before.ticks) + count):
            planned = moment + self.messages[n].starts_us * TICKS_PER_QUARTER
            self._send(wires, n, max(planned - early, min(planned, free)))
        return wires

    def _send(self, wires: _Wires, n: int, earliest: int) -> None:
        job, track = self.jobs[n], self.track[n]
        port, free = job.step.port, wires.free.get(job.step.port, 0)
        settled, follows = wires.waits.pop(n, (0, 0))
        if settled > free:
            earliest = max(earliest, settled)
        last, on_track = wires.last.get(port, (0, 0))
        at = max(self.line.tick_not_before(earliest), last + (on_track > track), follows)
        sent = max(self.line.moment(at), free) + job.wire_us * TICKS_PER_QUARTER
        wires.ticks.append(at)
        wires.last[port], wires.free[port] = (at, track), sent
        wires.landed = max(wires.landed, sent + job.step.settle_us * TICKS_PER_QUARTER)
        for follower, lag in job.before:
            moment, tick = wires.waits.get(follower, (0, 0))
            after = at + (track > self.track[follower])
            wires.waits[follower] = (max(moment, sent + lag * TICKS_PER_QUARTER), max(tick, after))
