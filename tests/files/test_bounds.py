"""How deep a file may be nested: past the bound it is one finding at the bracket too many, never a crash."""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.syntax.reader import MOST_DEEP
from tests.files.kit import laid, told

HEAD = "song: Lantern\nscenes:\n"


def _message() -> str:
    return f"brackets or indents are nested deeper than {MOST_DEEP}"


@pytest.mark.parametrize(
    ("text", "place"),
    [
        # The first level is the file's own block, so the bracket too many is number MOST_DEEP of its line.
        ("song: " + "[" * 10_000, f"1:{7 + MOST_DEEP - 1}"),
        ("song: " + "[" * 10_000 + "]" * 10_000, f"1:{7 + MOST_DEEP - 1}"),
        ("song: " + "{a: " * 10_000, f"1:{7 + 4 * (MOST_DEEP - 1)}"),
        ("song: " + "{a: " * 10_000 + "b" + "}" * 10_000, f"1:{7 + 4 * (MOST_DEEP - 1)}"),
        ("song: " + "[{a: " * 5_000, f"1:{7 + 5 * (MOST_DEEP // 2) - 4}"),
        ("song:\n  " + "- " * 10_000 + "x", f"2:{3 + 2 * (MOST_DEEP - 1)}"),
        ("? " * 10_000 + "x", f"1:{1 + 2 * MOST_DEEP}"),
        ("".join(" " * n + "a:\n" for n in range(400)), f"{MOST_DEEP + 1}:{MOST_DEEP + 1}"),
    ],
    ids=["[", "[]", "{", "{}", "[{", "- ", "? ", "indents"],
)
def test_nesting_past_the_bound_is_one_finding_at_the_level_too_many(
    tmp_path: Path, text: str, place: str
) -> None:
    show = laid(tmp_path, {"lantern.yaml": (text + "\n").encode()})

    assert told(show) == [
        (f"lantern.yaml:{place} too-large", _message(), "delete the brackets or dashes too many")
    ]


@pytest.mark.parametrize("path", ["show.yaml", "rigs/a-rig.yaml", "definitions/plain-gate.yaml"])
def test_the_bound_holds_in_every_kind_of_file(tmp_path: Path, path: str) -> None:
    show = laid(tmp_path, {path: b"remark: " + b"{a: " * 10_000})

    assert told(show) == [
        (
            f"{path}:1:{9 + 4 * (MOST_DEEP - 1)} too-large",
            _message(),
            "delete the brackets or dashes too many",
        )
    ]


def test_nesting_to_the_bound_is_read_and_judged_by_its_shape(tmp_path: Path) -> None:
    deep = "[" * (MOST_DEEP - 1) + "]" * (MOST_DEEP - 1)
    song = f"song: {deep}\nscenes:\n  verse: {{gate: tight}}\n"

    assert told(laid(tmp_path, {"lantern.yaml": song.encode()})) == [
        ("lantern.yaml:1:7 wrong-shape", "a list is not a text", "write a text for `song`")
    ]


def test_a_song_of_more_scenes_than_the_bound_is_one_finding_at_the_scene_too_many(tmp_path: Path) -> None:
    scenes = "".join(f"  s{n}: {{gate: tight}}\n" for n in range(10_000))
    show = laid(tmp_path, {"lantern.yaml": (HEAD + scenes).encode()})

    assert told(show) == [
        (
            "lantern.yaml:503:3 too-large",
            "there are 10000 scenes; 500 are the most that one song may have",
            "make two songs of it",
        )
    ]


def test_a_song_of_as_many_scenes_as_the_bound_is_read_whole(tmp_path: Path) -> None:
    scenes = "".join(f"  s{n}: {{gate: tigh}}\n" for n in range(500))
    show = laid(tmp_path, {"lantern.yaml": (HEAD + scenes).encode()})

    assert [place for place, _, _ in told(show)][::499] == [
        "lantern.yaml:3:14 unknown-word",
        "lantern.yaml:502:16 unknown-word",
    ]


def test_a_chain_of_as_many_scenes_as_the_bound_each_like_the_one_before_is_worked_out(
    tmp_path: Path,
) -> None:
    scenes = "  s0: {gate: tight}\n" + "".join(f"  s{n}: {{like: s{n - 1}}}\n" for n in range(1, 500))
    show = laid(tmp_path, {"lantern.yaml": (HEAD + scenes).encode()})

    assert told(show) == []
