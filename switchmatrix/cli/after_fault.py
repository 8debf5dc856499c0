"""After a fault: the ports opened anew, once a person says so, or unasked where the show has opted out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from time import monotonic, sleep

from switchmatrix.cli.wiring import NotThere, Wiring, confirmed
from switchmatrix.live.gate import AFTER_FAULT, CAUTIONS, QUESTION, UNASKED, Gate
from switchmatrix.live.interrupt import Asked
from switchmatrix.live.rig_ports import found_said
from switchmatrix.live.stepping.gate import MOST_UNASKED
from switchmatrix.live.wires import Wires

WAIT_S = 30.0
"""How long a show that is not asked about waits for ports that are gone."""

PAUSE_S = 1.0
"""How long it leaves them alone between two looks."""

Opened = tuple[Wiring, Wires]


@dataclass(slots=True, eq=False)
class AfterFault:
    """How a command goes on after a fault.

    `asks` where the show wants a person asked, `anybody` where one is there. `look` looks for the ports
    anew, `question` says what comes after a yes; `asked` counts the wishes to stop.
    """

    gate: Gate
    asks: bool
    anybody: bool
    look: Callable[[], Wiring | NotThere]
    share: bool
    inputs: bool
    question: str
    asked: Asked
    unasked: int = 0

    def again(self, wiring: Wiring) -> Opened | None:
        """The ports of `wiring` opened anew and the gate passed; None where it ends here."""
        self.gate.fault()
        if not self.asks and self.unasked < MOST_UNASKED:
            self.unasked += 1
            opened = self._unasked(wiring)
            if opened is not None or self.asked.times:
                return opened
        if not self.anybody:
            wiring.say("It ends here: nobody is there to be asked.")
            return None
        return self._asked(wiring)

    def _asked(self, wiring: Wiring) -> Opened | None:
        """Ask as often as it takes; `--yes` was said before the fault and does not count."""
        wiring.say(AFTER_FAULT)
        while confirmed(wiring.mark(f"{QUESTION} {self.question}")):
            opened = self._opened(wiring)
            if not isinstance(opened, NotThere):
                self.unasked = 0
                return self._passed(opened)
            if self.asked.times:
                break
            wiring.say(*opened.lines, "nothing was sent")
        return None

    def _unasked(self, wiring: Wiring) -> Opened | None:
        """Look until all is there again, for as long as a show waits that has opted out of being asked."""
        wiring.say(UNASKED, *CAUTIONS)
        end = monotonic() + WAIT_S
        lines: tuple[str, ...] = ()
        while True:
            opened = self._opened(wiring)
            if not isinstance(opened, NotThere):
                return self._passed(opened)
            if self.asked.times:
                return None
            if opened.lines != lines:
                lines = opened.lines
                wiring.say(*lines, f"waiting for it, {WAIT_S:.0f} s at most; Ctrl-C ends it")
            if monotonic() + PAUSE_S > end:
                wiring.say("nothing was sent: it did not come back")
                return None
            sleep(PAUSE_S)

    def _opened(self, wiring: Wiring) -> Opened | NotThere:
        found = self.look()
        if isinstance(found, NotThere):
            return found
        if found.is_real != wiring.is_real:
            there = "the real rig" if found.is_real else "a stand-in"
            return NotThere((f"what is there now is {there}, and was not before: end this and start again",))
        wires = found.opened(self.gate, share=self.share, inputs=self.inputs)
        if not isinstance(wires, NotThere) and self.asked.times:
            wires.close()
            return NotThere(("stopped",))
        return wires if isinstance(wires, NotThere) else (found, wires)

    def _passed(self, opened: Opened) -> Opened:
        for one in opened[0].ports:
            opened[0].say(f"{one.port.name} goes to {found_said(one.out)}")
        self.gate.say()
        return opened
