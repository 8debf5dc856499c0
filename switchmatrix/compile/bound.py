"""The shortest change time that bytes and waits allow."""

from __future__ import annotations

from heapq import heappop, heappush

from switchmatrix.compile.jobs import Job, jobs_of
from switchmatrix.compile.schedule import byte_times
from switchmatrix.compile.step import Step
from switchmatrix.model.rig import Rig


def lower_bound_us(rig: Rig, steps: tuple[Step, ...]) -> int:
    """Microseconds that no order of the messages can go below, on a rig that is at rest.

    For each port the preemptive one-machine bound with heads and tails: whenever the port is free, the
    message with the longest way after it is on the wire, and gives way to one with a longer way
    (Jackson's rule; Carlier 1982, from memory). No chain of messages and waits is longer than that: its
    first message has all of it for its tail.
    """
    jobs = jobs_of(rig, steps, byte_times(rig))
    for job in jobs:
        for follower, lag in job.before:
            jobs[follower].head_us = max(jobs[follower].head_us, job.head_us + job.wire_us + lag)
    ports: dict[str, list[Job]] = {}
    for job in jobs:
        ports.setdefault(job.step.port, []).append(job)
    return max((_one_machine(here) for here in ports.values()), default=0)


def _one_machine(jobs: list[Job]) -> int:
    """The preemptive bound of one port, in microseconds."""
    coming = sorted((job.head_us, n) for n, job in enumerate(jobs))
    left = [job.wire_us for job in jobs]
    here: list[tuple[int, int]] = []
    now, done, at = 0, 0, 0
    while at < len(coming) or here:
        if not here:
            now = max(now, coming[at][0])
        while at < len(coming) and coming[at][0] <= now:
            n = coming[at][1]
            heappush(here, (jobs[n].wire_us - jobs[n].tail_us, n))
            at += 1
        minus_after, n = here[0]
        until = now + left[n]
        if at < len(coming) and coming[at][0] < until:
            until = coming[at][0]
        left[n] -= until - now
        now = until
        if left[n] == 0:
            heappop(here)
            done = max(done, now - minus_after)
    return done
