"""The three forms of findings: long with the line underlined, one line each, JSON; all in one order."""

from __future__ import annotations

import itertools
import json
import random

import pytest

from switchmatrix.diagnostics import as_json, lines, long
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related, Severity, in_order, merged
from switchmatrix.source import SourceFile, Span


def _finding(span: Span, message: str = "`x` is odd", help: str = "", *related: Related) -> Diagnostic:
    return Diagnostic("floor-squeaks", Severity.ERROR, span, message, help, related)


def _on(line: int, column: int, end: int, path: str = "a.yaml") -> Span:
    return Span(path, line, column, line, end)


def _long(text: str, span: Span) -> list[str]:
    """The snippet and what stands below it, as the long form shows them."""
    return long.render([_finding(span)], {"a.yaml": SourceFile("a.yaml", text)}).splitlines()[2:]


def test_the_long_form_has_message_place_snippet_related_place_and_help() -> None:
    text = "song: Lantern\nscenes:\n  verse: {gate: tight}\n  verse: {gate: loose}\n"
    finding = Diagnostic(
        "key-twice",
        Severity.WARNING,
        _on(4, 3, 8),
        "`verse` is given twice",
        "keep one of the two",
        (Related(_on(3, 3, 8), "first given here"),),
        ("a-rig", "b-rig"),
    )

    assert long.render([finding], {"a.yaml": SourceFile("a.yaml", text)}) == (
        """\
warning key-twice: `verse` is given twice (on a-rig, b-rig)
  at a.yaml:4:3
    4 |   verse: {gate: loose}
          ^^^^^
  first given here, at a.yaml:3:3
    3 |   verse: {gate: tight}
          ^^^^^
  what to do: keep one of the two
"""
    )


def test_two_findings_have_a_blank_line_between_them() -> None:
    text = "one\ntwo\n"
    found = [_finding(_on(1, 1, 4)), _finding(_on(2, 1, 4))]

    assert long.render(found, {"a.yaml": SourceFile("a.yaml", text)}) == (
        """\
error floor-squeaks: `x` is odd
  at a.yaml:1:1
    1 | one
        ^^^

error floor-squeaks: `x` is odd
  at a.yaml:2:1
    2 | two
        ^^^
"""
    )


def test_no_finding_is_no_text() -> None:
    assert (long.render([], {}), lines.render([]), as_json.render([])) == ("", "", "[]\n")


# East Asian Width (UAX #11): W and F take two columns; a combining mark (category Mn) takes none.
@pytest.mark.parametrize(
    ("text", "column", "end", "shown"),
    [
        ("gate: tigh", 7, 11, ["    1 | gate: tigh", "              ^^^^"]),
        ("灯台: tigh", 5, 9, ["    1 | 灯台: tigh", "              ^^^^"]),
        ("a: 灯台", 4, 6, ["    1 | a: 灯台", "           ^^^^"]),
        ("\uff47: tigh", 4, 8, ["    1 | \uff47: tigh", "            ^^^^"]),
        ("cafe\u0301: on", 8, 10, ["    1 | cafe\u0301: on", "              ^^"]),
        ("a: e\u0301", 4, 6, ["    1 | a: e\u0301", "           ^"]),
        ("łódź: on", 7, 9, ["    1 | łódź: on", "              ^^"]),
        ("a:\ttigh", 4, 8, ["    1 | a: tigh", "           ^^^^"]),
        ("\tgate: on", 1, 2, ["    1 |  gate: on", "        ^"]),
    ],
    ids=[
        "plain",
        "wide before",
        "wide under",
        "fullwidth before",
        "combining before",
        "combining under",
        "accents",
        "tab before",
        "tab under",
    ],
)
def test_the_fault_is_underlined_at_the_columns_that_a_terminal_shows(
    text: str, column: int, end: int, shown: list[str]
) -> None:
    assert _long(text, _on(1, column, end)) == shown


def test_a_fault_of_no_width_is_underlined_by_one_mark() -> None:
    assert _long("gate:\n", _on(1, 6, 6)) == ["    1 | gate:", "             ^"]


def test_a_fault_that_runs_over_lines_is_underlined_to_its_first_lines_end() -> None:
    assert _long("a: {b: c,\n  d: e}\n", Span("a.yaml", 1, 4, 2, 8)) == [
        "    1 | a: {b: c,",
        "           ^^^^^^",
    ]


