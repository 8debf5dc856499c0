"""The screen of a rehearsal: keys to inputs, the bands drawn. Everything it shows is worked out elsewhere."""

from __future__ import annotations

import asyncio
import gc
import os
import signal
from collections.abc import Awaitable, Callable
from dataclasses import replace
from datetime import datetime, timedelta
from enum import Enum
from typing import ClassVar

from rich.text import Text
from textual.app import App, ComposeResult
from textual.events import Event, Resize
from textual.events import Key as KeyPressed
from textual.widgets import Input as Field
from textual.widgets import Static

from switchmatrix.live.records import MS
from switchmatrix.live.rehearsing.session import Rehearsal
from switchmatrix.live.stepping import inputs as i
from switchmatrix.live.stepping.gate import Question
from switchmatrix.screens.rehearse import pages
from switchmatrix.screens.rehearse.asking import Choice, Typing, choices
from switchmatrix.screens.rehearse.bands import Row, foot, rows, shortened
from switchmatrix.screens.rehearse.view import view

POLL_NS = 5 * MS
"""Between two looks at the ports at most."""

DRAW_NS = 50 * MS
"""Between two drawings that nobody asked for by a key."""

TERMINAL_NS = 500 * MS
"""Between two looks whether the terminal is still there: one that goes may say nothing."""

_STEPS: dict[str, i.Input] = {
    "n": i.Next(),
    "pagedown": i.Next(),
    "b": i.Back(),
    "pageup": i.Back(),
    "f": i.Again(),
    "s": i.Silence(),
    "h": i.Home(),
    "t": i.Fire(),
    "p": i.Peek(1),
    "P": i.Peek(-1),
    "o": i.SetByHand(),
    "q": i.Quit(),
    "ctrl+c": i.Quit(),
    "ctrl+q": i.Quit(),
}
_SCROLLS = {"up": -1, "down": 1, "pageup": -1, "pagedown": 1}
"""On a page these look further; nothing is sent by them there."""

_TYPED = {"/": Typing.FIND, "r": Typing.REMARK, "x": Typing.DEVICE}
_LEAVES = {
    Typing.FIND: "Escape leaves, arrow keys choose, Enter goes to the one in reverse",
    Typing.REMARK: "Enter keeps it",
    Typing.DEVICE: "Escape leaves, arrow keys choose, Enter takes the one in reverse",
}


def is_there() -> bool:
    """Whether the terminal that keys come from is still there."""
    return os.isatty(0)


class Page(Enum):
    """What is on the screen."""

    BANDS = "bands"
    DEVICES = "devices"
    SETLIST = "setlist"


