"""Ports inside one process, for machines with no MIDI and for tests: the clock jumps to what is next."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence

from switchmatrix.live.queue import Queue
from switchmatrix.live.records import Due, Heard, Lost, NoPorts, Ports, Refused, Sent, Stopped
from switchmatrix.live.sender import refused

API = "loop"


def at_once(_moment: int) -> None:
    """The pace of tests: no time passes between two moments."""


class LoopOutput:
    """An output; what it sends reaches every input of its name on the other side at once."""

    def __init__(self, loop: Loop, name: str, virtual: bool) -> None:
        self.name, self.virtual = name, virtual
        self.beats, self.missed = True, 0
        self.lost: Lost | None = None
        self.certain = 0
        self._loop = loop
        self._queue = Queue()
        self._numbers, self._batches = itertools.count(1), itertools.count(1)
        self._news: list[Sent] = []

    def hand(
        self, messages: Sequence[Due], *, ahead: bool = False, knows: int | None = None
    ) -> Refused | None:
        """Have a batch sent, each message at its moment."""
        if self.lost is not None:
            return Refused(self.name, self.lost.reason)
        refusal = refused(self.name, API, messages)
        if refusal is None:
            numbered = [(next(self._numbers), one.moment_ns, one.data) for one in messages]
            self._queue.hand(next(self._batches), numbered, ahead, knows)
        return refusal

    def stop(self) -> Stopped | Lost:
        """Send nothing more of what was handed."""
        return self.lost or Stopped(self._queue.sent, self._queue.stop())

    def waiting(self) -> int:
        """How many messages are not yet sent."""
        return len(self._queue.waiting())

    def news(self) -> tuple[Sent, ...]:
        """What was sent since this was last asked."""
        news, self._news = tuple(self._news), []
        return news

    def next_ns(self) -> int | None:
        """The moment of the next message."""
        batch = self._queue.next()
        return None if batch is None else batch.due()

    def send(self, moment: int) -> Heard:
        """Send the next message."""
        batch = self._queue.next()
        assert batch is not None
        sent = self._queue.went(batch, moment)
        self._news.append(sent)
        self.certain = self._queue.sent
        return Heard(moment, sent.data)

    def has_news(self) -> bool:
        """Whether anything was sent since this was last asked."""
        return bool(self._news)

    def lose(self, reason: str) -> None:
        """The port is gone."""
        self._queue.stop()
        self.lost = self.lost or Lost(self.name, reason, self.certain, self.certain)

    def close(self) -> None:
        """Close the port; what was not sent never is."""
        self._queue.stop()
        self._loop.forget(self)


class LoopInput:
    """An input."""

    def __init__(self, loop: Loop, name: str, virtual: bool) -> None:
        self.name, self.virtual = name, virtual
        self.beats, self.missed = True, 0
        self.lost: Lost | None = None
        self._loop = loop
        self._news: list[Heard] = []

    def news(self) -> tuple[Heard, ...]:
        """What came since this was last asked."""
        news, self._news = tuple(self._news), []
        return news

    def has_news(self) -> bool:
        """Whether anything came since this was last asked."""
        return bool(self._news)

    def hear(self, heard: Heard) -> None:
        """Take what comes."""
        self._news.append(heard)

    def lose(self, reason: str) -> None:
        """The port is gone."""
        self.lost = self.lost or Lost(self.name, reason, 0, 0)

    def close(self) -> None:
        """Close the port."""
        self._loop.forget(self)


class Loop:
    """Named ports with two sides, the program's and the virtual one of a stand-in rig.

    `residents` run after each moment at which something was sent, and may send in turn: a stand-in rig
    is one. `pace` is given each moment before the clock jumps to it; one that sleeps makes it real time.
    """

    def __init__(self, start_ns: int = 0, pace: Callable[[int], None] = at_once) -> None:
        self.residents: list[Callable[[], None]] = []
        self._now, self._pace = start_ns, pace
        self._outputs: list[LoopOutput] = []
        self._inputs: list[LoopInput] = []

    def now_ns(self) -> int:
        """The moment that the clock has jumped to."""
        return self._now

    def ports(self) -> Ports | NoPorts:
        """What the virtual side offers."""
        ins = tuple(port.name for port in self._outputs if port.virtual)
        return Ports(API, ins, tuple(port.name for port in self._inputs if port.virtual))

    def open_output(self, name: str, *, virtual: bool = False, share: bool = False) -> LoopOutput | Refused:
        """Open an output to a virtual input of that name, or make a virtual output."""
        there = any(port.virtual and port.name == name for port in self._inputs)
        if not virtual and not there:
            return Refused(name, "the machine has no such output")
        taken = any(not port.virtual and port.name == name for port in self._outputs)
        if not virtual and taken and not share:
            return Refused(name, "it is open already")
        port = LoopOutput(self, name, virtual)
        self._outputs.append(port)
        return port

    def open_input(self, name: str, *, virtual: bool = False) -> LoopInput | Refused:
        """Open an input from a virtual output of that name, or make a virtual input."""
        if not virtual and not any(port.virtual and port.name == name for port in self._outputs):
            return Refused(name, "the machine has no such input")
        port = LoopInput(self, name, virtual)
        self._inputs.append(port)
        return port

    def forget(self, port: LoopOutput | LoopInput) -> None:
        """A port was closed."""
        self._outputs = [one for one in self._outputs if one is not port]
        self._inputs = [one for one in self._inputs if one is not port]

    def wait(self, until_ns: int) -> None:
        """Jump from message to message until then, or until a port of the program's side has news."""
        while not self._news():
            moments = [moment for port in self._outputs if (moment := port.next_ns()) is not None]
            moment = max(self._now, min([until_ns, *moments]))
            self._pace(moment)
            self._now = moment
            if not self._deliver(moment):
                return

    def _deliver(self, moment: int) -> bool:
        """Send all that is due by now, then let the residents act; whether anything was sent."""
        sent = False
        for port in self._outputs:
            while (due := port.next_ns()) is not None and due <= moment:
                heard = port.send(moment)
                sent = True
                for input in self._inputs:
                    if input.name == port.name and input.virtual != port.virtual:
                        input.hear(heard)
        if sent:
            for resident in self.residents:
                resident()
        return sent

    def _news(self) -> bool:
        return any(port.has_news() for port in self._all() if not port.virtual)

    def _all(self) -> list[LoopOutput | LoopInput]:
        return [*self._outputs, *self._inputs]

    def cut(self, reason: str = "the MIDI server no longer answers") -> None:
        """Lose every open port, as when a server dies."""
        for port in self._all():
            port.lose(reason)

    def close(self) -> None:
        """Close every port of the program's side."""
        for port in self._all():
            if not port.virtual:
                port.close()
