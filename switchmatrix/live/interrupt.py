"""Ctrl-C as something that was asked for, not as an exception in the middle of a message to a port."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from types import FrameType


@dataclass(slots=True)
class Asked:
    """How often a person asked to stop."""

    times: int = 0


@contextmanager
def stop_asked() -> Iterator[Asked]:
    """Count Ctrl-C, and the system's wish that the program ends, instead of being torn out by them.

    Whoever waits looks at it between short waits: Python goes on with a wait that a signal broke off.
    """
    asked = Asked()

    def count(_number: int, _frame: FrameType | None) -> None:
        asked.times += 1

    before = {number: signal.signal(number, count) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield asked
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


@contextmanager
def torn_out() -> Iterator[None]:
    """Have them end a question that a person is asked, with a KeyboardInterrupt: nobody may answer it."""
    numbers = (signal.SIGINT, signal.SIGTERM)
    before = {number: signal.signal(number, signal.default_int_handler) for number in numbers}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
