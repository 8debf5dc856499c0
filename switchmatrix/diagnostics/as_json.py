"""Findings as JSON with stable keys."""

from __future__ import annotations

import json

from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.source import Span


def _span(span: Span) -> dict[str, object]:
    return {
        "path": span.path,
        "line": span.line,
        "column": span.column,
        "end_line": span.end_line,
        "end_column": span.end_column,
    }


def render(found: list[Diagnostic]) -> str:
    """All findings as one JSON array."""
    rows = [
        {
            "name": d.name,
            "severity": str(d.severity),
            **_span(d.span),
            "message": d.message,
            "help": d.help,
            "rigs": list(d.rigs),
            "related": [{**_span(r.span), "message": r.message} for r in d.related],
        }
        for d in found
    ]
    return json.dumps(rows, ensure_ascii=False, indent=1) + "\n"
