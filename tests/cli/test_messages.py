"""`switchmatrix messages`: the exact messages of one scene, one a line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.kit import TWO_LEGS, lay, run

ONE_RECALL = {
    "lantern.yaml": """\
song: Lantern
scenes:
  verse: {echo: slap}

  chorus:
    echo: cliff
"""
}


def test_a_message_is_one_line_that_says_when_what_where_its_bytes_and_why(tmp_path: Path) -> None:
    ran = run("messages", lay(tmp_path, ONE_RECALL), "lantern", "chorus", "--after", "verse")

    assert (ran.code, ran.out, ran.err) == (
        0,
        "+0.0 to +35.6 ms  echo recalls cliff (panel 17)  rack ch 3  C2 10  lantern.yaml:6\n",
        "",
    )


# MIDI 1.0: a program change is C0-CF with one data byte, a control change B0-BF with two. A byte on a
# 31,250 baud line takes 10 bits, 320 µs; the echo settles for 35 ms after a recall.
def test_from_unknown_all_is_sent_in_columns(tmp_path: Path) -> None:
    ran = run("messages", lay(tmp_path), "lantern", "chorus")

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        """\
+0.0 to +35.6 ms   echo recalls cliff (panel 17)    rack ch 3  C2 10     lantern.yaml:5
+0.6 to +1.6 ms    gate-1 sets threshold to -38 dB  rack ch 2  B1 14 40  lantern.yaml:4
+35.6 to +36.6 ms  echo sets engage to on           rack ch 3  B2 50 7F  lantern.yaml:5
"""
    )


def test_without_a_scene_the_first_is_meant(tmp_path: Path) -> None:
    show = lay(tmp_path)

    assert run("messages", show, "lantern") == run("messages", show, "lantern", "verse")


def test_after_a_scene_only_what_differs_is_sent(tmp_path: Path) -> None:
    ran = run("messages", lay(tmp_path), "lantern", "chorus", "--after", "verse")

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        """\
+0.0 to +35.6 ms   echo recalls cliff (panel 17)  rack ch 3  C2 10     lantern.yaml:5
+35.6 to +36.6 ms  echo sets engage to on         rack ch 3  B2 50 7F  lantern.yaml:5
"""
    )


def test_in_hex_there_are_bytes_only(tmp_path: Path) -> None:
    ran = run("messages", lay(tmp_path), "lantern", "chorus", "--format", "hex")

    assert (ran.code, ran.out, ran.err) == (0, "C2 10\nB1 14 40\nB2 50 7F\n", "")


def test_in_json_there_is_all_that_is_known_of_a_message(tmp_path: Path) -> None:
    show = lay(tmp_path, ONE_RECALL)

    ran = run("messages", show, "lantern", "chorus", "--after", "verse", "--format", "json")

    assert (ran.code, ran.err) == (0, "")
    assert json.loads(ran.out) == [
        {
            "starts_us": 0,
            "lands_us": 35640,
            "port": "rack",
            "channel": 3,
            "device": "echo",
            "meaning": "recalls cliff (panel 17)",
            "bytes_hex": "C2 10",
            "file": "lantern.yaml",
            "line": 6,
            "layer": "scene chorus",
            "name": "echo.patch: cliff",
        }
    ]


@pytest.mark.parametrize(("form", "out"), [("text", "nothing to send\n"), ("hex", "")])
def test_a_scene_after_itself_sends_nothing(tmp_path: Path, form: str, out: str) -> None:
    ran = run("messages", lay(tmp_path), "lantern", "verse", "--after", "verse", "--format", form)

    assert (ran.code, ran.out, ran.err) == (0, out, "")


def test_a_scene_after_itself_is_an_empty_list_in_json(tmp_path: Path) -> None:
    ran = run("messages", lay(tmp_path), "lantern", "verse", "--after", "verse", "--format", "json")

    assert (ran.code, json.loads(ran.out)) == (0, [])


def test_a_second_visit_at_another_tempo_has_its_own_time(tmp_path: Path) -> None:
    show = lay(tmp_path, TWO_LEGS)

    ran = run("messages", show, "harbour", "swell@2", "--after", "swell@1")

    assert (ran.code, ran.out) == (
        0,
        "+0.0 to +1.0 ms  echo sets time to 300 ms  rack ch 3  B2 16 1E  harbour.yaml:4\n",
    )


def test_standing_names_the_scenes_of_no_song_and_the_rig_its_channel(tmp_path: Path) -> None:
    ran = run("messages", lay(tmp_path, TWO_LEGS), "standing", "changeover", "--rig", "b-rig")

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        """\
+0.0 to +35.6 ms   echo recalls slap (panel 4)      rack ch 4  C3 03     rigs/b-rig.yaml:17
+0.6 to +1.6 ms    gate-1 sets threshold to -55 dB  rack ch 2  B1 14 1E  rigs/b-rig.yaml:18
+35.6 to +36.6 ms  echo sets engage to off          rack ch 4  B3 50 00  rigs/b-rig.yaml:18
"""
    )


@pytest.mark.parametrize(
    ("args", "message"),
    [
        (("lanturn",), "no song is called lanturn: did you mean `lantern`?"),
        (("ebb",), "no song is called ebb: known here as songs: `harbour`, `lantern`, `standing`"),
        (("lantern", "chors"), "no scene is called chors: did you mean `chorus`?"),
        (("lantern", "outro"), "no scene is called outro: known here as scenes: `chorus`, `verse`"),
        (("lantern", "outro@2"), "no scene is called outro: known here as scenes: `chorus`, `verse`"),
        (("harbour", "swell@3"), "swell has 2 visits: write swell or swell@1 to swell@2"),
        (("harbour", "swell@0"), "swell has 2 visits: write swell or swell@1 to swell@2"),
        (("harbour", "swell@two"), "swell has 2 visits: write swell or swell@1 to swell@2"),
        (("harbour", "swell@"), "swell has 2 visits: write swell or swell@1 to swell@2"),
        (("lantern", "verse@2"), "verse has 1 visit: write verse or verse@1"),
        (("lantern", "verse", "--after", "vers"), "no scene is called vers: did you mean `verse`?"),
        (("lantern", "--leg", "sumer"), "no leg is called sumer: did you mean `summer`?"),
        (("lantern", "--rig", "c-rigs"), "no rig is called c-rigs: did you mean `a-rig`?"),
        (
            ("lantern", "--leg", "winter"),
            "no song is called lantern: known here as songs: `harbour`, `standing`",
        ),
        (("harbour", "--leg", "winter", "--rig", "b-rig"), "no rig is called b-rig: did you mean `a-rig`?"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_a_name_that_is_none_is_wrong_usage_with_the_nearest_known(
    tmp_path: Path, args: tuple[str, ...], message: str
) -> None:
    ran = run("messages", lay(tmp_path, TWO_LEGS), *args)

    assert (ran.code, ran.out, ran.err.splitlines()[-1]) == (2, "", f"Error: {message}")


def test_standing_on_a_rig_without_standing_scenes_is_wrong_usage(tmp_path: Path) -> None:
    ran = run("messages", lay(tmp_path), "standing")

    assert (ran.code, ran.out, ran.err.splitlines()[-1]) == (
        2,
        "",
        "Error: the rig has no standing scenes",
    )


def test_a_show_with_an_error_has_no_messages(tmp_path: Path) -> None:
    show = lay(tmp_path, {"lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: tigh}\n"})

    ran = run("messages", show, "lantern", "verse")

    assert (ran.code, ran.out) == (1, "")
    assert ran.err == (
        """\
error unknown-word: `gate` has no word `tigh`
  at lantern.yaml:3:17
    3 |   verse: {gate: tigh}
                        ^^^^
  what to do: did you mean `tight`?

1 error: nothing was compiled
"""
    )
