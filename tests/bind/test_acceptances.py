"""Findings that a show accepts: warnings become hints, hints are not said, errors stay."""

from __future__ import annotations

import json

import pytest

from switchmatrix.diagnostics.as_json import render as as_json
from tests.support import findings, judged

COARSE = "song: Lantern\nscenes: {verse: {echo: {engage: on, time: 14 ms}}}\n"
"""A time that the echo can only hold to the next ten milliseconds: a warning, `rounded`."""
ROUNDED = (
    "lantern.yaml:2:43: warning rounded: `echo.time`: asked 14 ms, gets 10 ms, "
    "the nearest that the device can hold"
)
LOWERED = ROUNDED.replace("warning", "hint")
LEFT = "song: Lantern\nscenes: {verse: {at: bar 1, gate: tight}, lull: {gate: loose}}\ntempo: 120\n"
"""A scene that nothing visits: a hint, `never-visited`."""


def found(*accepted: str, song: str = COARSE, more: str = "", **files: str) -> list[str]:
    """The findings of a show that accepts what stands in these blocks."""
    lines = "".join(f"  - {{{block}}}\n" for block in accepted)
    show = (
        "show: Tidewrack\nrigs: [a-rig]\naccept:\n"
        f"{lines}{more}legs:\n  tour: {{rigs: [a-rig], setlist: [lantern]}}\n"
    )
    return findings(judged({"show.yaml": show, "lantern.yaml": song, **files}))


def test_a_warning_becomes_a_hint() -> None:
    assert found("name: rounded, where: lantern.yaml, because: nobody hears it") == [LOWERED]


def test_its_reason_is_its_help() -> None:
    show = judged({"show.yaml": ACCEPTING, "lantern.yaml": COARSE})
    assert [finding.help for finding in show.found] == ["accepted: nobody hears it"]


ACCEPTING = """\
show: Tidewrack
rigs: [a-rig]
accept: [{name: rounded, where: lantern.yaml, because: nobody hears it}]
legs: {tour: {rigs: [a-rig], setlist: [lantern]}}
"""


def test_a_hint_is_not_said() -> None:
    assert found("name: never-visited, where: lantern.yaml, because: by hand", song=LEFT) == []


@pytest.mark.parametrize("about", ["`echo.time`", "14 ms", "gets 10 ms, the nearest", "echo.time"])
def test_with_text_the_message_must_have_it(about: str) -> None:
    block = f'name: rounded, where: "lantern.yaml {about}", because: nobody hears it'
    assert found(block) == [LOWERED]


@pytest.mark.parametrize(
    ("block", "message"),
    [
        (
            "name: rounded, where: lantern.yaml echo.mix, because: x",
            "no warning or hint `rounded` about `echo.mix` is found in `lantern.yaml` any more",
        ),
        (
            "name: rounded, where: harbour.yaml, because: x",
            "no warning or hint `rounded` is found in `harbour.yaml` any more",
        ),
        (
            "name: undetermined, where: lantern.yaml, because: x",
            "no warning or hint `undetermined` is found in `lantern.yaml` any more",
        ),
    ],
)
def test_an_acceptance_that_nothing_fits_is_said_beside_what_it_missed(block: str, message: str) -> None:
    assert found(block) == [ROUNDED, f"show.yaml:4:5: warning accepted-nothing: {message}"]


def test_of_several_each_that_nothing_fits_is_said_at_its_own_line() -> None:
    fits = "name: rounded, where: lantern.yaml, because: x"
    assert found(
        "name: rounded, where: ebb.yaml, because: x",
        fits,
        "name: like-order, where: lantern.yaml, because: x",
    ) == [
        LOWERED,
        (
            "show.yaml:4:5: warning accepted-nothing: no warning or hint `rounded` is "
            "found in `ebb.yaml` any more"
        ),
        (
            "show.yaml:6:5: warning accepted-nothing: no warning or hint `like-order` "
            "is found in `lantern.yaml` any more"
        ),
    ]


def test_one_acceptance_is_for_every_finding_that_it_fits() -> None:
    song = (
        "song: Lantern\nscenes:\n  verse: {echo: {engage: on, time: 14 ms}}\n"
        "  lull: {echo: {engage: on, time: 24 ms}}\n"
    )
    severities = [
        line.split()[1] for line in found("name: rounded, where: lantern.yaml, because: x", song=song)
    ]
    assert severities == ["hint", "hint"]


