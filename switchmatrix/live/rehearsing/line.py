"""One open port of a rig: the sends handed to it, and how much of each is through."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

from switchmatrix.live.records import Due, Heard, Lost, Refused
from switchmatrix.live.stepping.inputs import Count
from switchmatrix.live.transport import Input, Output

CLOCKS = 0
"""The send that MIDI clock belongs to: nobody waits for it."""


@dataclass(frozen=True, slots=True)
class Pushed:
    """A message of a send, due at `due_ns`, left late: what was to follow it comes later by `by_ns`."""

    send: int
    due_ns: int
    by_ns: int


class Line:
    """One port; of each send it knows how many of its messages went through, until all have.

    Nothing is kept of what is through: a rehearsal may last all day.
    """

    def __init__(self, port: str, output: Output, back: Input | None) -> None:
        self.port, self.output, self.back = port, output, back
        self._handed = 0
        self._left = 0
        self._missed = output.missed
        self._waiting: dict[int, tuple[int, int]] = {}
        self._unproved: deque[tuple[int, int]] = deque()
        self._size: dict[int, int] = {}
        self._sure: dict[int, int] = {}
        self._came: list[Heard] = []
        self._late: list[Pushed] = []
        self._untold: deque[int] = deque()
        self.last_ns: int | None = None

    @property
    def lost(self) -> Lost | None:
        """How the port was lost, its return counted in."""
        return self.output.lost or (None if self.back is None else self.back.lost)

    @property
    def dropped(self) -> int:
        """Beats that the server has dropped since things were calm, and with them maybe messages."""
        return self.output.missed - self._missed

    def calm(self) -> None:
        """What the server has dropped until now is told, or was nobody's."""
        self._missed = self.output.missed

    def hand(self, send: int, messages: Sequence[Due], *, ahead: bool = False) -> Refused | None:
        """Have a send's messages sent, in order; all of them or, where it is refused, none."""
        knows = self._untold[0] - 1 if self._untold else self._left
        refused = self.output.hand(messages, ahead=ahead, knows=knows)
        if refused is not None:
            return refused
        for message in messages:
            self._handed += 1
            self._waiting[self._handed] = (send, message.moment_ns)
        if send != CLOCKS:
            self._size[send] = self._size.get(send, 0) + len(messages)
        return None

    def pump(self) -> bool:
        """Take note of what left and what came; whether anything did."""
        news = self.output.news()
        for sent in news:
            send, _ = self._waiting.pop(sent.number)
            self._left += 1
            self._unproved.append((self._left, send))
            if sent.pushed_ns:
                self._late.append(Pushed(send, sent.due_ns, sent.pushed_ns))
                self._untold.append(self._left)
            self.last_ns = sent.sent_ns if send != CLOCKS else self.last_ns
        proved = self._proved()
        while self._unproved and self._unproved[0][0] <= proved:
            _, send = self._unproved.popleft()
            if send in self._size:
                self._sure[send] = self._sure.get(send, 0) + 1
        came = () if self.back is None else self.back.news()
        self._came += came
        return bool(news or came)

    def _proved(self) -> int:
        """How many of the messages that left are surely through."""
        if self.dropped:
            # A later beat that is back proves nothing of what went with the beats that are not.
            return 0
        if self.output.lost is not None:
            # Beats that come back later say nothing of a port that was gone by then.
            return self.output.lost.certain
        return self.output.certain if self.output.beats else self._left

    def late(self) -> tuple[Pushed, ...]:
        """What has left late since this was last asked: it is to be told to whoever plans, then `told`."""
        late, self._late = tuple(self._late), []
        return late

    def told(self) -> None:
        """Whoever plans knows of the first that is not told yet: what is handed from now on allows for it."""
        if self._untold:
            self._untold.popleft()

    def heard(self) -> tuple[Heard, ...]:
        """What came in since this was last asked."""
        came, self._came = tuple(self._came), []
        return came

    def busy_with(self, send: int) -> bool:
        """Whether messages of a send are not yet surely through."""
        return send in self._size and self._sure.get(send, 0) < self._size[send]

    def forget(self, send: int) -> None:
        """A send is through everywhere."""
        self._size.pop(send, None)
        self._sure.pop(send, None)

    def stop(self) -> None:
        """Send nothing more of what was handed, from the next message boundary on."""
        self.output.stop()
        self.pump()

    def counts(self) -> tuple[Count, ...]:
        """Of each send that is not through: how many messages surely went out, how many may have."""
        may: dict[int, int] = {}
        for _, send in self._unproved:
            may[send] = may.get(send, 0) + 1
        lost = self.output.lost
        if lost is not None:
            in_time = sorted(self._waiting, key=lambda number: (self._waiting[number][1], number))
            for number in in_time[: max(0, lost.unknown - self._left)]:
                send = self._waiting[number][0]
                may[send] = may.get(send, 0) + 1
        return tuple(
            Count(send, self.port, self._sure.get(send, 0), self._sure.get(send, 0) + may.get(send, 0))
            for send in self._size
        )

    def drop(self) -> None:
        """Forget what was stopped."""
        self._waiting.clear()
        self._size.clear()
        self._sure.clear()

    def given_up(self) -> tuple[Output | Input, ...]:
        """Its ports, to be closed by whoever has the time.

        One that was not lost counts as lost too: closing it then asks nothing of a server that the lines
        that live are asking from another thread.
        """
        ports: tuple[Output | Input, ...] = (self.output,) if self.back is None else (self.output, self.back)
        reason = self.lost.reason if self.lost is not None else "it was given up"
        for port in ports:
            port.lost = port.lost or Lost(port.name, reason, 0, 0)
            port.news()
        return ports
