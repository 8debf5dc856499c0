"""One line a finding: `path:line:col: error name: message`."""

from __future__ import annotations

from switchmatrix.diagnostics.diagnostic import Diagnostic


def where_it_holds(diagnostic: Diagnostic) -> str:
    """` (on b-rig)` where the finding holds on some rigs only."""
    return f" (on {', '.join(diagnostic.rigs)})" if diagnostic.rigs else ""


def render(found: list[Diagnostic]) -> str:
    """All findings, each on its line."""
    return "".join(f"{d.span}: {d.severity} {d.name}: {d.message}{where_it_holds(d)}\n" for d in found)
