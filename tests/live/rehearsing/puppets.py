"""Ports that do what a test says, one message at a time, and lines on them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from switchmatrix.compile.schedule import Timed
from switchmatrix.compile.step import Step
from switchmatrix.live.loop import Loop
from switchmatrix.live.records import MS, Due, Heard, Lost, Refused, Sent, Stopped
from switchmatrix.live.rehearsing.line import Line
from switchmatrix.live.rehearsing.lines import Report, RigLines
from switchmatrix.live.rehearsing.opening import Opening
from switchmatrix.live.stepping.actions import Send
from switchmatrix.live.stepping.stops import Key
from switchmatrix.live.transport import Transport
from switchmatrix.source import Span

RIG = "a-rig"


@dataclass(slots=True, eq=False)
class Puppet:
    """An output: what it was handed leaves when a test says so, and is proved when a test says so."""

    name: str = "out"
    lost: Lost | None = None
    beats: bool = True
    missed: int = 0
    certain: int = 0
    refuses: str | None = None
    handed: list[Due] = field(default_factory=list)
    how: list[tuple[bool, int | None]] = field(default_factory=list)
    closed: bool = False
    stops: int = 0
    at_stop: int = 0
    """So many messages more leave before it has stopped."""
    _queue: list[int] = field(default_factory=list)
    _news: list[Sent] = field(default_factory=list)
    _left: int = 0

    def hand(
        self, messages: Sequence[Due], *, ahead: bool = False, knows: int | None = None
    ) -> Refused | None:
        """Take a batch."""
        self.how.append((ahead, knows))
        if self.lost is not None or self.refuses is not None:
            return Refused(self.name, self.refuses or (self.lost.reason if self.lost else ""))
        self._queue += range(len(self.handed) + 1, len(self.handed) + 1 + len(messages))
        self.handed += messages
        return None

    def go(self, count: int, pushed_ns: int = 0) -> None:
        """The next messages leave, the first of them so late."""
        for _ in range(count):
            number = self._queue.pop(0)
            due = self.handed[number - 1]
            sent = Sent(number, due.moment_ns, due.moment_ns + pushed_ns, due.data, pushed_ns)
            self._news.append(sent)
            self._left += 1
            pushed_ns = 0

    def lose(self, certain: int, unknown: int) -> None:
        """It is gone."""
        self.lost = Lost(self.name, "the cable is out", certain, unknown)

    def stop(self) -> Stopped | Lost:
        """Send nothing more."""
        self.stops += 1
        if self.lost is None:
            self.go(min(self.at_stop, len(self._queue)))
            self._queue.clear()
        return self.lost or Stopped(self._left, ())

    def waiting(self) -> int:
        """How many have not left."""
        return len(self._queue)

    def news(self) -> tuple[Sent, ...]:
        """What left."""
        news, self._news = tuple(self._news), []
        return news

    def close(self) -> None:
        """Close it."""
        self.closed = True


@dataclass(slots=True, eq=False)
class PuppetIn:
    """An input: what comes is what a test puts there."""

    name: str = "in"
    lost: Lost | None = None
    beats: bool = True
    missed: int = 0
    came: list[Heard] = field(default_factory=list)
    closed: bool = False

    def news(self) -> tuple[Heard, ...]:
        """What came."""
        came, self.came = tuple(self.came), []
        return came

    def close(self) -> None:
        """Close it."""
        self.closed = True


class Stillness(Loop):
    """A transport without ports; it is closed, or not."""

    def __init__(self) -> None:
        super().__init__(1 << 60)
        self.closed = False

    def close(self) -> None:
        """Close it."""
        self.closed = True


@dataclass(slots=True, eq=False)
class Opener:
    """Opens what lies in `next`, and notes what it was asked for; nothing of what is not there.

    `first` is done before anything is opened.
    """

    next: list[Opening] = field(default_factory=list)
    first: Callable[[], object] = lambda: None
    asked: list[tuple[tuple[str, ...], tuple[str, ...]]] = field(default_factory=list)

    def __call__(self, names: Iterable[str], whole: Collection[str] = ()) -> Opening:
        """What lies ready, else nothing."""
        names = tuple(names)
        self.asked.append((tuple(sorted(names)), tuple(sorted(whole))))
        self.first()
        if self.next:
            return self.next.pop(0)
        return Opening(Stillness(), (), dict.fromkeys(names, "nothing is there"), {})


def opening(
    outs: Mapping[str, Puppet],
    backs: Mapping[str, PuppetIn] | None = None,
    shut: Mapping[str, str] | None = None,
    transport: Transport | None = None,
    deaf: Mapping[str, str] | None = None,
) -> Opening:
    """Lines on puppets, all on one transport."""
    lines = tuple(Line(port, out, (backs or {}).get(port)) for port, out in outs.items())
    return Opening(transport or Stillness(), lines, shut or {}, deaf or {})


def rig_lines(first: Opening, again: Opener | None = None) -> RigLines:
    """The lines of a rig with the ports rack and floor; what is lost is opened at once."""
    return RigLines(RIG, ("rack", "floor"), again or Opener(), first, at_once=True)


def dues(count: int, from_ms: int = 0) -> list[Due]:
    """Messages a millisecond apart, each different."""
    return [Due((from_ms + n) * MS, bytes([0xB0, n, 1])) for n in range(count)]


def send(number: int, ports: str, from_ms: int = 0, ahead: bool = False) -> Send:
    """A send of one message a millisecond, each to the port that its letter begins: `rrf`."""
    names = {"r": "rack", "f": "floor"}
    messages = tuple(
        _timed(names[letter], bytes([0xB0, n, 1]), (from_ms + n) * 1000) for n, letter in enumerate(ports)
    )
    return Send(RIG, number, Key(1, "lantern", "verse", 1), "verse", messages, False, ahead, ())


def _timed(port: str, data: bytes, at_us: int) -> Timed:
    span = Span("rigs/a-rig.yaml", 1, 1, 1, 1)
    step = Step("echo", port, 0, data, "", 0, span, "", "")
    return Timed(step, at_us, at_us)


def reports(lines: RigLines, at_ms: int = 0) -> list[Report]:
    """What has become of it."""
    return list(lines.poll(at_ms * MS))
