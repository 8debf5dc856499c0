"""An editor that speaks JSON Schema completes and underlines the example show.

The editor is yaml-language-server (npm, 1.18.0), a general-purpose server that knows nothing of ours; the
environment variable YAML_LANGUAGE_SERVER names its program. `.ci/run` installs it and runs this folder.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.language_server.client import Client

SONGS = Path(__file__).parents[2] / "songs"
SHOWN = sorted(path.relative_to(SONGS).as_posix() for path in SONGS.rglob("*.yaml"))


@pytest.fixture(scope="module")
def editor() -> Iterator[Client]:
    with Client([os.environ["YAML_LANGUAGE_SERVER"], "--stdio"], SONGS) as client:
        yield client


def song(scene: str) -> str:
    return f"# yaml-language-server: $schema=schemas/song.json\nsong: New\nscenes:\n  verse: {{{scene}}}\n"


def offered(editor: Client, name: str, scene: str) -> list[str]:
    """What is offered at the end of a scene's line."""
    uri = editor.open(SONGS / name, song(scene))
    at = {"line": 3, "character": len("  verse: {") + len(scene)}
    items = editor.ask("textDocument/completion", {"textDocument": {"uri": uri}, "position": at})
    found: list[dict[str, Any]] = items["items"] if isinstance(items, dict) else items
    return [item["label"] for item in found]


def underlined(editor: Client, name: str, scene: str) -> list[tuple[str, int]]:
    """What is underlined in a scene's line, and the column where it begins."""
    text = song(scene)
    uri = editor.open(SONGS / name, text)
    line = text.splitlines()[3]
    spans = [finding["range"] for finding in editor.findings(uri)]
    return [
        (line[s["start"]["character"] : s["end"]["character"]], s["start"]["character"] + 1) for s in spans
    ]


def test_after_an_entry_its_words_are_offered(editor: Client) -> None:
    assert {"tight", "loose", "open"} <= set(offered(editor, "new-1.yaml", "gate: "))


def test_a_wrong_word_is_underlined(editor: Client) -> None:
    assert underlined(editor, "new-2.yaml", "gate: tigt") == [("tigt", 17)]


def test_a_right_word_is_not_underlined(editor: Client) -> None:
    assert underlined(editor, "new-3.yaml", "gate: tight") == []


def test_a_name_that_nothing_has_is_underlined(editor: Client) -> None:
    assert underlined(editor, "new-4.yaml", "gaet: tight") == [("gaet", 11)]


def test_a_devices_patches_are_offered(editor: Client) -> None:
    assert {"slap", "cliff", "well"} <= set(offered(editor, "new-5.yaml", "echo.patch: "))


def test_a_choices_values_are_offered(editor: Client) -> None:
    assert {"tape", "clean", "grain", "as stored"} <= set(offered(editor, "new-6.yaml", "echo.tone: "))


@pytest.mark.parametrize("path", SHOWN)
def test_nothing_is_underlined_in_the_example_show(editor: Client, path: str) -> None:
    text = (SONGS / path).read_text(encoding="utf-8")
    assert text.startswith("# yaml-language-server: $schema=")
    assert editor.findings(editor.open(SONGS / path, text)) == []
