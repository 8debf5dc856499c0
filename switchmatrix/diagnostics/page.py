"""A finding's page, and the list of all findings, for a terminal."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable

from switchmatrix.diagnostics.diagnostic import Name


def render(name: Name) -> str:
    """What the finding means, an example that raises it, and one that does not."""
    out = [f"{name.name} ({name.severity})", "", name.page.strip(), "", "Wrong:"]
    out += _files(name.wrong)
    out += ["", "Right:", *_files(name.right)]
    return "\n".join(out) + "\n"


def catalogue(names: Iterable[Name]) -> str:
    """Each finding with its severity and what its page begins with, as far as the first stop or colon."""
    known = list(names)
    widest = max((len(name.name) for name in known), default=0)
    out: list[str] = []
    for name in known:
        about = re.split(r"[.:](?=\s|$)", " ".join(name.page.split()), maxsplit=1)[0]
        first = f"{name.name:<{widest}}  {name.severity:<7}  "
        out += textwrap.wrap(about, 100, initial_indent=first, subsequent_indent=" " * len(first))
    return "".join(f"{line}\n" for line in out)


def _files(files: dict[str, str]) -> list[str]:
    out = []
    for path, text in files.items():
        out += ["", f"    # {path}", textwrap.indent(text.rstrip("\n"), "    ")]
    return out
