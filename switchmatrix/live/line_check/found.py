"""What a line check is to look at, what it has found so far, and what broke it off."""

from __future__ import annotations

from dataclasses import dataclass, field

from switchmatrix.live.line_check.chain import chains
from switchmatrix.live.line_check.records import Result, Verdict
from switchmatrix.live.sending import Delivery
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.state import State

NOT_REACHED = "the check ended before it came to this"


class BrokenOffError(Exception):
    """Something was not sent as it should be, in the change of `delivery` if it was one.

    `faulty` where something went wrong, not where a person wished it to end.
    """

    def __init__(self, delivery: Delivery | None, said: str, *, faulty: bool) -> None:
        super().__init__(said)
        self.delivery, self.faulty = delivery, faulty


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be checked: devices by name, those left out, and where the rig goes in the end."""

    devices: tuple[str, ...]
    absent: frozenset[str]
    silence: State | None
    home: State
    then: tuple[str, State]


@dataclass(slots=True, eq=False)
class Found:
    """What the check has found so far.

    `asked` is whether all who can answer were asked; `stands` are the changes that the rig has been
    through; `broken` is what ended it; `faults` what broke it off before and was gone on from.
    """

    results: dict[str, Result] = field(default_factory=dict)
    strangers: list[str] = field(default_factory=list)
    asked: bool = False
    broken: BrokenOffError | None = None
    faults: list[str] = field(default_factory=list)
    stands: tuple[str, ...] = ()

    def left(self, wanted: Wanted) -> list[str]:
        """The devices that are yet to be checked."""
        return [name for name in wanted.devices if name not in self.results]

    def report(self, rig: Rig, wanted: Wanted) -> tuple[tuple[Result, ...], tuple[str, ...]]:
        """A result for every device of the rig, and the findings that are several devices'."""
        results = tuple(self._of(device, wanted) for device in rig.devices)
        return results, chains(rig, results)

    def _of(self, device: Device, wanted: Wanted) -> Result:
        if device.name not in wanted.devices:
            return Result(device.name, device.port, Verdict.LEFT_OUT, "as asked")
        not_yet = Result(device.name, device.port, Verdict.NOT_CHECKED, NOT_REACHED)
        return self.results.get(device.name, not_yet)
