"""A finding is a value; printing it is someone else's job."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from switchmatrix.source import Span


class Severity(StrEnum):
    """Error: cannot be compiled exactly as written. Warning: exact, but suspicious. Hint: worth knowing."""

    ERROR = "error"
    WARNING = "warning"
    HINT = "hint"


@dataclass(frozen=True, slots=True, order=True)
class Related:
    """Another place that makes the finding true, and why."""

    span: Span
    message: str


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One finding: what is wrong (message), where (span), why there (related), what to do (help).

    `rigs` names the rigs on which it holds; empty where it holds wherever the line is used.
    """

    name: str
    severity: Severity
    span: Span
    message: str
    help: str = ""
    related: tuple[Related, ...] = ()
    rigs: tuple[str, ...] = ()

    def sort_key(self) -> tuple[object, ...]:
        """A total order: by place first."""
        return (
            self.span,
            list(Severity).index(self.severity),
            self.name,
            self.message,
            self.help,
            self.related,
            self.rigs,
        )

    def on_rig(self, rig: str) -> Diagnostic:
        """The same finding, said to hold on `rig`."""
        return replace(self, rigs=(rig,))


@dataclass(frozen=True, slots=True)
class Name:
    """What a kind of finding is called, how grave it is, and its page in the manual.

    `wrong` and `right` map file paths to text, laid over the small show that all pages share: the
    first raises this finding and no other, the second none.
    """

    name: str
    severity: Severity
    page: str
    wrong: dict[str, str]
    right: dict[str, str]

    def at(self, span: Span, message: str, help: str = "", related: tuple[Related, ...] = ()) -> Diagnostic:
        """This finding at a place."""
        return Diagnostic(self.name, self.severity, span, message, help, related)


def has_errors(found: list[Diagnostic]) -> bool:
    """Whether anything found keeps the show from compiling."""
    return any(d.severity is Severity.ERROR for d in found)


def in_order(found: list[Diagnostic]) -> list[Diagnostic]:
    """Sorted by place, each finding once."""
    return sorted(set(found), key=Diagnostic.sort_key)


def merged(found: list[Diagnostic], rigs_of: dict[str, tuple[str, ...]]) -> list[Diagnostic]:
    """Findings that differ only in their rig become one, naming the rigs, in place order.

    `rigs_of` says for each file which rigs it is used with: a finding on all of them names none.
    The help and the related places are those of the first rig.
    """
    groups: dict[tuple[str, Span, str], list[Diagnostic]] = {}
    for diagnostic in found:
        groups.setdefault((diagnostic.name, diagnostic.span, diagnostic.message), []).append(diagnostic)
    kept = []
    for same in groups.values():
        rigs = tuple(dict.fromkeys(rig for d in same for rig in d.rigs))
        everywhere = any(not d.rigs for d in same) or set(rigs) >= set(rigs_of.get(same[0].span.path, ()))
        kept.append(replace(same[0], rigs=() if everywhere else rigs))
    return in_order(kept)