def test_only_the_one_with_the_text_is_lowered() -> None:
    song = (
        "song: Lantern\nscenes:\n  verse: {echo: {engage: on, time: 14 ms}}\n"
        "  lull: {echo: {engage: on, time: 24 ms}}\n"
    )
    severities = [
        line.split()[1] for line in found("name: rounded, where: lantern.yaml 24 ms, because: x", song=song)
    ]
    assert severities == ["warning", "hint"]


def test_a_file_with_a_space_in_its_name_is_one_file() -> None:
    show = """\
show: Tidewrack
rigs: [a-rig]
accept: [{name: rounded, where: low tide.yaml echo.time, because: x}]
legs: {tour: {rigs: [a-rig], setlist: [low tide]}}
"""
    heard = findings(
        judged(
            {
                "show.yaml": show,
                "low tide.yaml": COARSE,
                "lantern.yaml": "song: L\nscenes: {v: {gate: tight}}\n",
            }
        )
    )
    assert [line.split(": ")[1] for line in heard] == ["hint song-unused", "hint rounded"]


def test_a_name_that_there_is_not_is_an_error() -> None:
    assert found("name: roundet, where: lantern.yaml, because: x") == [
        ROUNDED,
        "show.yaml:4:12: error unknown-name: no finding is called `roundet`",
    ]


@pytest.mark.parametrize("name", ["unknown-word", "over-limit", "channel-clash", "hazard"])
def test_an_error_cannot_be_accepted(name: str) -> None:
    assert found(f"name: {name}, where: lantern.yaml, because: x") == [
        ROUNDED,
        f"show.yaml:4:12: error bad-value: `{name}` is an error: it cannot be accepted",
    ]


def test_an_error_keeps_its_severity_beside_an_acceptance_of_its_place() -> None:
    song = "song: Lantern\nscenes: {verse: {gate: tihgt, echo: {engage: on, time: 14 ms}}}\n"
    heard = found("name: rounded, where: lantern.yaml, because: x", song=song)
    assert [line.split()[1] for line in heard] == ["error", "hint"]


def test_beside_an_error_no_acceptance_is_said_to_fit_nothing() -> None:
    song = "song: Lantern\nscenes: {verse: {gate: tihgt}}\n"
    assert found("name: repeats-scene, where: lantern.yaml, because: x", song=song) == [
        "lantern.yaml:2:24: error unknown-word: `gate` has no word `tihgt`"
    ]


@pytest.mark.parametrize("lacking", ["name", "where", "because"])
def test_an_acceptance_says_all_three(lacking: str) -> None:
    keys = {"name": "rounded", "where": "lantern.yaml", "because": "x"}
    block = ", ".join(f"{key}: {text}" for key, text in keys.items() if key != lacking)
    heard = found(block)
    assert [line.split()[1:3] for line in heard] == [["warning", "rounded:"], ["error", "missing-key:"]]


def test_a_finding_of_one_of_several_rigs_is_accepted_where_it_stands() -> None:
    show = """\
show: Tidewrack
rigs: [a-rig, b-rig]
accept: [{name: rounded, where: lantern.yaml, because: x}]
legs: {tour: {rigs: [a-rig, b-rig], setlist: [lantern]}}
"""
    coarse = """\
definition: coarse echo
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %]}
  time: {kind: time, cc: 22, range: [0 ms, 12700 ms]}
programs: {count: 128, first: 1}
"""
    rig = """\
rig: B rig
like: a-rig
devices: {echo: {definition: coarse-echo, patches: {cliff: 17}}}
home: {echo: {mix: 0 %, time: 0 ms}}
"""
    song = "song: Lantern\nscenes: {verse: {echo: {engage: on, time: 140 ms}}}\n"
    files = {"show.yaml": show, "definitions/coarse-echo.yaml": coarse, "lantern.yaml": song}
    assert findings(judged({**files, "rigs/b-rig.yaml": rig})) == [
        "lantern.yaml:2:43: hint rounded: `echo.time`: asked 140 ms, gets 100 ms, "
        "the nearest that the device can hold (on b-rig)"
    ]


def test_in_json_an_accepted_warning_is_a_hint_with_its_reason() -> None:
    show = judged({"show.yaml": ACCEPTING, "lantern.yaml": COARSE})
    told = [(one["name"], one["severity"], one["help"]) for one in json.loads(as_json(show.found))]
    assert told == [("rounded", "hint", "accepted: nobody hears it")]
