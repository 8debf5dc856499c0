"""The shortest change time that any order of a transition's messages has, by trying them all."""

from __future__ import annotations

from tests.compile.cases import Case
from tests.compile.rules import DIN_BYTE_US, waits


def optimum_us(case: Case) -> int:
    """The least change time, in microseconds: every order that the waits allow, each message at once.

    For each port's order, sending each message as early as it may go is the best that can be done.
    """
    return _Search(case).least() if case.steps else 0


class _Search:
    """All orders, depth first, leaving what cannot be better than the best so far."""

    def __init__(self, case: Case) -> None:
        self.steps = case.steps
        usb = {port.name for port in case.rig.ports if port.usb}
        self.wire = [0 if s.port in usb else DIN_BYTE_US * len(s.data) for s in case.steps]
        self.after: list[list[tuple[int, int]]] = [[] for _ in case.steps]
        for a, b, lag, _ in waits(case.rig, case.steps):
            self.after[b].append((a, lag))
        self.best = sum(self.wire) + sum(s.settle_us + s.gap_us for s in case.steps)
        self.best += sum(m.before_us + m.after_us for m in case.rig.mutes)
        self.ended: dict[int, int] = {}

    def least(self) -> int:
        """The best of all orders."""
        self._then({}, 0)
        return self.best

    def _then(self, ports: dict[str, int], landed: int) -> None:
        if landed >= self.best and len(self.ended) < len(self.steps):
            return
        if len(self.ended) == len(self.steps):
            self.best = min(self.best, landed)
        for n, step in enumerate(self.steps):
            if n in self.ended or not all(a in self.ended for a, _ in self.after[n]) or self._shut(n):
                continue
            ready = max((self.ended[a] + lag for a, lag in self.after[n]), default=0)
            end = max(ready, ports.get(step.port, 0)) + self.wire[n]
            self.ended[n] = end
            self._then(ports | {step.port: end}, max(landed, end + step.settle_us))
            del self.ended[n]

    def _shut(self, n: int) -> bool:
        """Whether a unit is under way on the message's channel that it is not part of."""
        step = self.steps[n]
        return any(
            other.part < other.parts
            and (other.port, other.channel) == (step.port, step.channel)
            and m + 1 not in self.ended
            and m + 1 != n
            for m, other in enumerate(self.steps)
            if m in self.ended
        )
