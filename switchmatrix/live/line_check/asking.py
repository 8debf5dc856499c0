"""Asking every port who is there, several times over."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from switchmatrix.live.identity import REQUEST, is_cut, read_reply
from switchmatrix.live.line_check.records import Round, Timed
from switchmatrix.live.records import MS, Due, Heard, Refused
from switchmatrix.live.whole import messages
from switchmatrix.live.wires import Wires

ROUNDS = 5
TIMEOUT_NS = 500 * MS
"""How long a device has to answer."""

LATE_NS = 1_500 * MS
"""How much longer the first round listens, where somebody has not answered: a late reply is not lost."""

QUIET_NS = 40 * MS
"""A round is over when all replies are there and no more have come for so long."""

MOST_KEPT = 64
"""Replies that are kept of one round on one port."""


@dataclass(slots=True)
class _Port:
    """What has come on one port since it was asked."""

    sent_ns: int
    replies: list[Timed] = field(default_factory=list)
    late: list[Timed] = field(default_factory=list)
    cut: list[bytes] = field(default_factory=list)
    noise: int = 0
    flood: int = 0
    last_ns: int = 0

    def take(self, heard: Iterable[Heard]) -> None:
        """Sort what came: replies, replies cut short, what is no message; all else is somebody's playing."""
        for came in heard:
            found = messages(came.data)
            for data in found:
                self._reply(data, came.moment_ns)
            if not found:
                self._no_message(came.data)

    def _reply(self, data: bytes, moment: int) -> None:
        reply = read_reply(data)
        if reply is None:
            self.cut += [data] if is_cut(data) and len(self.cut) < MOST_KEPT else []
            return
        self.last_ns = moment
        after = moment - self.sent_ns
        kept = self.replies if after <= TIMEOUT_NS else self.late
        if len(kept) < MOST_KEPT:
            kept.append(Timed(reply, after))
        else:
            self.flood += 1

    def _no_message(self, data: bytes) -> None:
        if is_cut(data) and len(self.cut) < MOST_KEPT:
            self.cut.append(data)
        else:
            self.noise += 1

    def round(self) -> Round:
        """The round as a value."""
        return Round(tuple(self.replies), tuple(self.late), tuple(self.cut), self.noise, self.flood)


def ask(
    wires: Wires, expected: Mapping[str, int], stop: Callable[[], bool], rounds: int = ROUNDS
) -> dict[str, tuple[Round, ...]] | Refused:
    """Ask each port so often; `expected` replies end a round before its time-out.

    It ends early when a port is lost or `stop` says so; ports without a return are not asked.
    """
    found: dict[str, list[Round]] = {port: [] for port in expected}
    wanted = dict(expected)
    for number in range(rounds):
        asked = _one(wires, wanted, stop, number == 0)
        if isinstance(asked, Refused):
            return asked
        if wires.lost or stop():
            break
        for port, one in asked.items():
            found[port].append(one)
        if number == 0:
            # Who was silent in the first round is no longer waited for.
            wanted = {port: min(expected[port], len(one.replies)) for port, one in asked.items()}
    return {port: tuple(given) for port, given in found.items()}


def _one(
    wires: Wires, expected: Mapping[str, int], stop: Callable[[], bool], first: bool
) -> dict[str, Round] | Refused:
    wires.heard()
    now = wires.transport.now_ns()
    before = {port: len(wires.by_port[port].log) for port in expected}
    taken = wires.hand({port: [Due(now, REQUEST)] for port in expected})
    if isinstance(taken, Refused):
        return taken
    asked = {port: _Port(now) for port in expected}
    end, latest = now + TIMEOUT_NS, now + TIMEOUT_NS + (LATE_NS if first else 0)
    while not wires.lost and not stop():
        wires.wait(end if wires.transport.now_ns() < end else latest)
        _take(wires, asked, before)
        now = wires.transport.now_ns()
        lacking = any(len(asked[port].replies) < count for port, count in expected.items())
        quiet = all(now - max(one.last_ns, one.sent_ns) > QUIET_NS for one in asked.values())
        if now >= latest or (not lacking and (quiet or now >= end)):
            break
    return {port: one.round() for port, one in asked.items()}


def _take(wires: Wires, asked: Mapping[str, _Port], before: Mapping[str, int]) -> None:
    """Set down when each request left, and sort what has come."""
    for port, one in asked.items():
        left = wires.by_port[port].log[before[port] :]
        one.sent_ns = left[0].sent_ns if left else one.sent_ns
    for port, heard in wires.heard().items():
        if port in asked:
            asked[port].take(heard)
