"""What the tests of slips share: a file with one slip in it, and all that a tech is told about it."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass

from switchmatrix.diagnostics.diagnostic import Diagnostic
from tests.support import BASE_SHOW, judged


@dataclass(frozen=True, slots=True)
class Slip:
    """A whole song with one slip in it, and the whole list of findings that it should bring."""

    what: str
    text: str
    seen: str


@dataclass(frozen=True, slots=True)
class Changed:
    """The base show with one piece of one file replaced, and the whole list of findings then."""

    old: str
    new: str
    seen: str
    path: str = "lantern.yaml"


def told(found: list[Diagnostic]) -> str:
    """Each finding: place, severity, name and message; then the related places and the help, indented."""
    lines: list[str] = []
    for d in found:
        lines += _wrapped(f"{d.span}: {d.severity} {d.name}: {d.message}", "")
        for related in d.related:
            lines += _wrapped(f"{related.message}: {related.span}", "    ")
        lines += _wrapped(f"help: {d.help}", "    ")
    return "".join(f"{line}\n" for line in lines)


def _wrapped(text: str, indent: str) -> list[str]:
    return textwrap.wrap(
        text,
        96,
        initial_indent=indent,
        subsequent_indent=f"{indent}    ",
        break_long_words=False,
        break_on_hyphens=False,
    )


def block(text: str) -> str:
    """A text that the test's table holds indented, its first line being empty."""
    return textwrap.dedent(text).removeprefix("\n")


def seen_in_song(text: str) -> str:
    """What is told of the base show with `text` as its song."""
    return told(judged({"lantern.yaml": block(text)}).found)


def seen_after(change: Changed) -> str:
    """What is told of the base show with the one place that says `old` saying `new`."""
    text = (BASE_SHOW / change.path).read_text(encoding="utf-8")
    before, *after = text.split(change.old)
    if len(after) != 1:
        raise ValueError(f"`{change.old}` stands {len(after)} times in {change.path}")
    return told(judged({change.path: before + change.new + after[0]}).found)
