"""One mistake brings one message, and what stands beside it is still checked."""

from __future__ import annotations

import pytest

from tests.support import BASE_SHOW, findings, judged, names

PLACES = [
    (path, number)
    for path, kept in [
        ("lantern.yaml", None),
        ("show.yaml", ": ,{}[]\n"),
        ("rigs/a-rig.yaml", ":{}[]"),
        ("definitions/two-tap-echo.yaml", ":{}[]"),
    ]
    for number, char in enumerate((BASE_SHOW / path).read_text(encoding="utf-8"))
    if kept is None or char in kept
]
"""Every character of the song, and in the other files those that YAML's structure hangs on."""


def _place(place: tuple[str, int]) -> str:
    path, number = place
    text = (BASE_SHOW / path).read_text(encoding="utf-8")
    line, column = text.count("\n", 0, number) + 1, number - text.rfind("\n", 0, number)
    return f"{path}:{line}:{column} {text[number]!r}"


@pytest.mark.parametrize("place", PLACES, ids=_place)
def test_a_character_left_out_brings_one_message_at_most(place: tuple[str, int]) -> None:
    path, number = place
    text = (BASE_SHOW / path).read_text(encoding="utf-8")

    show = judged({path: text[:number] + text[number + 1 :]})

    assert {(d.name, d.message) for d in show.found[1:]} <= {(d.name, d.message) for d in show.found[:1]}


def test_two_wrong_words_in_two_scenes_are_both_told() -> None:
    song = """\
song: Lantern
scenes:
  verse: {gate: tigh}
  chorus: {gate: lose}
"""

    assert names(judged({"lantern.yaml": song})) == [
        "unknown-word lantern.yaml:3",
        "unknown-word lantern.yaml:4",
    ]


def test_a_wrong_line_hides_no_other_line_of_its_scene() -> None:
    song = """\
song: Lantern
scenes:
  verse:
    gate: tigh
    echo: {mix: 40, time: 9 s}
    remrak: louder
"""

    assert names(judged({"lantern.yaml": song})) == [
        "unknown-word lantern.yaml:4",
        "bad-value lantern.yaml:5",
        "out-of-range lantern.yaml:5",
        "unknown-name lantern.yaml:6",
    ]


def test_a_song_that_is_no_yaml_hides_no_other_song() -> None:
    show = judged(
        {
            "show.yaml": "show: T\nrigs: [a-rig]\nlegs:\n  tour: {rigs: [a-rig], setlist: [lantern, ebb]}\n",
            "lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: tight\n",
            "ebb.yaml": "song: Ebb\nscenes:\n  verse: {gate: tigh}\n",
        }
    )

    assert names(show) == ["unknown-word ebb.yaml:3", "yaml-syntax lantern.yaml:3"]


def test_a_device_that_cannot_be_read_hides_no_other_device_and_its_lines_are_passed_by() -> None:
    rig = (BASE_SHOW / "rigs/a-rig.yaml").read_text(encoding="utf-8").replace("channel: 3", "channel: 0")
    song = """\
song: Lantern
scenes:
  verse: {gate: tigh, echo: {mix: 40 %}}
  chorus: {echo: cliff, ecko: on}
"""

    assert names(judged({"rigs/a-rig.yaml": rig, "lantern.yaml": song})) == [
        "unknown-word lantern.yaml:3",
        "unknown-name lantern.yaml:4",
        "number-outside rigs/a-rig.yaml:8",
    ]


def test_a_definition_that_is_no_yaml_hides_no_mistake_about_another_device() -> None:
    show = judged(
        {
            "definitions/two-tap-echo.yaml": "definition: two-tap echo\nprograms: {count: 128\n",
            "lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate-1.threshold: -38, echo: {mix: 40}}\n",
        }
    )

    assert names(show) == ["yaml-syntax definitions/two-tap-echo.yaml:2", "bad-value lantern.yaml:3"]


