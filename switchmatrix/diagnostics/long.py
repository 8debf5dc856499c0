"""Findings for a person: the line of the file, the fault underlined, what to do."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Mapping

from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.lines import plain, where_it_holds
from switchmatrix.source import SourceFile, Span

_WIDEST = 110


def _width(text: str) -> int:
    """Columns that `text` takes on a terminal."""
    return sum(
        0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text
    )


def _snippet(span: Span, lines: Mapping[str, tuple[str, ...]]) -> list[str]:
    file = lines.get(span.path)
    if file is None or span.line > len(file):
        return []
    text = file[span.line - 1].replace("\t", " ")
    if not text.strip():
        return []
    start = span.column - 1
    end = span.end_column - 1 if span.end_line == span.line else len(text.rstrip())
    cut = max(0, start - _WIDEST // 2) if len(text) > _WIDEST else 0
    shown = text[cut : cut + _WIDEST].rstrip()
    under = text[start : min(max(end, start + 1), cut + len(shown))]
    gutter = f"{span.line:>5} | "
    return [
        f"{gutter}{plain(shown)}".rstrip(),
        " " * len(gutter) + " " * _width(text[cut:start]) + "^" * max(1, _width(under)),
    ]


def _wrapped(text: str, first: str, rest: str) -> list[str]:
    return textwrap.wrap(
        text,
        100,
        initial_indent=first,
        subsequent_indent=rest,
        break_long_words=False,
        break_on_hyphens=False,
    )


def render_one(diagnostic: Diagnostic, lines: Mapping[str, tuple[str, ...]]) -> str:
    """One finding with its snippet, related places and help."""
    out = [
        f"{diagnostic.severity} {diagnostic.name}: {plain(diagnostic.message)}{where_it_holds(diagnostic)}",
        f"  at {plain(str(diagnostic.span))}",
        *_snippet(diagnostic.span, lines),
    ]
    for related in diagnostic.related:
        out += [f"  {plain(related.message)}, at {plain(str(related.span))}", *_snippet(related.span, lines)]
    if diagnostic.help:
        out += _wrapped(plain(diagnostic.help), "  what to do: ", "    ")
    return "\n".join(out) + "\n"


def render(found: list[Diagnostic], files: Mapping[str, SourceFile]) -> str:
    """All findings, a blank line between two."""
    lines = {d.span.path: files[d.span.path].lines() for d in found if d.span.path in files}
    for diagnostic in found:
        for related in diagnostic.related:
            if related.span.path in files and related.span.path not in lines:
                lines[related.span.path] = files[related.span.path].lines()
    return "\n".join(render_one(d, lines) for d in found)
