"""What the tests of commands share: a show in a folder, and a command run on it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from click.testing import CliRunner

from switchmatrix.cli import switchmatrix
from switchmatrix.cli.compile import RECORD
from tests.support import BASE_SHOW

TWO_LEGS = {
    "show.yaml": """\
show: Tidewrack
rigs: [a-rig, b-rig]
legs:
  summer: {rigs: [a-rig, b-rig], setlist: [lantern, {standing: changeover, remark: capo off}, harbour]}
  winter: {rigs: [a-rig], setlist: [harbour]}
""",
    "harbour.yaml": """\
song: Harbour
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 100}]
scenes:
  swell: {at: [bar 1, bar 9], gate: tight, echo: {engage: on, patch: cliff, time: 1/8}}
""",
    "rigs/a-rig.yaml": (BASE_SHOW / "rigs" / "a-rig.yaml").read_text(encoding="utf-8")
    + "standing: {changeover: {echo: off, gate: loose}}\n",
    "rigs/b-rig.yaml": (BASE_SHOW / "rigs" / "a-rig.yaml")
    .read_text(encoding="utf-8")
    .replace("rig: A rig", "rig: B rig")
    .replace("channel: 3", "channel: 4")
    + "standing: {changeover: {echo: off, gate: loose}}\n",
}
"""Laid over the base show: two legs, a spare rig on channel 4, a scene at two tempos, a standing scene."""


@dataclass(frozen=True, slots=True)
class Ran:
    """What a command left: its exit code and what it printed."""

    code: int
    out: str
    err: str


def run(*args: str | Path) -> Ran:
    """A command, run; a crash of ours is raised, not counted as an exit code."""
    result = CliRunner().invoke(switchmatrix, [str(arg) for arg in args], prog_name="switchmatrix")
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return Ran(result.exit_code, result.stdout, result.stderr)


def lay(folder: Path, files: Mapping[str, str | bytes] | None = None) -> Path:
    """The base show in `folder`/show, with `files` laid over it."""
    show = folder / "show"
    shutil.copytree(BASE_SHOW, show)
    for path, text in (files or {}).items():
        (show / path).parent.mkdir(parents=True, exist_ok=True)
        (show / path).write_bytes(text if isinstance(text, bytes) else text.encode())
    return show


def below(folder: Path) -> list[str]:
    """Every file below a folder, sorted, but the record of what was written."""
    paths = [p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file() and p.name != RECORD]
    return sorted(paths, key=os.fspath)
