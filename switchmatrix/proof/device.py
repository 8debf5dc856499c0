"""Every ordered pair of one device's states, and from unknown: do the bytes bring it there?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from switchmatrix.compile.known import DeviceKnown, Reach
from switchmatrix.proof.alike import Origins
from switchmatrix.proof.bench import Bench
from switchmatrix.proof.goal import Goal, Labelled, Origin, Wrong, goals, origins, wrong
from switchmatrix.proof.muted import Muting, Unheld
from switchmatrix.proof.parts import Part, parts_of, whole
from switchmatrix.proof.report import Counterexample, DeviceProof, Failed

Data = tuple[bytes, ...]
Way = Callable[[DeviceKnown, Goal], tuple[Data, Unheld | None]]
"""The messages from what is known to a goal, and what should be held meanwhile and is not."""


def prove_device(
    bench: Bench, states: Labelled, reached: Reach, muting: Muting, *, every_pair: bool = False
) -> DeviceProof:
    """Part by part; all of the device at once where a message of one part touches something of another.

    `every_pair` proves the whole device and each pair for itself: slow, and the same in the end.
    """
    parts = (whole(bench.device),) if every_pair else parts_of(bench.device, muting.together)
    shown = [_Proof(bench, part, states, reached, muting).run(every_pair) for part in parts]
    if len(parts) > 1 and _mixed(bench, parts, shown):
        shown = [_Proof(bench, whole(bench.device), states, reached, muting).run(every_pair)]
    failed = tuple(counter for one in shown for counter in one.failed)
    return DeviceProof((bench.device.name,), False, len(states), sum(one.pairs for one in shown), failed)


@dataclass(frozen=True, slots=True)
class _Shown:
    """What came of a part; `messages` are all that it was sent."""

    pairs: int
    messages: frozenset[bytes]
    failed: tuple[Counterexample, ...]


def _mixed(bench: Bench, parts: tuple[Part, ...], shown: list[_Shown]) -> bool:
    """Whether the messages of one part touch something that another one has or touches."""
    controls = bench.device.definition.controls
    taken: set[str] = set()
    for part, one in zip(parts, shown, strict=True):
        touched = {label for message in one.messages for label in bench.touches(message)}
        if touched & {control.name for n, control in enumerate(controls) if n not in part.controls}:
            return True
        if not taken.isdisjoint(touched):
            return True
        taken |= touched
    return False


class _Proof:
    """One part of one device."""

    def __init__(self, bench: Bench, part: Part, states: Labelled, reached: Reach, muting: Muting) -> None:
        self.bench, self.device = bench, bench.device
        self.goals = goals(bench, part, states, reached)
        held = muting.within(part)
        self.ways: list[Way] = [self._plain, *(muted.sent for muted in held)]
        exact = frozenset(n for muted in held for n in muted.holds)
        self.origins = Origins(self.device, origins(self.device, part, reached, self.goals), exact)
        self.messages: set[bytes] = set()
        self.failed = Failed()

    def _plain(self, known: DeviceKnown, goal: Goal) -> tuple[Data, Unheld | None]:
        return self.bench.sent(known, goal.state), None

    def run(self, every_pair: bool) -> _Shown:
        """Every origin to every goal, on each kind of box."""
        for turn, goal in enumerate(self.goals):
            for way in self.ways:
                if every_pair:
                    for origin in self.origins.every:
                        self._alone(way, origin, goal)
                    continue
                for alike in self.origins.alike(goal):
                    if not self._together(way, alike.known, goal, self.origins.one_of(alike.members, turn)):
                        for origin in self.origins.each_of(alike.members):
                            self._alone(way, origin, goal)
        pairs = len(self.origins.every) * len(self.goals)
        return _Shown(pairs, frozenset(self.messages), self.failed.told())

    def _together(self, way: Way, known: DeviceKnown, goal: Goal, member: Origin) -> bool:
        """Whether the goal is reached from all that is alike; a member must be sent the same."""
        data, unheld = way(known, goal)
        self.messages.update(data)
        if unheld is not None or (member.known != known and way(member.known, goal)[0] != data):
            return False
        for kind, one in enumerate(self.bench.receivers):
            now = self.bench.hear(kind, self.bench.start(one, known), data)
            if any(True for _ in wrong(self.device, goal, now, one)):
                return False
        return True

    def _alone(self, way: Way, origin: Origin, goal: Goal) -> None:
        data, unheld = way(origin.known, goal)
        self.messages.update(data)
        if unheld is not None:
            self._fail(origin, goal, (unheld[0], None, None), data, unheld[1])
        for kind, one in enumerate(self.bench.receivers):
            now = self.bench.hear(kind, self.bench.start(one, origin.known), data)
            for found in wrong(self.device, goal, now, one):
                self._fail(origin, goal, found, data)

    def _fail(self, origin: Origin, goal: Goal, found: Wrong, data: Data, because: str = "") -> None:
        """The first origin is told in full, the others are counted."""
        counter = Counterexample(origin.label, goal.label, self.device.name, *found, data, because)
        self.failed.add((found[0], goal.label, because), counter)
