"""Changes: a rig's, then a leg's, each a layer directly over its block wherever the block is used."""

from __future__ import annotations

from tests.states.kit import show, shown
from tests.support import names, song, visit

RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB, gate-1.release: 60 ms}
    loose: {gate-1.threshold: -55 dB}
home: {gate-1: {threshold: -70 dB, release: 250 ms}, echo: {engage: on, patch: slap, feed: 0 %}}
"""

HOME = {
    "gate-1.threshold": "-70 dB",
    "gate-1.release": "250 ms",
    "echo.patch": "slap",
    "echo.engage": "on",
    "echo.feed": "0 %",
    "echo.mix": "as slap",
    "echo.time": "as slap",
}


def rig_changes(text: str) -> str:
    """The rig with its changes to the song."""
    return RIG + f"changes: {{lantern: {text}}}\n"


def leg_changes(text: str) -> dict[str, str]:
    """A show file whose leg changes the song."""
    leg = "legs:\n  tour:\n    rigs: [a-rig]\n    setlist: [lantern]\n"
    return {"show.yaml": f"show: Tidewrack\nrigs: [a-rig]\n{leg}    changes: {{lantern: {text}}}\n"}


def test_a_change_lies_over_the_scene_that_it_changes() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate-1.threshold: -60 dB}\n"
    rig = rig_changes("{scenes: {verse: {gate-1.threshold: -30 dB, echo.feed: 15 %}}}")
    expected = {**HOME, "gate-1.threshold": "-30 dB", "echo.feed": "15 %"}
    assert shown(show(rig, lantern), "verse") == expected


def test_children_of_a_changed_scene_see_the_change() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate-1.threshold: -60 dB}
  chorus: {like: verse, echo.feed: 40 %}
"""
    rig = rig_changes("{scenes: {verse: {gate-1.threshold: -30 dB}}}")
    expected = {**HOME, "gate-1.threshold": "-30 dB", "echo.feed": "40 %"}
    assert shown(show(rig, lantern), "chorus") == expected


def test_a_childs_own_line_beats_the_change_to_its_parent() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate: tight}
  chorus: {like: verse, gate-1.threshold: -45 dB}
"""
    rig = rig_changes("{scenes: {verse: {gate-1: {threshold: -30 dB, release: 80 ms}}}}")
    expected = {**HOME, "gate-1.threshold": "-45 dB", "gate-1.release": "80 ms"}
    assert shown(show(rig, lantern), "chorus") == expected


def test_a_change_to_an_earlier_parent_lies_under_a_later_parent() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate-1.threshold: -60 dB}
  chorus: {gate-1.threshold: -50 dB}
  finale: {like: [verse, chorus], echo.feed: 40 %}
"""
    rig = rig_changes("{scenes: {verse: {gate-1: {threshold: -30 dB, release: 80 ms}}}}")
    expected = {**HOME, "gate-1.threshold": "-50 dB", "gate-1.release": "80 ms", "echo.feed": "40 %"}
    assert shown(show(rig, lantern), "finale") == expected


def test_a_change_to_the_base_lies_under_every_scene() -> None:
    lantern = """\
song: Lantern
base: {gate-1: {threshold: -60 dB, release: 90 ms}}
scenes:
  verse: {gate-1.threshold: -50 dB}
"""
    changes = leg_changes("{base: {gate-1: {threshold: -30 dB, release: 80 ms}}}")
    expected = {**HOME, "gate-1.threshold": "-50 dB", "gate-1.release": "80 ms"}
    assert shown(show(RIG, lantern, changes), "verse") == expected


def test_a_song_without_a_base_may_have_its_base_changed() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.feed: 40 %}\n"
    expected = {**HOME, "gate-1.threshold": "-55 dB", "echo.feed": "40 %"}
    assert shown(show(rig_changes("{base: {gate: loose}}"), lantern), "verse") == expected


def test_a_legs_change_lies_over_the_rigs_change() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate-1.threshold: -60 dB}\n"
    rig = rig_changes("{scenes: {verse: {gate-1: {threshold: -30 dB, release: 80 ms}}}}")
    leg = leg_changes("{scenes: {verse: {gate-1.threshold: -25 dB}}}")
    expected = {**HOME, "gate-1.threshold": "-25 dB", "gate-1.release": "80 ms"}
    assert shown(show(rig, lantern, leg), "verse") == expected


