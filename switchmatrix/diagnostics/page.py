"""A finding's page, for a terminal."""

from __future__ import annotations

import textwrap

from switchmatrix.diagnostics.diagnostic import Name


def render(name: Name) -> str:
    """What the finding means, an example that raises it, and one that does not."""
    out = [f"{name.name} ({name.severity})", "", name.page.strip(), "", "Wrong:"]
    out += _files(name.wrong)
    out += ["", "Right:", *_files(name.right)]
    return "\n".join(out) + "\n"


def _files(files: dict[str, str]) -> list[str]:
    out = []
    for path, text in files.items():
        out += ["", f"    # {path}", textwrap.indent(text.rstrip("\n"), "    ")]
    return out