def test_a_line_number_of_four_digits_keeps_the_columns() -> None:
    assert _long("\n" * 4_321 + "gate: on\n", _on(4_322, 7, 9)) == [
        " 4322 | gate: on",
        "              ^^",
    ]


def test_a_fault_far_along_a_line_is_shown_with_what_stands_about_it() -> None:
    text = "x" * 3_000 + " tigh " + "y" * 3_000
    shown = _long(text, _on(1, 3_002, 3_006))
    under = shown[1]

    assert (max(map(len, shown)) <= 120, shown[0][under.index("^") : under.rindex("^") + 1]) == (
        True,
        "tigh",
    )


def test_a_fault_far_along_a_line_of_wide_letters_is_underlined_where_it_is_shown() -> None:
    shown, under = _long("灯" * 500 + "!" + "台" * 500, _on(1, 501, 502))
    before = shown[: shown.index("!")].partition("| ")[2]

    assert under == " " * (len("    1 | ") + 2 * len(before)) + "^"


def test_the_underline_of_a_long_fault_ends_where_the_shown_line_ends() -> None:
    shown, under = _long("remark: " + "x" * 3_000, _on(1, 9, 3_009))

    assert (len(under), under.lstrip()) == (len(shown), "^" * under.count("^"))


def test_the_underline_of_a_long_fault_far_along_ends_where_the_shown_line_ends() -> None:
    shown, under = _long("x" * 500 + " " + "y" * 3_000, _on(1, 502, 3_502))

    assert (len(under), under.lstrip()) == (len(shown), "^" * under.count("^"))


@pytest.mark.parametrize(
    ("text", "span"),
    [("", _on(1, 1, 1)), ("one\n", _on(2, 1, 1)), ("one\n", _on(9, 1, 2)), ("one", _on(1, 1, 4, "b.yaml"))],
    ids=["empty file", "after the last line", "no such line", "file not read"],
)
def test_a_place_without_a_line_has_no_snippet(text: str, span: Span) -> None:
    assert _long(text, span) == []


def test_help_longer_than_a_line_is_wrapped_and_no_word_is_broken() -> None:
    help = "write " + ", ".join(f"`word-{n}`" for n in range(20))
    out = long.render([_finding(_on(1, 1, 1), "odd", help)], {})

    assert out == (
        """\
error floor-squeaks: odd
  at a.yaml:1:1
  what to do: write `word-0`, `word-1`, `word-2`, `word-3`, `word-4`, `word-5`, `word-6`, `word-7`,
    `word-8`, `word-9`, `word-10`, `word-11`, `word-12`, `word-13`, `word-14`, `word-15`, `word-16`,
    `word-17`, `word-18`, `word-19`
"""
    )


def test_a_name_in_the_help_is_never_broken_at_its_hyphen() -> None:
    help = "x" * 74 + " `salt-stairs`"
    out = long.render([_finding(_on(1, 1, 1), "odd", help)], {})

    assert "`salt-stairs`" in out


def test_lines_are_path_line_column_severity_name_message_and_rigs() -> None:
    found = [
        _finding(_on(3, 7, 11)),
        Diagnostic("rain", Severity.HINT, _on(1, 1, 1, "rigs/b.yaml"), "it rains", "go in", (), ("b-rig",)),
    ]

    assert lines.render(found) == (
        "a.yaml:3:7: error floor-squeaks: `x` is odd\nrigs/b.yaml:1:1: hint rain: it rains (on b-rig)\n"
    )


@pytest.mark.parametrize("strange", ["\n", "\r", "\x1b[31m", "\x00", "\x85", "\u2028", "\x9b31m"], ids=repr)
def test_a_control_character_in_a_message_is_never_printed_as_it_is(strange: str) -> None:
    finding = _finding(_on(1, 1, 4), f"`a{strange}b` is odd", f"not `a{strange}b`")
    rendered = lines.render([finding]) + long.render([finding], {})

    assert [c for c in rendered.replace("\n", "") if not c.isprintable()] == []
    assert len(lines.render([finding]).splitlines()) == 1


