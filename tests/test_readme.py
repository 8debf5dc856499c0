"""Every command that the README shows is run, and every output it shows is what comes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from switchmatrix.cli import switchmatrix

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
SHOWN = re.findall(r"```console\n\$ switchmatrix (.*)\n((?:.*\n)*?)```", README)


def as_pattern(shown: str) -> str:
    """The shown output, a line of `...` standing for any lines."""
    lines = [r"(?:.*\n)*?" if line == "..." else re.escape(line) + r"\n" for line in shown.splitlines()]
    return "".join(lines)


@pytest.mark.parametrize(("command", "shown"), SHOWN, ids=[command for command, _ in SHOWN])
def test_the_readme_shows_what_comes(
    command: str, shown: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "songs").symlink_to(ROOT / "songs")
    monkeypatch.chdir(tmp_path)
    result = CliRunner().invoke(switchmatrix, command.split())
    assert result.exit_code == (1 if command.startswith("diff ") else 0)
    assert re.fullmatch(as_pattern(shown), result.output), result.output


def test_the_readme_shows_its_commands() -> None:
    assert [command.split()[0] for command, _ in SHOWN] == [
        *("check", "messages", "state", "chart", "prove", "diff", "compile")
    ]


def test_the_readme_shows_the_finding_of_a_misspelt_word(tmp_path: Path) -> None:
    for path in (ROOT / "songs").rglob("*.yaml"):
        copy = tmp_path / path.relative_to(ROOT / "songs")
        copy.parent.mkdir(exist_ok=True)
        text = path.read_text(encoding="utf-8")
        if path.name == "nine-lanterns.yaml":
            text = text.replace("base: {amp: B, gate: tight}", "base: {amp: B, gate: tigt}")
        copy.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(switchmatrix, ["check", str(tmp_path)])
    shown = re.findall(r"```text\n(error unknown-word(?:.*\n)*?)```", README)
    assert result.exit_code == 1
    assert [result.output] == [f"{text}\n1 error\n" for text in shown]
