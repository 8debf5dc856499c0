"""`switchmatrix check`: all that is wrong in a show, in three forms; the exit code says how grave it is."""

from __future__ import annotations

import json
from pathlib import Path

from tests.cli.kit import below, lay, run

TWO_SLIPS = {
    "lantern.yaml": """\
song: Lantern
scenes:
  verse: {gate: tigh}
  chorus: {like: verse, gate: loose}
  verse: {gate: loose}
"""
}
BYPASSED = {
    "lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: tight, echo.mix: 40 %}\n",
}
BYPASSED_LINE = (
    "lantern.yaml:3:24: warning set-while-bypassed: `echo.mix: 40 %` is never heard:"
    " `echo` is bypassed wherever the line counts\n"
)
FOREIGN = {"lantern.yaml": "song: Łódź\nscenes:\n  verse: {gate: tight}\n"}


def test_a_sound_show_has_nothing_wrong_and_exits_with_0(tmp_path: Path) -> None:
    ran = run("check", lay(tmp_path))

    assert (ran.code, ran.out, ran.err) == (0, "nothing wrong\n", "")


def test_a_sound_show_has_no_lines(tmp_path: Path) -> None:
    ran = run("check", lay(tmp_path), "--format", "lines")

    assert (ran.code, ran.out, ran.err) == (0, "", "")


def test_a_sound_show_is_an_empty_list_in_json(tmp_path: Path) -> None:
    ran = run("check", lay(tmp_path), "--format", "json")

    assert (ran.code, ran.out, ran.err) == (0, "[]\n", "")


def test_errors_are_told_with_their_lines_and_exit_with_1(tmp_path: Path) -> None:
    ran = run("check", lay(tmp_path, TWO_SLIPS))

    assert (ran.code, ran.err) == (1, "")
    assert ran.out == (
        """\
error unknown-word: `gate` has no word `tigh`
  at lantern.yaml:3:17
    3 |   verse: {gate: tigh}
                        ^^^^
  what to do: did you mean `tight`?

error key-twice: `verse` is given twice
  at lantern.yaml:5:3
    5 |   verse: {gate: loose}
          ^^^^^
  first given here, at lantern.yaml:3:3
    3 |   verse: {gate: tigh}
          ^^^^^
  what to do: keep one of the two: YAML readers disagree on which would count

2 errors
"""
    )


def test_errors_in_lines_are_one_line_each(tmp_path: Path) -> None:
    ran = run("check", lay(tmp_path, TWO_SLIPS), "--format", "lines")

    assert (ran.code, ran.out, ran.err) == (
        1,
        "lantern.yaml:3:17: error unknown-word: `gate` has no word `tigh`\n"
        "lantern.yaml:5:3: error key-twice: `verse` is given twice\n",
        "",
    )


def test_errors_in_json_say_all_that_the_long_form_says(tmp_path: Path) -> None:
    ran = run("check", lay(tmp_path, TWO_SLIPS), "--format", "json")

    assert (ran.code, ran.err) == (1, "")
    assert json.loads(ran.out) == [
        {
            "name": "unknown-word",
            "severity": "error",
            "path": "lantern.yaml",
            "line": 3,
            "column": 17,
            "end_line": 3,
            "end_column": 21,
            "message": "`gate` has no word `tigh`",
            "help": "did you mean `tight`?",
            "rigs": [],
            "related": [],
        },
        {
            "name": "key-twice",
            "severity": "error",
            "path": "lantern.yaml",
            "line": 5,
            "column": 3,
            "end_line": 5,
            "end_column": 8,
            "message": "`verse` is given twice",
            "help": "keep one of the two: YAML readers disagree on which would count",
            "rigs": [],
            "related": [
                {
                    "path": "lantern.yaml",
                    "line": 3,
                    "column": 3,
                    "end_line": 3,
                    "end_column": 8,
                    "message": "first given here",
                }
            ],
        },
    ]


def test_a_warning_exits_with_0(tmp_path: Path) -> None:
    ran = run("check", lay(tmp_path, BYPASSED), "--format", "lines")

    assert (ran.code, ran.out) == (0, BYPASSED_LINE)


def test_a_warning_exits_with_1_where_strictness_is_asked_for(tmp_path: Path) -> None:
    ran = run("check", lay(tmp_path, BYPASSED), "--format", "lines", "--strict")

    assert (ran.code, ran.out) == (1, BYPASSED_LINE)


def test_a_warning_is_counted_below_the_long_form(tmp_path: Path) -> None:
    assert run("check", lay(tmp_path, BYPASSED)).out.splitlines()[-2:] == ["", "1 warning"]


def test_a_hint_exits_with_0_even_where_strictness_is_asked_for(tmp_path: Path) -> None:
    ran = run("check", lay(tmp_path, FOREIGN), "--format", "lines", "--strict")

    assert (ran.code, ran.out) == (
        0,
        "lantern.yaml:1:1: hint transliterated: `Łódź` stands as `Lódz` in MIDI files\n",
    )


def test_a_show_that_is_not_there_exits_with_1(tmp_path: Path) -> None:
    ran = run("check", tmp_path / "nowhere")

    assert (ran.code, ran.err) == (1, "")
    assert ran.out == (
        """\
error file-unreadable: there is no folder `nowhere`
  at show.yaml:1:1
  what to do: check the path, and that you may read it

1 error
"""
    )


def test_no_show_named_is_wrong_usage() -> None:
    ran = run("check")

    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines()[-1] == "Error: Missing argument 'SHOW'."


def test_an_unknown_format_is_wrong_usage(tmp_path: Path) -> None:
    ran = run("check", lay(tmp_path), "--format", "xml")

    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines()[-1] == (
        "Error: Invalid value for '--format': 'xml' is not one of 'long', 'lines', 'json'."
    )


def test_checking_writes_nothing(tmp_path: Path) -> None:
    show = lay(tmp_path)
    before = below(tmp_path)

    run("check", show)

    assert below(tmp_path) == before
