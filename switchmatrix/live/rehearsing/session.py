"""A rehearsal under way: what happens goes to the stepping core, and what it wants done is done."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from switchmatrix.live.gate import ShutError
from switchmatrix.live.records import Heard
from switchmatrix.live.rehearsing.beating import Beating
from switchmatrix.live.rehearsing.ears import Ears
from switchmatrix.live.rehearsing.following import Following, kind_of
from switchmatrix.live.rehearsing.journal import Journal
from switchmatrix.live.rehearsing.lines import RigLines
from switchmatrix.live.stepping import core
from switchmatrix.live.stepping.actions import (
    Action,
    Ask,
    DropQueue,
    KeepRemark,
    Leave,
    Log,
    Say,
    Send,
)
from switchmatrix.live.stepping.feet import Pressed
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.inputs import (
    Done,
    Input,
    Located,
    OutputsMuted,
    PortLost,
    Reached,
    SendFailed,
    Silence,
)
from switchmatrix.live.stepping.log import Resumed
from switchmatrix.live.stepping.mtc import Followed
from switchmatrix.live.stepping.prepared import Prepared
from switchmatrix.live.stepping.sending import silenced
from switchmatrix.live.stepping.state import Options, Stepping
from switchmatrix.live.stepping.stops import Key
from switchmatrix.live.whole import messages
from switchmatrix.simulate.stream import heard as events_in

LEAD_US = 1_500
"""From a step to its first message: by then every port's process has mostly been told."""

MOST_SAID = 40
"""Sentences kept for a person to read."""


@dataclass(frozen=True, slots=True)
class LastSend:
    """The last send of a rig: how many messages, how long they take, when the first was due.

    `done` once all are surely through, `broken` where a fault came first.
    """

    label: str
    send: int
    messages: int
    start_ns: int
    change_us: int
    whole: bool
    done: bool = False
    broken: bool = False


@dataclass(frozen=True, slots=True)
class Start:
    """Where and how a rehearsal begins."""

    options: Options = field(default_factory=Options)
    at: Key | None = None
    driven: tuple[str, ...] | None = None
    resumed: Resumed | None = None


