"""What a rehearsal wants done: messages sent, a person asked or told, a line logged."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from switchmatrix.compile.schedule import Timed
from switchmatrix.live.stepping.gate import Question
from switchmatrix.live.stepping.stops import Key


@dataclass(frozen=True, slots=True)
class Send:
    """Messages for the ports of a rig, none before its moment, in microseconds on the clock of the step.

    `send` tells it from all others. `whole` where nothing was taken for known; `ahead` where it goes
    before what still waits. `fires` are the triggers among the messages, as `device.control`.
    """

    rig: str
    send: int
    key: Key
    label: str
    messages: tuple[Timed, ...]
    whole: bool
    ahead: bool
    fires: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DropQueue:
    """Stop a rig's ports between two messages, and forget what they have not sent."""

    rig: str


@dataclass(frozen=True, slots=True)
class Ask:
    """Ask a person; `words` are sentences, one a line. Asked again, it replaces what was asked."""

    question: Question
    words: str


@dataclass(frozen=True, slots=True)
class Say:
    """Tell a person."""

    text: str


@dataclass(frozen=True, slots=True)
class Log:
    """A line for the log; the moment is put in where it is written."""

    entry: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class KeepRemark:
    """A line for the file of remarks beside the log."""

    entry: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Leave:
    """The rehearsal is over."""


Action = Send | DropQueue | Ask | Say | Log | KeepRemark | Leave
