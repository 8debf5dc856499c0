"""One model of device."""

from __future__ import annotations

from dataclasses import dataclass, field

from switchmatrix.definition.controls import Control
from switchmatrix.definition.programs import Programs
from switchmatrix.source import Span


@dataclass(frozen=True, slots=True)
class Definition:
    """What one model of device understands; it has no channel, and rigs share it.

    `broken` names the controls (and `patch`, for the programs) whose lines could not be read, so that
    nobody calls them unknown.
    """

    id: str
    title: str
    programs: Programs | None
    controls: tuple[Control, ...]
    hazard: str | None
    broken: frozenset[str]
    span: Span = field(compare=False)

    def control(self, name: str) -> Control | None:
        """The control of that name, if there is one."""
        return next((c for c in self.controls if c.name == name), None)

    @property
    def main(self) -> Control | None:
        """The switch that `DEVICE: on` means."""
        return next((c for c in self.controls if c.main), None)

    @property
    def loops(self) -> tuple[Control, ...]:
        """The switches that `loops: [1, 3]` sets, in loop order."""
        return tuple(c for c in self.controls if c.loop is not None)
