"""A show that cannot be read or understood: exit code 1, one line that says where, and nothing is written."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.kit import below, lay, run

SONG = "song: Lantern\nscenes:\n  verse: {gate: tight}\n"
BROKEN: dict[str, tuple[dict[str, str | bytes], str]] = {
    "a key twice": (
        {"lantern.yaml": SONG + "  verse: {gate: loose}\n"},
        "lantern.yaml:4:3: error key-twice: `verse` is given twice",
    ),
    "a tag": (
        {"lantern.yaml": SONG.replace("tight", "!own tight")},
        "lantern.yaml:3:17: error yaml-feature: a tag (`!own`) is not used in a show",
    ),
    "an anchor": (
        {"lantern.yaml": SONG.replace("{gate", "&v {gate")},
        "lantern.yaml:3:10: error yaml-feature: an anchor (`&v`) is not used in a show",
    ),
    "an alias": (
        {"lantern.yaml": SONG + "  chorus: *v\n"},
        "lantern.yaml:4:11: error yaml-feature: an alias is not used in a show",
    ),
    "a merge key": (
        {"lantern.yaml": SONG + "  chorus: {<<: verse, echo: on}\n"},
        "lantern.yaml:4:12: error yaml-feature: a merge key is not used in a show",
    ),
    "a second document": (
        {"lantern.yaml": SONG + "---\n" + SONG},
        "lantern.yaml:4:1: error yaml-feature: a second document is not used in a show",
    ),
    "ten megabytes": (
        {"lantern.yaml": SONG + "#" * 10_000_000},
        "lantern.yaml:1:1: error too-large: the file is larger than 1024 KiB",
    ),
    "brackets 10,000 deep": (
        {"lantern.yaml": "song: " + "[" * 10_000},
        "lantern.yaml:1:30: error too-large: brackets or indents are nested deeper than 24",
    ),
    "dashes 10,000 deep": (
        {"lantern.yaml": "song:\n  " + "- " * 10_000},
        "lantern.yaml:2:49: error too-large: brackets or indents are nested deeper than 24",
    ),
    "a zero byte": (
        {"lantern.yaml": SONG.replace("tight", "ti\0ght")},
        "lantern.yaml:3:19: error not-text: character U+0000 does not belong in a text",
    ),
    "an escape character": (
        {"lantern.yaml": SONG.replace("tight", "ti\x1b[2Jght")},
        "lantern.yaml:3:19: error not-text: character U+001B does not belong in a text",
    ),
    "a Latin-1 byte": (
        {"lantern.yaml": b"song: Lant\xe9rn\n"},
        "lantern.yaml:1:11: error not-text: byte 0xe9 is not UTF-8 text",
    ),
    "UTF-16": (
        {"lantern.yaml": SONG.encode("utf-16")},
        "lantern.yaml:1:1: error not-text: byte 0xff is not UTF-8 text",
    ),
    "an empty file": (
        {"lantern.yaml": ""},
        "lantern.yaml:1:1: error value-missing: the file is empty",
    ),
    "a file that is a remark": (
        {"lantern.yaml": "# to be written\n"},
        "lantern.yaml:1:1: error value-missing: the file is empty",
    ),
    "a brace never closed": (
        {"lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: tight\n"},
        "lantern.yaml:3:10: error yaml-syntax: `{` is never closed",
    ),
    "a song named by a way out": (
        {"show.yaml": "show: T\nrigs: [a-rig]\nlegs:\n  tour: {rigs: [a-rig], setlist: [../lantern]}\n"},
        "show.yaml:4:35: error unknown-name: no song is called `../lantern`",
    ),
}


@pytest.mark.parametrize("broken", BROKEN)
def test_a_broken_show_is_told_in_one_line_and_exits_with_1(tmp_path: Path, broken: str) -> None:
    files, line = BROKEN[broken]

    ran = run("check", lay(tmp_path, files), "--format", "lines")

    assert (ran.code, ran.out, ran.err) == (1, f"{line}\n", "")


@pytest.mark.parametrize("broken", BROKEN)
@pytest.mark.parametrize(
    "command",
    [("compile", "--out", "out"), ("messages", "lantern"), ("state", "lantern", "verse")],
    ids=lambda command: command[0],
)
def test_no_command_makes_anything_of_a_broken_show(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: str, command: tuple[str, ...]
) -> None:
    files, _ = BROKEN[broken]
    show = lay(tmp_path, files)
    before = below(tmp_path)
    monkeypatch.chdir(tmp_path)

    ran = run(command[0], show, *command[1:])

    assert (ran.code, ran.out, below(tmp_path)) == (1, "", before)
