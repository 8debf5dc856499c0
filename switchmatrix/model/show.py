"""A show: its legs, and what each plays on which rigs."""

from __future__ import annotations

from dataclasses import dataclass, field

from switchmatrix.model.song import Budget
from switchmatrix.source import Span


@dataclass(frozen=True, slots=True)
class SetlistItem:
    """A song, or (where `standing`) a standing scene, in a running order."""

    name: str
    standing: bool
    remark: str | None
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Leg:
    """A part of a tour: its rigs and its setlist."""

    name: str
    rigs: tuple[str, ...]
    setlist: tuple[SetlistItem, ...]
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Acceptance:
    """Findings called `name` in the file `path`; with `about`, only those whose message has that text."""

    name: str
    path: str
    about: str
    because: str
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Show:
    """The show as its file has it. `on_time` and `budget` hold where song and scene say nothing.

    `asks_after_fault` is off where the show is sent again after a fault with nobody asked.
    """

    title: str
    rigs: tuple[str, ...]
    legs: tuple[Leg, ...]
    span: Span = field(compare=False)
    on_time: bool = False
    budget: Budget | None = None
    accepted: tuple[Acceptance, ...] = ()
    asks_after_fault: bool = True
