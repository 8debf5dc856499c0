"""One step under way: the state so far, and what is to be done."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from switchmatrix.compile.known import Known
from switchmatrix.live.stepping import gate
from switchmatrix.live.stepping.actions import Action, Ask, Log, Say
from switchmatrix.live.stepping.gate import Question
from switchmatrix.live.stepping.state import RigNow, Stepping
from switchmatrix.live.stepping.stops import Key


class Turn:
    """A step at a moment, in microseconds of a clock that never goes back."""

    __slots__ = ("actions", "at_us", "state")

    def __init__(self, state: Stepping, at_us: int) -> None:
        self.state, self.at_us = state, at_us
        self.actions: list[Action] = []

    def say(self, text: str) -> None:
        """Tell a person."""
        self.actions.append(Say(text))

    def log(self, event: str, **fields: object) -> None:
        """A line for the log."""
        self.actions.append(Log({"event": event, **fields}))

    def forget_home(self) -> None:
        """Something else was done: the question about going home is void."""
        if self.state.asking is Question.HOME:
            self.state = replace(self.state, asking=None)

    def put(self, now: RigNow) -> None:
        """A rig has changed."""
        self.state = self.state.with_rig(now)

    def ask_at_gate(self, again: bool = False) -> None:
        """Ask for the rigs that wait at the gate; `again` where more is to be said than before."""
        held = self.state.held_back()
        if not held or (self.state.asking is Question.MUTED and not again):
            return
        ready = [(self.state.prepared(id), self.state.rig(id).gate) for id in held]
        words = gate.asked((one.rig, why, one.has_silence) for one, why in ready)
        self.state = replace(self.state, asking=Question.MUTED)
        self.actions.append(Ask(Question.MUTED, words))

    def tell_held_back(self) -> None:
        """Say of the rigs at the gate that what was just asked for does not reach them."""
        for id in self.state.held_back():
            title = self.state.prepared(id).rig.title
            self.say(f"{title} is held back: it is sent nothing until outputs are muted and people told")


def named(key: Key) -> dict[str, object]:
    """A stop as the log has it."""
    return {"item": key.item, "song": key.song, "scene": key.scene, "nth": key.nth}


def touched(now: RigNow, touch: Callable[[Known], Known]) -> RigNow:
    """A rig of which something else is known, now and whatever becomes of what is pending."""
    pending = tuple(replace(p, before=touch(p.before), after=touch(p.after)) for p in now.pending)
    return replace(now, known=touch(now.known), pending=pending)
