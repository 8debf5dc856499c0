"""What a line check finds, as values."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from statistics import median

from switchmatrix.live.identity import Reply
from switchmatrix.live.records import MS


class Verdict(Enum):
    """What is said of one device."""

    ANSWERS = "answers"
    DIFFERS = "differs"
    SILENT = "silent"
    EYE_YES = "by eye yes"
    EYE_NO = "by eye no"
    NOT_CHECKED = "not checked"
    LEFT_OUT = "left out"


PASSES = (Verdict.ANSWERS, Verdict.EYE_YES)


@dataclass(frozen=True, slots=True)
class Trip:
    """Round trips in nanoseconds, from the request's leaving to the reply's coming."""

    least: int
    median: int
    worst: int
    count: int

    def __str__(self) -> str:
        least, middle, worst = (f"{ns / MS:.1f}" for ns in (self.least, self.median, self.worst))
        return f"round trip {least} / {middle} / {worst} ms (least, median, worst of {self.count})"


def trip(times: list[int]) -> Trip | None:
    """The round trips taken together."""
    return Trip(min(times), int(median(times)), max(times), len(times)) if times else None


@dataclass(frozen=True, slots=True)
class Result:
    """One device: the verdict and why, its round trips, the version that it gave."""

    device: str
    port: str
    verdict: Verdict
    said: str
    trip: Trip | None = None
    version: tuple[int, ...] | None = None

    @property
    def passed(self) -> bool:
        """Whether the device was seen to respond as it should."""
        return self.verdict in PASSES


@dataclass(frozen=True, slots=True)
class Timed:
    """A reply and how long after the request it came, in nanoseconds."""

    reply: Reply
    after_ns: int


@dataclass(frozen=True, slots=True)
class Round:
    """What one request brought on one port.

    `late` came after the time-out. `cut` are replies that were cut short, `noise` counts what was no
    message at all, `flood` replies past the most that are kept.
    """

    replies: tuple[Timed, ...]
    late: tuple[Timed, ...] = ()
    cut: tuple[bytes, ...] = ()
    noise: int = 0
    flood: int = 0


@dataclass(frozen=True, slots=True)
class Report:
    """A line check of one rig. `at` is when, as text; `since` compares it with the last one.

    `faults` are those that it was broken off by and went on from.
    """

    show: str
    rig: str
    at: str
    stand_in: bool
    results: tuple[Result, ...]
    chains: tuple[str, ...] = ()
    strangers: tuple[str, ...] = ()
    since: tuple[str, ...] = ()
    ended: str = ""
    whole: bool = True
    faults: tuple[str, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether every device that was to be checked passed, and the check went through."""
        wanted = [one for one in self.results if one.verdict is not Verdict.LEFT_OUT]
        return self.whole and bool(wanted) and all(one.passed for one in wanted)
