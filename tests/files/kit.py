"""What the tests of files share: the base show in a folder, with files laid over it as bytes."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path

from switchmatrix.pipeline import judge
from tests.support import BASE_SHOW

SONG = b"song: Lantern\nscenes:\n  verse: {gate: tight}\n"
"""A sound song for the base show; tests break it."""


def laid(folder: Path, files: Mapping[str, bytes]) -> Path:
    """The base show below `folder`, with `files` laid over it."""
    show = folder / "show"
    shutil.copytree(BASE_SHOW, show)
    for path, data in files.items():
        (show / path).parent.mkdir(parents=True, exist_ok=True)
        (show / path).write_bytes(data)
    return show


def told(show: Path) -> list[tuple[str, str, str]]:
    """Each finding's `path:line:col name`, its message and its help, in order."""
    return [(f"{d.span} {d.name}", d.message, d.help) for d in judge(show).found]