def test_a_rig_that_is_no_yaml_hides_no_mistake_in_places_and_likes() -> None:
    show = judged(
        {
            "rigs/a-rig.yaml": "rig: A rig\nports: {rack: {out: rack\n",
            "lantern.yaml": """\
song: Lantern
tempo: fast
scenes:
  verse: {at: bar1, gate: tight}
  chorus: {at: bar 9, like: vrse}
""",
        }
    )

    assert names(show) == [
        "wrong-shape lantern.yaml:2",
        "bad-place lantern.yaml:4",
        "unknown-name lantern.yaml:5",
        "yaml-syntax rigs/a-rig.yaml:2",
    ]


def test_a_broken_scene_may_still_be_named_by_others() -> None:
    song = """\
song: Lantern
scenes:
  verse:
  chorus: {like: verse, gate: tigh}
"""

    assert names(judged({"lantern.yaml": song})) == [
        "value-missing lantern.yaml:3",
        "unknown-word lantern.yaml:4",
    ]


def test_a_broken_word_may_still_be_used() -> None:
    rig = (
        (BASE_SHOW / "rigs/a-rig.yaml")
        .read_text(encoding="utf-8")
        .replace("tight: {gate-1.threshold: -38 dB}", "tight: {gate-1.threshold: -38}")
    )

    assert names(judged({"rigs/a-rig.yaml": rig})) == ["bad-value rigs/a-rig.yaml:15"]


def test_a_broken_patch_may_still_be_chosen() -> None:
    rig = (BASE_SHOW / "rigs/a-rig.yaml").read_text(encoding="utf-8").replace("at: 17", "at: 170")

    assert names(judged({"rigs/a-rig.yaml": rig})) == ["patch-outside rigs/a-rig.yaml:12"]


def test_a_broken_control_may_still_be_set_and_stored() -> None:
    definition = (
        (BASE_SHOW / "definitions/two-tap-echo.yaml").read_text(encoding="utf-8").replace("cc: 21", "cc: 121")
    )
    song = "song: Lantern\nscenes:\n  verse: {echo: {engage: on, mix: 40 %}}\n"

    assert names(judged({"definitions/two-tap-echo.yaml": definition, "lantern.yaml": song})) == [
        "cc-reserved definitions/two-tap-echo.yaml:5"
    ]


def test_a_broken_main_switch_may_still_be_turned() -> None:
    definition = (
        (BASE_SHOW / "definitions/two-tap-echo.yaml")
        .read_text(encoding="utf-8")
        .replace("main: yes", "main: true")
    )
    song = "song: Lantern\nscenes:\n  verse: {echo: off}\n"

    assert names(judged({"definitions/two-tap-echo.yaml": definition, "lantern.yaml": song})) == [
        "wrong-shape definitions/two-tap-echo.yaml:4"
    ]


def test_one_mistake_on_two_rigs_is_told_once() -> None:
    rig = (BASE_SHOW / "rigs/a-rig.yaml").read_text(encoding="utf-8")
    show = judged(
        {
            "rigs/b-rig.yaml": rig.replace("rig: A rig", "rig: B rig"),
            "show.yaml": """\
show: T
rigs: [a-rig, b-rig]
legs:
  tour: {rigs: [a-rig, b-rig], setlist: [lantern]}
  gala: {rigs: [b-rig], setlist: [lantern]}
""",
            "lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: tigh}\n",
        }
    )

    assert findings(show) == ["lantern.yaml:3:17: error unknown-word: `gate` has no word `tigh`"]


def test_a_mistake_on_one_rig_of_two_names_the_rig() -> None:
    rig = (BASE_SHOW / "rigs/a-rig.yaml").read_text(encoding="utf-8")
    show = judged(
        {
            "rigs/b-rig.yaml": rig.replace("    tight:", "    closed:"),
            "show.yaml": "show: T\nrigs: [a-rig, b-rig]\nlegs:\n"
            "  tour: {rigs: [a-rig, b-rig], setlist: [lantern]}\n",
        }
    )

    assert findings(show) == ["lantern.yaml:4:28: error unknown-word: `gate` has no word `tight` (on b-rig)"]
