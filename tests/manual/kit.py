"""The manual's pages cut into blocks, and each page's blocks run in the order in which they stand."""

from __future__ import annotations

import re
import shlex
import shutil
import tempfile
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner

from switchmatrix.cli import switchmatrix
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.manual import TOPICS, page
from switchmatrix.pipeline import judge
from tests.support import BASE_SHOW

PAGES = tuple(topic for topic, _ in TOPICS)
YAML, CONSOLE, OTHER = "yaml", "console", "other"
_LABEL = re.compile(r"# (\S+\.yaml)")
_PROMPT = "$ "


@dataclass(frozen=True, slots=True)
class Block:
    """An indented block of a page: a file, commands with what they print, or neither.

    `line` is where it stands on the page; `text` has its indent taken away.
    """

    topic: str
    line: int
    text: str

    @property
    def kind(self) -> str:
        """What the block is, by its first line."""
        first = self.text.splitlines()[0]
        if _LABEL.fullmatch(first):
            return YAML
        return CONSOLE if first.startswith(_PROMPT) else OTHER

    @property
    def path(self) -> str:
        """The file that a YAML block is."""
        return self.text.splitlines()[0].removeprefix("# ")

    @property
    def body(self) -> str:
        """The file's text, below the line that names it."""
        return self.text.partition("\n")[2]

    @property
    def shown(self) -> list[tuple[str, str]]:
        """Each command of a console block with the output shown for it."""
        parts = re.split(r"^\$ (.*)\n?", self.text, flags=re.MULTILINE)[1:]
        return [(command, shown.rstrip("\n")) for command, shown in zip(parts[::2], parts[1::2], strict=True)]

    def __str__(self) -> str:
        return f"{self.topic}:{self.line}"


def cut(topic: str, text: str) -> tuple[Block, ...]:
    """Every run of lines that are indented by four or more, blank lines inside included.

    A line that names a file begins a block of its own, and so does a command below anything but commands.
    """
    found: list[Block] = []
    for number, line in enumerate(text.splitlines(), 1):
        inside = bool(found) and found[-1].line + len(found[-1].text.splitlines()) == number
        own = line.removeprefix("    ")
        if inside and not line:
            found[-1] = replace(found[-1], text=found[-1].text + "\n")
        elif own != line and inside and not _begins(own, found[-1]):
            found[-1] = replace(found[-1], text=f"{found[-1].text}{own}\n")
        elif own != line:
            found.append(Block(topic, number, f"{own}\n"))
    return tuple(replace(block, text=block.text.rstrip("\n") + "\n") for block in found)


def _begins(line: str, above: Block) -> bool:
    """Whether a line begins a block of its own below another block."""
    return bool(_LABEL.fullmatch(line)) or (line.startswith(_PROMPT) and above.kind != CONSOLE)


@cache
def blocks(topic: str) -> tuple[Block, ...]:
    """The blocks of one page."""
    return cut(topic, page(topic))


@dataclass(frozen=True, slots=True)
class Ran:
    """A block once it has been run: the show's findings after it, each command with what it printed."""

    found: tuple[Diagnostic, ...]
    printed: tuple[tuple[str, str], ...]


@cache
def ran(topic: str) -> tuple[Ran, ...]:
    """The page's blocks, run in order in a folder where the page's show is called `show`."""
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        shutil.copytree(BASE_SHOW, Path(folder) / "show")
        patch.chdir(folder)
        return tuple(_run(block) for block in blocks(topic))


def _run(block: Block) -> Ran:
    if block.kind == YAML:
        place = Path("show") / block.path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(block.body, encoding="utf-8")
    commands = [command for command, _ in block.shown] if block.kind == CONSOLE else []
    printed = tuple((command, _printed(command)) for command in commands)
    return Ran(tuple(judge(Path("show")).found), printed)


def _printed(command: str) -> str:
    """What a command prints: one of ours, or `cat FILE` and `ls FOLDER` for what it has written."""
    name, *args = shlex.split(command)
    if name == "cat":
        return Path(args[0]).read_text(encoding="utf-8").rstrip("\n")
    if name == "ls":
        return "\n".join(sorted(path.name for path in Path(args[0]).iterdir() if path.name[0] != "."))
    result = CliRunner().invoke(switchmatrix, args, prog_name=name)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.output.rstrip("\n")


def every(kind: str) -> list[Block]:
    """The blocks of one kind on all pages."""
    return [block for topic in PAGES for block in blocks(topic) if block.kind == kind]


def run(block: Block) -> Ran:
    """A block, run after those above it on its page."""
    return ran(block.topic)[blocks(block.topic).index(block)]


def as_pattern(shown: str) -> str:
    """The shown output, a line of `...` standing for any lines."""
    lines = [r"(?:.*\n)*?" if line == "..." else re.escape(line) + r"\n" for line in shown.splitlines()]
    return "".join(lines)