def test_json_has_stable_keys_in_a_stable_order() -> None:
    finding = Diagnostic(
        "rain",
        Severity.HINT,
        Span("a.yaml", 3, 7, 4, 1),
        "it rains in Łódź",
        "go in",
        (Related(_on(1, 2, 3, "b.yaml"), "clouds here"),),
        ("b-rig",),
    )

    assert as_json.render([finding]) == (
        """\
[
 {
  "name": "rain",
  "severity": "hint",
  "path": "a.yaml",
  "line": 3,
  "column": 7,
  "end_line": 4,
  "end_column": 1,
  "message": "it rains in Łódź",
  "help": "go in",
  "rigs": [
   "b-rig"
  ],
  "related": [
   {
    "path": "b.yaml",
    "line": 1,
    "column": 2,
    "end_line": 1,
    "end_column": 3,
    "message": "clouds here"
   }
  ]
 }
]
"""
    )


def test_json_escapes_what_json_must() -> None:
    finding = _finding(_on(1, 1, 2), 'a "b" \\ \n \x1b')

    assert [row["message"] for row in json.loads(as_json.render([finding]))] == ['a "b" \\ \n \x1b']


IN_ORDER = [
    Diagnostic("b", Severity.ERROR, _on(1, 1, 2), "m", "h"),
    Diagnostic("a", Severity.ERROR, _on(1, 1, 3), "m", "h"),
    Diagnostic("a", Severity.ERROR, _on(1, 2, 3), "m", "h"),
    Diagnostic("b", Severity.ERROR, _on(1, 2, 3), "m", "h"),
    Diagnostic("b", Severity.ERROR, _on(1, 2, 3), "n", "g"),
    Diagnostic("b", Severity.ERROR, _on(1, 2, 3), "n", "h"),
    Diagnostic("b", Severity.ERROR, _on(1, 2, 3), "n", "h", (), ("a-rig",)),
    Diagnostic("b", Severity.ERROR, _on(1, 2, 3), "n", "h", (Related(_on(1, 1, 2), "r"),)),
    Diagnostic("b", Severity.ERROR, _on(1, 2, 3), "n", "h", (Related(_on(1, 1, 2), "s"),)),
    Diagnostic("a", Severity.ERROR, _on(2, 1, 2), "m", "h"),
    Diagnostic("a", Severity.ERROR, _on(10, 1, 2), "m", "h"),
    Diagnostic("a", Severity.ERROR, _on(1, 1, 2, "b.yaml"), "m", "h"),
]
"""By path, line, column, end, severity, name, message, help, related places, rigs: each decides once."""


@pytest.mark.parametrize("seed", range(20))
def test_the_order_of_findings_does_not_hang_on_how_they_came(seed: int) -> None:
    shuffled = random.Random(seed).sample(IN_ORDER, len(IN_ORDER))

    assert in_order(shuffled) == IN_ORDER


def test_findings_that_differ_in_any_field_have_an_order() -> None:
    keys = [d.sort_key() for d in IN_ORDER]

    assert [a < b for a, b in itertools.pairwise(keys)] == [True] * (len(IN_ORDER) - 1)


def test_a_finding_told_twice_is_kept_once() -> None:
    assert in_order([IN_ORDER[0], IN_ORDER[3], IN_ORDER[0]]) == [IN_ORDER[0], IN_ORDER[3]]


def test_the_same_finding_on_two_rigs_of_three_is_one_that_names_them() -> None:
    finding = _finding(_on(1, 1, 2))

    assert merged(
        [finding.on_rig("b-rig"), finding.on_rig("a-rig")], {"a.yaml": ("a-rig", "b-rig", "c-rig")}
    ) == [Diagnostic("floor-squeaks", Severity.ERROR, _on(1, 1, 2), "`x` is odd", "", (), ("b-rig", "a-rig"))]


def test_the_same_finding_on_every_rig_that_uses_the_file_names_none() -> None:
    finding = _finding(_on(1, 1, 2))

    assert merged([finding.on_rig("a-rig"), finding.on_rig("b-rig")], {"a.yaml": ("a-rig", "b-rig")}) == [
        finding
    ]


def test_a_finding_that_holds_anywhere_and_on_a_rig_names_none() -> None:
    finding = _finding(_on(1, 1, 2))

    assert merged([finding.on_rig("a-rig"), finding], {"a.yaml": ("a-rig", "b-rig")}) == [finding]


def test_merged_findings_are_in_order() -> None:
    assert merged(IN_ORDER[::-1], {})[:2] == IN_ORDER[:2]