def test_a_legs_change_to_the_base_lies_under_a_rigs_change_to_the_scene() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.feed: 40 %}\n"
    rig = rig_changes("{scenes: {verse: {gate-1.threshold: -30 dB}}}")
    leg = leg_changes("{base: {gate-1: {threshold: -25 dB, release: 80 ms}}}")
    expected = {**HOME, "gate-1.threshold": "-30 dB", "gate-1.release": "80 ms", "echo.feed": "40 %"}
    assert shown(show(rig, lantern, leg), "verse") == expected


def test_a_changed_word_leaves_nothing_of_its_blocks_word() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight}\n"
    rig = rig_changes("{scenes: {verse: {gate: loose}}}")
    assert shown(show(rig, lantern), "verse") == {**HOME, "gate-1.threshold": "-55 dB"}


def test_a_changed_word_lies_over_the_outright_lines_of_its_block() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight, gate-1.threshold: -60 dB}\n"
    rig = rig_changes("{scenes: {verse: {gate: loose}}}")
    assert shown(show(rig, lantern), "verse") == {**HOME, "gate-1.threshold": "-55 dB"}


def test_a_change_that_repeats_its_blocks_word_is_passed_over() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight, gate-1.threshold: -60 dB}\n"
    rig = rig_changes("{scenes: {verse: {gate: tight, echo.feed: 15 %}}}")
    # Laid again, `tight` would beat the outright -60 dB of its block.
    expected = {**HOME, "gate-1.threshold": "-60 dB", "gate-1.release": "60 ms", "echo.feed": "15 %"}
    assert shown(show(rig, lantern), "verse") == expected


def test_a_change_that_repeats_its_blocks_patch_does_not_clear_the_blocks_edits() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo: {patch: cliff, mix: 50 %}}\n"
    rig = rig_changes("{scenes: {verse: {echo.patch: cliff, echo.feed: 15 %}}}")
    assert shown(show(rig, lantern), "verse") == {
        **HOME,
        "echo.patch": "cliff",
        "echo.feed": "15 %",
        "echo.mix": "50 %",
        "echo.time": "as cliff: 480 ms",
    }


def test_a_change_that_repeats_what_only_a_parent_says_is_a_line_of_its_own() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {gate: tight}
  chorus: {like: verse, gate-1.threshold: -60 dB}
"""
    # The chorus's own block says nothing of the gate: its change lays `tight` over the outright line.
    rig = rig_changes("{scenes: {chorus: {gate: tight}}}")
    expected = {**HOME, "gate-1.threshold": "-38 dB", "gate-1.release": "60 ms"}
    assert shown(show(rig, lantern), "chorus") == expected


def test_a_legs_change_that_repeats_the_rigs_change_is_passed_over() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight}\n"
    rig = rig_changes("{scenes: {verse: {gate: loose, gate-1.threshold: -50 dB}}}")
    leg = leg_changes("{scenes: {verse: {gate: loose}}}")
    assert shown(show(rig, lantern, leg), "verse") == {**HOME, "gate-1.threshold": "-50 dB"}


def test_a_legs_change_back_to_what_the_block_said_before_the_rigs_change_counts() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight, gate-1.threshold: -60 dB}\n"
    rig = rig_changes("{scenes: {verse: {gate: loose}}}")
    leg = leg_changes("{scenes: {verse: {gate: tight}}}")
    expected = {**HOME, "gate-1.threshold": "-38 dB", "gate-1.release": "60 ms"}
    assert shown(show(rig, lantern, leg), "verse") == expected


def test_changes_reach_only_their_own_leg() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight}\n"
    legs = """\
show: Tidewrack
rigs: [a-rig]
legs:
  summer: {rigs: [a-rig], setlist: [lantern]}
  winter:
    rigs: [a-rig]
    setlist: [lantern]
    changes: {lantern: {scenes: {verse: {gate: loose}}}}
"""
    judged = show(RIG, lantern, {"show.yaml": legs})
    summer = {**HOME, "gate-1.threshold": "-38 dB", "gate-1.release": "60 ms"}
    winter = {**HOME, "gate-1.threshold": "-55 dB"}
    assert (shown(judged, "verse", leg=0), shown(judged, "verse", leg=1)) == (summer, winter)


def test_a_change_may_replace_the_remark() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight, remark: stand still}\n"
    rig = rig_changes("{scenes: {verse: {remark: sit down}}}")
    judged = show(rig, lantern)
    _, states = song(judged, "lantern")
    assert (names(judged), visit(states, "verse").remark) == ([], "sit down")
