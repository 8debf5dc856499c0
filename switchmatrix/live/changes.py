"""Changes as they are sent live: their waits planned so that no server cuts them short."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from switchmatrix.compile.known import Known, all_in_doubt
from switchmatrix.compile.schedule import Timed, schedule
from switchmatrix.compile.step import Role, Step
from switchmatrix.live.never import guard
from switchmatrix.live.spacing import spaced, spaced_rig
from switchmatrix.live.stepping.moves import Moves
from switchmatrix.model.rig import Rig
from switchmatrix.states.state import State, Trigger

SILENCE = "silence"
"""The standing scene that goes first after a fault, and before a line check."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change ready to be sent: its messages in the order sent, and what is then known of the rig.

    `by_hand` is what no message can bring about, `unsure` what may not come about.
    """

    title: str
    messages: tuple[Timed, ...]
    before: Known
    after: Known
    by_hand: tuple[str, ...]
    unsure: tuple[str, ...]

    @property
    def us(self) -> int:
        """From the first byte until the last device has settled."""
        return max((m.lands_us for m in self.messages), default=0)


class Planner:
    """Plans the changes of one rig; every wait is `extra_us` longer than its device asks."""

    def __init__(self, rig: Rig, extra_us: int) -> None:
        self.rig = rig
        self._extra, self._spaced = extra_us, spaced_rig(rig, extra_us)
        self._moves = Moves(rig)

    def change(
        self,
        known: Known,
        title: str,
        state: State,
        triggers: tuple[Trigger, ...] = (),
        absent: frozenset[str] = frozenset(),
    ) -> Change:
        """From what is known to a state; nothing is sent to `absent` devices."""
        return self._change(known, title, state, triggers, absent, at_once=False)

    def silence(self, known: Known, state: State, absent: frozenset[str] = frozenset()) -> Change:
        """The scene `silence`: what its own lines set goes before all else, and again in its place."""
        return self._change(known, SILENCE, state, (), absent, at_once=True)

    def _change(
        self,
        known: Known,
        title: str,
        state: State,
        triggers: tuple[Trigger, ...],
        absent: frozenset[str],
        at_once: bool,
    ) -> Change:
        move = self._moves.move(known, (title, state.key), state, triggers, absent)
        steps = spaced(move.steps, self._extra)
        head = tuple(self._own(steps)) if at_once else ()
        first = schedule(self._spaced, head)
        rest = schedule(self._spaced, steps, max(first.busy.ports.values(), default=0), first.busy)
        guard(self.rig, (*head, *steps))
        by_hand = tuple(one.text for one in move.by_hand)
        return Change(title, (*first.messages, *rest.messages), known, move.after, by_hand, move.unsure)

    def _own(self, steps: tuple[Step, ...]) -> Iterator[Step]:
        """What the lines of `silence` itself set; what can only be flipped would flip back."""
        for step in steps:
            device = self.rig.device(step.device)
            if step.layer == f"scene {SILENCE}" and step.role is Role.SET and device is not None:
                moved = [c for c in device.definition.controls if c.name in step.moves]
                if all(control.toggle is None and not control.resets for control in moved):
                    yield step


def after_fault(planner: Planner, silence: State | None, title: str, state: State) -> tuple[Change, ...]:
    """What is sent once a person has said so: `silence` where the rig has it, then all of the state.

    Nothing is taken for known, since what went out before is a guess.
    """
    doubt = all_in_doubt(planner.rig)
    first = () if silence is None else (planner.silence(doubt, silence),)
    return (*first, planner.change(doubt, title, state))
