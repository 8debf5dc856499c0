"""A scalar is text until the place it stands in reads it: no octal, no base of sixty, no booleans.

YAML 1.1 (type repository: int, float, bool, null, timestamp) reads each of these as something else.
"""

from __future__ import annotations

import pytest

from tests.support import BASE_SHOW, findings, judged, sent

ODD = [
    "08",
    "010",
    "0x10",
    "0b11",
    "1_000",
    "1:05",
    "12:30:45",
    "1e3",
    "1.0",
    ".5",
    "+1",
    "-0",
    "no",
    "yes",
    "on",
    "off",
    "true",
    "Null",
    "null",
    "~",
    ".inf",
    ".nan",
    "2026-01-31",
    "=",
]


@pytest.mark.parametrize("text", ODD)
def test_a_title_is_the_text_as_it_is_written(text: str) -> None:
    show = judged({"lantern.yaml": f"song: {text}\nscenes:\n  verse: {{gate: tight}}\n"})
    song = show.model.songs["lantern"]

    assert (findings(show), song is not None and song.song.title) == ([], text)


@pytest.mark.parametrize("text", [text for text in ODD if "." not in text])
def test_a_scene_may_be_called_anything_and_be_liked_by_that_name(text: str) -> None:
    song = f"song: Lantern\nscenes:\n  {text}: {{gate: tight}}\n  chorus: {{like: {text}, echo: cliff}}\n"
    show = judged({"lantern.yaml": song})
    bound = show.model.songs["lantern"]

    assert (findings(show), bound is not None and [s.name for s in bound.song.scenes]) == (
        [],
        [text, "chorus"],
    )


@pytest.mark.parametrize("text", ["08", "010", "1:05", "no", "yes", "1e3", "null", "~", "true"])
def test_a_patch_and_a_word_may_be_called_anything_that_has_no_meaning_of_its_own(text: str) -> None:
    rig = (
        (BASE_SHOW / "rigs/a-rig.yaml")
        .read_text(encoding="utf-8")
        .replace("cliff:", f"{text}:")
        .replace("tight:", f"{text}:")
    )
    song = f"song: Lantern\nscenes:\n  verse: {{gate: {text}, echo: {text}}}\n"

    assert sent(judged({"rigs/a-rig.yaml": rig, "lantern.yaml": song}), "lantern", "verse") == [
        f"echo recalls {text} (panel 17) C2 10",
        "gate-1 sets threshold to -38 dB B1 14 40",
        "echo sets engage to on B2 50 7F",
    ]


@pytest.mark.parametrize("text", ["on", "off", "home", "leave", "as stored", "nothing", "any", "none"])
def test_a_word_cannot_be_called_what_has_a_meaning_of_its_own(text: str) -> None:
    rig = (BASE_SHOW / "rigs/a-rig.yaml").read_text(encoding="utf-8").replace("tight:", f"{text}:")
    song = f"song: Lantern\nscenes:\n  verse: {{gate: {text}}}\n"

    assert findings(judged({"rigs/a-rig.yaml": rig, "lantern.yaml": song})) == [
        f"rigs/a-rig.yaml:15:5: error bad-name: `{text}` cannot name a word:"
        " the word has a meaning of its own"
    ]


# A channel 03 is channel 3 (wire 2), a panel number 010 is 10 (wire 9), never octal 8.
def test_a_number_with_a_zero_before_it_is_decimal() -> None:
    rig = (
        (BASE_SHOW / "rigs/a-rig.yaml")
        .read_text(encoding="utf-8")
        .replace("channel: 3", "channel: 03")
        .replace("at: 17", "at: 010")
    )
    song = "song: Lantern\nscenes:\n  verse: {gate: tight, echo: cliff}\n"

    assert sent(judged({"rigs/a-rig.yaml": rig, "lantern.yaml": song}), "lantern", "verse") == [
        "echo recalls cliff (panel 10) C2 09",
        "gate-1 sets threshold to -38 dB B1 14 40",
        "echo sets engage to on B2 50 7F",
    ]


@pytest.mark.parametrize("value", ["08 %", "8 %", "8.0 %", "'8 %'", '"8 %"', "8%"])
def test_a_value_means_the_same_however_it_is_written(value: str) -> None:
    song = f"song: Lantern\nscenes:\n  verse: {{gate: tight, echo: {{engage: on, mix: {value}}}}}\n"

    assert sent(judged({"lantern.yaml": song}), "lantern", "verse")[-1] == "echo sets mix to 8 % B2 15 08"


# The place of a second visit at 1:05 is 65 seconds: at 120 quarter notes a minute, bar 33 and a half.
def test_a_place_in_minutes_is_minutes_and_seconds() -> None:
    song = """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 33, gate: tight}
  chorus: {at: 1:05, gate: loose}
  outro: {at: bar 34, gate: tight, echo: cliff}
"""

    assert findings(judged({"lantern.yaml": song})) == []


@pytest.mark.parametrize("places", ["bar 34, 1:05", "1:05, bar 33"])
def test_a_place_in_minutes_is_held_against_places_in_bars(places: str) -> None:
    song = f"""\
song: Lantern
tempo: 120
scenes:
  verse: {{at: bar 1, gate: tight}}
  chorus: {{at: [{places}], gate: loose}}
"""

    assert [d.name for d in judged({"lantern.yaml": song}).found] == ["places-out-of-order"]