class Rehearsal:
    """What a screen shows and tells keys to. It sends to `lines`, a rig each, and is told the time by
    `clock`, in nanoseconds; `poll` is to be called often, at the latest at `due_ns`.

    `came_from` is where we stood before `at`; `said` what a person was told, the newest last; `asked` what
    a person is asked; `hears` what was heard last on a return.
    """

    def __init__(
        self,
        show: Prepared,
        lines: Mapping[str, RigLines],
        journal: Journal,
        clock: Callable[[], int],
        start: Start,
        following: Following | None = None,
    ) -> None:
        self.lines, self.journal, self.following = dict(lines), journal, following
        self._clock = clock
        self.said: deque[tuple[int, str]] = deque(maxlen=MOST_SAID)
        self.asked: str | None = None
        self.hears: str | None = None
        self.last: dict[str, LastSend] = {}
        self.came_from: Key | None = None
        self.left = False
        self.steps = 0
        self._cold = True
        self._told_of_code = False
        self._ears = {id: Ears(show.rigs[id].rig) for id in self.lines}
        self._beating = {id: Beating() for id in self.lines}
        self._pressed: dict[Pressed, tuple[str, int]] = {}
        self.state, actions = core.start(
            show,
            replace(start.options, said=False),
            at=start.at,
            driven=start.driven,
            resumed=start.resumed,
            at_us=self._now_us(),
        )
        self._act(actions)
        for id, ports in self.lines.items():
            self._look(id, ports)
        # What was said in advance counts once it is known which ports are there.
        self.state = replace(self.state, options=start.options)
        if start.options.said:
            self.do(OutputsMuted())

    def _now_us(self) -> int:
        return self._clock() // 1000 + LEAD_US

    def do(self, input: Input) -> None:
        """Something has happened."""
        if isinstance(input, Silence):
            # What leaves until its port has stopped must have begun by the moment that is planned from.
            for id in silenced(self.state):
                if self.state.rig(id).pending:
                    self.lines[id].drop()
        before = self.state
        self.state, actions = core.step(before, input, self._now_us())
        self.steps += 1
        self._cold = True
        if self.state.at != before.at:
            self.came_from = before.at
        if self.state.show is not before.show:
            self._taken_over(before, self.state)
        if self.state.asking is None:
            self.asked = None
        self._act(actions)

    def _taken_over(self, before: Stepping, now: Stepping) -> None:
        """Another show runs from now on."""
        self.came_from = self.came_from if self.came_from in now.show.by_key else None
        for id, ready in now.show.rigs.items():
            self._ears[id].taken_over(ready.rig)
            if ready.rig.ports != before.prepared(id).rig.ports:
                self.say(f"{ready.rig.title}: its ports have changed in its file: begin again to use them")

    def _act(self, actions: Sequence[Action]) -> None:
        for action in actions:
            match action:
                case Send():
                    self._send(action)
                case DropQueue(rig):
                    self.lines[rig].drop()
                    self._dropped(rig)
                case Ask(_, words):
                    self.asked = words
                case Say(text):
                    self.say(text)
                case Log(entry):
                    self.journal.write(entry)
                case KeepRemark(entry):
                    self.journal.keep(entry)
                case Leave():
                    self.left = True

    def _dropped(self, rig: str) -> None:
        """What was handed over and has not gone out never will."""
        self._beating[rig].stop(dropped=True)
        self._ears[rig].dropped(self._clock() // 1000)

    def say(self, text: str) -> None:
        """Tell a person."""
        self.said.append((self._clock(), text))

    def _send(self, send: Send) -> None:
        now = self.state.rig(send.rig)
        if now.gate is not Gate.OPEN:
            raise ShutError(f"{send.rig}: a send while nobody has said that outputs are muted")
        self.lines[send.rig].send(send)
        for message in send.messages:
            self._ears[send.rig].sending(
                message.step.port, message.starts_us, message.step.data, self._clock() // 1000
            )
        start = send.messages[0].starts_us
        change = max(message.lands_us for message in send.messages) - start
        self.last[send.rig] = LastSend(
            send.label, send.send, len(send.messages), start * 1000, change, send.whole
        )

    def poll(self) -> bool:
        """Let time go on until now; whether anything happened that a person may want to see."""
        now_ns = self._clock()
        seen = self.steps, len(self.said), self.hears
        for id, lines in self.lines.items():
            self._look(id, lines)
            for port, came in lines.heard().items():
                for one in came:
                    self._hear(id, port, one)
            self._clocks(id, now_ns)
        if self.following is not None:
            self._follow(self.following.pass_by(now_ns // 1000))
        return seen != (self.steps, len(self.said), self.hears)

    def _look(self, id: str, lines: RigLines) -> None:
        """What has become of a rig's ports."""
        for report in lines.poll(self._clock()):
            last = self.last.get(id)
            if isinstance(report, PortLost | SendFailed):
                self._dropped(id)
                if last is not None and not last.done:
                    self.last[id] = replace(last, broken=True)
            elif isinstance(report, Done) and last is not None and report.send == last.send:
                self.last[id] = replace(last, done=True)
            self.do(report)

    def _clocks(self, id: str, now_ns: int) -> None:
        now, beating, rig = self.state.rig(id), self._beating[id], self.state.prepared(id).rig
        if now.gate is not Gate.OPEN or id not in self.state.driven:
            if beating.stop(dropped=not now.pending) and not now.pending:
                self.lines[id].drop()
            return
        beating.follow(self.state.show, now.inside, now_ns + LEAD_US * 1000)
        pending = (message for one in now.pending for message in one.messages)
        for port, clocks in beating.due(rig, now_ns, pending, now.absent(rig)).items():
            self.lines[id].clocks(port, clocks)

    def _hear(self, id: str, port: str, heard: Heard) -> None:
        at_us = heard.moment_ns // 1000
        for data in messages(heard.data):
            events = events_in(data)
            for event in events:
                if self.following is not None:
                    self._follow(self.following.hear((id, port), event, at_us))
                elif kind_of(event) is not None and not self._told_of_code:
                    self._told_of_code = True
                    kind = kind_of(event)
                    self.say(f"{port} hears {kind.value if kind else ''}, which is not followed")
            said, pressed, doubts = self._ears[id].hear(port, data, events, at_us)
            self.hears = said or self.hears
            for doubt in doubts:
                self.do(doubt)
            if pressed is not None and not self._twice(pressed, id, at_us):
                self.do(pressed)

    def _twice(self, pressed: Pressed, id: str, at_us: int) -> bool:
        """Whether one press came by the ports of two rigs, as behind a box that passes it on to both."""
        before, feet = self._pressed.get(pressed), self.state.prepared(id).rig.feet
        rest = feet.rest_us if feet is not None else 0
        if before is not None and before[0] != id and at_us - before[1] < rest:
            return True
        self._pressed[pressed] = (id, at_us)
        return False

    def _follow(self, found: Sequence[Followed]) -> None:
        for one in found:
            if isinstance(one, Reached | Located):
                self.do(one)
            else:
                self.say(one.text)

    def idle(self) -> None:
        """Work out ahead what the next keys are likely to ask for."""
        if self.following is not None:
            self.following.prepare(self.state)
        if self._cold and not self.state.left:
            self._cold = False
            core.warm(self.state)

    def due_ns(self, at_most_ns: int) -> int:
        """When `poll` is to be called next: running time comes to something, or `at_most_ns`."""
        due = self.following.due_us() if self.following is not None else None
        return at_most_ns if due is None else min(at_most_ns, max(due * 1000, self._clock()))

    def close(self) -> None:
        """Close the ports and the log."""
        try:
            for lines in self.lines.values():
                lines.close()
        finally:
            self.journal.close()
