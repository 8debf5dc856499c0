"""Controls that travel as program changes: they set no patch, and no patch has their numbers."""

from __future__ import annotations

from switchmatrix.pipeline import Judged
from tests.compile.shown import wire
from tests.support import judged, names

AMP = """definition: stage amp
programs: {count: 64, first: 1, repeat: nothing}
controls:
  boost: {kind: switch, cc: 80, main: yes}
  depth: {kind: level, cc: 20, range: [0, 127], stored: yes}
  channel: {kind: choice, program: yes, values: {clean: 100, crunch: 101-103}}
"""


def show_of(
    scenes: str, patches: str = "{one: {at: 1, stores: {depth: 5}}, two: 2}", amp: str = AMP
) -> Judged:
    """An amp on channel 5 with patches and a channel called by program number, and these scenes."""
    rig = f"""rig: A rig
ports: {{rack: {{out: rack, speed: din}}}}
devices:
  amp: {{port: rack, channel: 5, definition: stage-amp, patches: {patches}}}
home: {{amp: {{boost: on, depth: 9, patch: one}}}}
"""
    song = "song: Lantern\nscenes:\n" + scenes
    return judged({"rigs/a-rig.yaml": rig, "definitions/stage-amp.yaml": amp, "lantern.yaml": song})


def test_the_code_of_the_value_is_the_program_on_the_wire() -> None:
    show = show_of("  verse: {amp: {channel: clean}}\n  chorus: {amp.channel: crunch}\n")
    assert names(show) == []
    assert wire(show, "chorus", after="verse") == ["amp C4 66"]


def test_calling_a_channel_by_its_program_leaves_the_patch_known() -> None:
    show = show_of("  verse: {amp.channel: clean}\n  chorus: {amp.channel: crunch, amp.depth: 10}\n")
    assert wire(show, "chorus", after="verse") == ["amp B4 14 0A", "amp C4 66"]


def test_a_recall_leaves_a_channel_that_no_patch_stores_where_it_is() -> None:
    show = show_of(
        "  verse: {amp: {channel: clean}}\n  chorus: {amp: {channel: clean, patch: two, depth: 9}}\n"
    )
    assert wire(show, "chorus", after="verse") == ["amp C4 01", "amp B4 14 09"]


def test_the_patch_goes_before_the_channel() -> None:
    show = show_of("  verse: {amp: {channel: clean}}\n")
    assert wire(show, "verse") == ["amp C4 00", "amp B4 50 7F", "amp B4 14 09", "amp C4 64"]


def test_a_moved_channel_that_a_patch_lists_is_sent_by_its_own_program() -> None:
    stored = AMP.replace("crunch: 101-103}}", "crunch: 101-103}, stored: yes}")
    show = show_of(
        "  verse: {amp.channel: crunch}\n  chorus: {amp.channel: as stored}\n",
        "{one: {at: 1, stores: {channel: clean}}}",
        stored,
    )
    assert names(show) == []
    assert wire(show, "chorus", after="verse") == ["amp C4 64"]


def test_a_patch_of_a_number_that_is_a_channels_is_an_error() -> None:
    low = AMP.replace("clean: 100", "clean: 40")
    assert names(show_of("  verse: {amp.channel: clean}\n", "{one: 1, two: 41}", low)) == [
        "program-shared rigs/a-rig.yaml:4"
    ]


def test_the_number_that_counts_is_the_one_on_the_wire() -> None:
    low = AMP.replace("clean: 100", "clean: 40")
    assert names(show_of("  verse: {amp.channel: clean}\n", "{one: 1, two: 40}", low)) == []


def test_a_patch_inside_a_channels_range_of_numbers_is_an_error() -> None:
    low = AMP.replace("crunch: 101-103", "crunch: 20-30")
    assert names(show_of("  verse: {amp.channel: clean}\n", "{one: 1, two: 26}", low)) == [
        "program-shared rigs/a-rig.yaml:4"
    ]


def test_a_patch_that_no_scene_calls_must_be_disjoint_too() -> None:
    low = AMP.replace("clean: 100", "clean: 40")
    shared = "{one: 1, spare: 41}"
    assert names(show_of("  verse: {amp.channel: crunch}\n", shared, low)) == [
        "program-shared rigs/a-rig.yaml:4"
    ]
