"""One line a finding: `path:line:col: error name: message`."""

from __future__ import annotations

from switchmatrix.diagnostics.diagnostic import Diagnostic


def plain(text: str) -> str:
    """The text on one line, with control characters written out: they could do things to a terminal."""
    return "".join(c if c.isprintable() else f"\\x{ord(c):02x}" for c in text)


def where_it_holds(diagnostic: Diagnostic) -> str:
    """` (on b-rig)` where the finding holds on some rigs only."""
    return f" (on {', '.join(diagnostic.rigs)})" if diagnostic.rigs else ""


def render(found: list[Diagnostic]) -> str:
    """All findings, each on its line."""
    return "".join(
        f"{plain(str(d.span))}: {d.severity} {d.name}: {plain(d.message)}{where_it_holds(d)}\n" for d in found
    )