class RehearsalApp(App[None]):
    """The screen. `mark` stands on top where the rig is not the real one; `changes` is asked now and then
    for news of the show's files, and `day` for the time of day at the start.
    """

    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = ""
    BINDINGS: ClassVar = []
    CSS = """
    Screen { background: ansi_default; color: ansi_default; layout: vertical; overflow: hidden; }
    #body { width: 100%; height: 1fr; background: ansi_default; color: ansi_default; }
    #field { width: 100%; height: 1; border: none; padding: 0; background: ansi_default;
             color: ansi_default; display: none; }
    #field:focus { border: none; background-tint: transparent 0%; }
    #field > .input--cursor { text-style: reverse; background: ansi_default; color: ansi_default; }
    """

    def __init__(
        self,
        rehearsal: Rehearsal,
        clock: Callable[[], int],
        mark: str | None = None,
        changes: Callable[[], Awaitable[i.Input | str | None]] | None = None,
        day: Callable[[], datetime] = datetime.now,
        poll_ns: int = POLL_NS,
    ) -> None:
        super().__init__(ansi_color=True)
        self.rehearsal, self.mark = rehearsal, mark
        self._now_ns, self._changes, self._poll_ns = clock, changes, poll_ns
        self._day = day(), clock()
        self.page = Page.BANDS
        self.typing: Typing | None = None
        self._chosen = 0
        self._top = 0
        self._drawn_ns = 0
        self._stale = True

    def compose(self) -> ComposeResult:
        """All text, and a line to type on."""
        yield Static(id="body", markup=False)
        yield Field(id="field", compact=True)

    async def on_mount(self) -> None:
        """The show is prepared: from here on nothing of it is worth looking through for garbage."""
        gc.collect()
        gc.freeze()
        loop = asyncio.get_running_loop()
        for number in (signal.SIGTERM, signal.SIGHUP):
            # A terminal that is closed, or a system that ends, leaves as `q` does.
            loop.add_signal_handler(number, self.do, i.Quit())
        self.run_worker(self._work(), name="ports", exit_on_error=True)
        if self._changes is not None:
            self.run_worker(self._watch(self._changes), name="files", exit_on_error=True)

    async def _work(self) -> None:
        """Look at the ports, and draw what is new, for as long as the rehearsal goes on."""
        look_ns = 0
        while not self.rehearsal.left:
            if self._now_ns() >= look_ns:
                look_ns = self._now_ns() + TERMINAL_NS
                if not self.is_headless and not is_there():
                    self.do(i.Quit())
            self._stale |= self.rehearsal.poll()
            now = self._now_ns()
            if self._stale and now - self._drawn_ns >= DRAW_NS:
                self.draw()
            await asyncio.sleep(0)
            self.rehearsal.idle()
            due = self.rehearsal.due_ns(self._now_ns() + self._poll_ns)
            await asyncio.sleep(max(0, due - self._now_ns()) / 1e9)
        self.exit()

    async def _watch(self, changes: Callable[[], Awaitable[i.Input | str | None]]) -> None:
        while not self.rehearsal.left:
            found = await changes()
            if isinstance(found, str):
                self.rehearsal.say(found)
            elif found is not None:
                self.do(found)

    def do(self, input: i.Input) -> None:
        """Something happens, and is seen."""
        self.rehearsal.do(input)
        self._stale = True
        if self.rehearsal.left:
            self.exit()
            return
        # The messages are with the port's process before any of this is drawn.
        self.call_later(self.draw)

    async def on_event(self, event: Event) -> None:
        """A key is ours at once, unless something is typed: on its way through the widgets it loses time."""
        if isinstance(event, KeyPressed) and self.typing is None and self.is_running:
            self._key(event)
        else:
            await super().on_event(event)

    def on_key(self, event: KeyPressed) -> None:
        """While something is typed only what leaves or chooses is ours."""
        if self.typing is not None:
            self._typed(event)

    def _key(self, event: KeyPressed) -> None:
        key = event.character if event.character is not None and event.is_printable else event.key
        if self.rehearsal.state.asking is Question.HOME:
            # The key answers, and does nothing besides: `n` is what a person types for no.
            self.do(i.HomeYes() if key == "y" else i.No())
            return
        self._pressed(key)

    def _pressed(self, key: str) -> None:
        rigs = list(self.rehearsal.state.show.rigs)
        letters = {chr(65 + n): id for n, id in enumerate(rigs)} if len(rigs) > 1 else {}
        if key in _SCROLLS and self.page is not Page.BANDS:
            self._top = max(0, self._top + _SCROLLS[key] * (self.size.height - 4 if "page" in key else 1))
            self.draw()
        elif key in _STEPS:
            self.do(_STEPS[key])
        elif key == "y" and self.rehearsal.state.asking is Question.MUTED:
            self.do(i.OutputsMuted())
        elif key in letters:
            self.do(i.Drive((letters[key],)))
        elif key == "T" and letters:
            self.do(i.Drive(tuple(rigs)))
        elif key in _TYPED:
            self._type(_TYPED[key])
        elif key == "escape" and self.rehearsal.state.peek is not None:
            self.do(i.LeavePeek())
        elif key in ("d", "l"):
            self._turn_to(Page.DEVICES if key == "d" else Page.SETLIST)

    def _turn_to(self, page: Page) -> None:
        """To a page, or back from it."""
        self.page = Page.BANDS if self.page is page else page
        self._top = 0
        if self.page is Page.SETLIST:
            self._top = max(0, pages.setlist(self.rehearsal)[1] - self.size.height // 2)
        self.draw()

    @property
    def field(self) -> Field:
        """The line to type on."""
        return self.query_one("#field", Field)

    def _type(self, typing: Typing) -> None:
        self.typing, self._chosen = typing, 0
        self.field.value = ""
        self.field.display = True
        self.field.focus()
        self.draw()

    def _typed(self, event: KeyPressed) -> None:
        if event.key == "escape" and self.typing is not Typing.REMARK:
            self._typed_enough()
        elif event.key in ("up", "down"):
            self._chosen += 1 if event.key == "down" else -1
            self.draw()
        elif event.key == "ctrl+c":
            self.do(i.Quit())

    async def action_quit(self) -> None:
        """What the library binds to leaving leaves as `q` does."""
        self.do(i.Quit())

    def action_suspend_process(self) -> None:
        """Not done: a rehearsal that stands still would take its ports for dead."""

    def _typed_enough(self) -> None:
        self.typing = None
        self.field.display = False
        self.set_focus(None)
        self.draw()

    def on_input_changed(self, _event: Field.Changed) -> None:
        """Another text stands for something else."""
        self._chosen = 0
        self.draw()

    def on_input_submitted(self, _event: Field.Submitted) -> None:
        """Enter: what is chosen is done; where nothing is, the line is left."""
        if self.typing is None:
            return
        found = self._found()
        self._typed_enough()
        if found:
            self.do(found[self._chosen % len(found)].input)

    def _found(self) -> tuple[Choice, ...]:
        return () if self.typing is None else choices(self.rehearsal, self.typing, self.field.value)

    def on_resize(self, _event: Resize) -> None:
        """Another size."""
        self.draw()

    def day_clock(self, moment_ns: int) -> str:
        """A moment's time of day."""
        day, then = self._day
        return (day + timedelta(microseconds=(moment_ns - then) // 1000)).strftime("%H:%M:%S")

    def draw(self) -> None:
        """Draw everything."""
        if not self.is_running or self.rehearsal.left:
            return
        self._stale, self._drawn_ns = False, self._now_ns()
        width, height = self.size.width, self.size.height - (1 if self.typing is not None else 0)
        typing = self.typing
        shown = self._rows(width, height) if typing is None else self._typing_rows(typing, width, height)
        text = Text(no_wrap=True, overflow="crop", end="")
        for n, row in enumerate(shown):
            style = " ".join(["bold"] * row.bold + ["reverse"] * row.reverse)
            text.append(("\n" if n else "") + row.text, style or None)
        self.query_one("#body", Static).update(text, layout=False)

    def _rows(self, width: int, height: int) -> list[Row]:
        seen = view(self.rehearsal, self.mark, self.day_clock)
        if self.page is Page.BANDS:
            return rows(seen, width, height)
        page = (
            pages.devices(self.rehearsal, width)
            if self.page is Page.DEVICES
            else pages.setlist(self.rehearsal)[0]
        )
        leave = f"{'d' if self.page is Page.DEVICES else 'l'}: back; n, b and pedals step as before"
        wire = [Row(shortened(f"WIRE  {seen.wire[0]}", width))] if seen.wire else []
        low = [*wire, *foot(seen, [leave], width, height)]
        top = [Row(self.mark, bold=True)] if self.mark is not None else []
        return [*top, *pages.window(page, self._top, width, height - len(top) - len(low)), *low]

    def _typing_rows(self, typing: Typing, width: int, height: int) -> list[Row]:
        """What is typed, what it stands for, and the bands above it, lower than else."""
        found = self._found()
        few = min(len(found), 6)
        chosen = self._chosen % len(found) if found else 0
        first = max(0, min(chosen - few + 1, len(found) - few))
        lines = [
            Row(f"{one.text}"[:width], reverse=n == chosen)
            for n, one in enumerate(found[first : first + few], first)
        ]
        if not found and self.field.value.strip():
            lines = [Row("nothing fits")]
        head = Row(shortened(typing.value, width), bold=True)
        seen = replace(view(self.rehearsal, self.mark, self.day_clock), keys=(_LEAVES[typing],))
        return [*rows(seen, width, height - len(lines) - 1), *lines, head]
