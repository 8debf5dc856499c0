"""The player's controls belong to a scene's state only where the scene's own chain names them."""

from __future__ import annotations

from tests.states.kit import show, shown
from tests.support import names

RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  wah: {port: rack, channel: 2, definition: treadle-wah}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}
instruments:
  baritone: {tuning: B standard, sets: {wah.sweep: 30 %}}
vocabulary:
  solo:
    up: {wah.sweep: 90 %, echo.feed: 70 %}
    down: {echo.feed: 10 %}
hands: [wah.engage, wah.sweep]
home: {wah: {engage: off, sweep: 0 %}, echo: {engage: on, patch: slap, feed: 0 %}}
"""

HOME = {
    "wah.engage": "held",
    "wah.sweep": "held",
    "echo.patch": "slap",
    "echo.engage": "on",
    "echo.feed": "0 %",
    "echo.mix": "as slap",
    "echo.time": "as slap",
}


def test_home_does_not_move_the_players_pedal() -> None:
    judged = show(RIG, "song: Lantern\nscenes:\n  verse: {}\n")
    assert (names(judged), shown(judged, "verse")) == ([], HOME)


def test_the_base_does_not_move_the_players_pedal_and_is_a_warning() -> None:
    lantern = "song: Lantern\nbase: {wah.sweep: 50 %}\nscenes:\n  verse: {}\n"
    judged = show(RIG, lantern)
    assert (names(judged), shown(judged, "verse")) == (["hands-in-base lantern.yaml:2"], HOME)


def test_a_word_of_the_base_does_not_move_the_players_pedal_and_is_a_warning() -> None:
    lantern = "song: Lantern\nbase: {solo: up}\nscenes:\n  verse: {}\n"
    judged = show(RIG, lantern)
    expected = {**HOME, "echo.feed": "70 %"}
    assert (names(judged), shown(judged, "verse")) == (["hands-in-base lantern.yaml:2"], expected)


def test_a_change_to_the_base_does_not_move_the_players_pedal() -> None:
    rig = RIG + "changes: {lantern: {base: {wah.sweep: 50 %}}}\n"
    judged = show(rig, "song: Lantern\nscenes:\n  verse: {}\n")
    assert [line.split()[0] for line in names(judged)] == ["hands-in-base"]
    assert shown(judged, "verse") == HOME


def test_the_instrument_does_not_move_the_players_pedal_and_is_a_warning() -> None:
    lantern = "song: Lantern\ninstrument: baritone\nscenes:\n  verse: {}\n"
    judged = show(RIG, lantern)
    assert [line.split()[0] for line in names(judged)] == ["hands-in-base"]
    assert shown(judged, "verse") == HOME


def test_a_scene_that_names_the_players_pedal_sets_it() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {wah.sweep: 50 %}\n"
    judged = show(RIG, lantern)
    assert (names(judged), shown(judged, "verse")) == ([], {**HOME, "wah.sweep": "50 %"})


def test_a_scene_that_names_the_players_pedal_by_a_word_sets_it() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {solo: up}\n"
    judged = show(RIG, lantern)
    expected = {**HOME, "wah.sweep": "90 %", "echo.feed": "70 %"}
    assert (names(judged), shown(judged, "verse")) == ([], expected)


def test_a_scene_like_one_that_names_the_players_pedal_sets_it() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {solo: up}
  chorus: {like: verse, wah.engage: on}
  bridge: {like: chorus, echo.feed: 5 %}
"""
    expected = {**HOME, "wah.engage": "on", "wah.sweep": "90 %", "echo.feed": "5 %"}
    assert shown(show(RIG, lantern), "bridge") == expected


def test_a_rigs_change_to_the_scene_that_names_the_players_pedal_sets_it() -> None:
    rig = RIG + "changes: {lantern: {scenes: {verse: {wah.sweep: 50 %}}}}\n"
    lantern = "song: Lantern\nscenes:\n  verse: {echo.feed: 5 %}\n"
    assert shown(show(rig, lantern), "verse") == {**HOME, "wah.sweep": "50 %", "echo.feed": "5 %"}


def test_a_rigs_change_to_a_parent_that_names_the_players_pedal_sets_it() -> None:
    rig = RIG + "changes: {lantern: {scenes: {verse: {solo: up}}}}\n"
    lantern = "song: Lantern\nscenes:\n  verse: {echo.mix: 5 %}\n  chorus: {like: verse, echo.feed: 5 %}\n"
    expected = {**HOME, "wah.sweep": "90 %", "echo.feed": "5 %", "echo.mix": "5 %"}
    assert shown(show(rig, lantern), "chorus") == expected


def test_a_word_that_goes_no_longer_holds_the_pedal_that_it_named() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {solo: up}
  bridge: {like: verse, solo: down}
"""
    # The verse's line goes with everything it stood for, its pedal too.
    assert shown(show(RIG, lantern), "bridge") == {**HOME, "echo.feed": "10 %"}


def test_leave_gives_the_pedal_back_to_the_player() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {wah: {engage: on, sweep: 50 %}}
  chorus: {like: verse, wah.sweep: leave}
"""
    judged = show(RIG, lantern)
    assert (names(judged), shown(judged, "chorus")) == ([], {**HOME, "wah.engage": "on"})


def test_leave_gives_back_a_pedal_that_a_word_of_a_parent_sets() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {solo: up}
  chorus: {like: verse, wah.sweep: leave}
"""
    assert shown(show(RIG, lantern), "chorus") == {**HOME, "echo.feed": "70 %"}


def test_a_child_may_set_again_what_its_parent_leaves() -> None:
    lantern = """\
song: Lantern
scenes:
  verse: {wah.sweep: leave, echo.feed: 5 %}
  chorus: {like: verse, wah.sweep: 40 %}
"""
    assert shown(show(RIG, lantern), "chorus") == {**HOME, "wah.sweep": "40 %", "echo.feed": "5 %"}


def test_leave_for_a_control_that_is_not_in_the_players_hands_is_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.feed: leave}\n"
    assert names(show(RIG, lantern)) == ["not-in-hands lantern.yaml:3"]


def test_home_asked_for_by_a_scene_names_the_pedal() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {wah: {engage: home, sweep: 50 %}}\n"
    assert shown(show(RIG, lantern), "verse") == {**HOME, "wah.engage": "off", "wah.sweep": "50 %"}


def test_home_asked_for_by_a_scene_is_the_rigs_home_and_not_the_base() -> None:
    lantern = "song: Lantern\nbase: {wah.sweep: 60 %}\nscenes:\n  verse: {wah.sweep: home}\n"
    assert shown(show(RIG, lantern), "verse") == {**HOME, "wah.sweep": "0 %"}


def test_a_whole_device_may_be_in_the_players_hands() -> None:
    rig = RIG.replace("hands: [wah.engage, wah.sweep]", "hands: [wah]")
    lantern = "song: Lantern\nscenes:\n  verse: {wah.sweep: 50 %}\n"
    assert shown(show(rig, lantern), "verse") == {**HOME, "wah.sweep": "50 %"}


def test_a_patch_left_to_the_player_clears_nothing() -> None:
    rig = RIG.replace("hands: [wah.engage, wah.sweep]", "hands: [wah, echo]")
    lantern = """\
song: Lantern
scenes:
  verse: {echo: {patch: cliff, mix: 50 %}}
  chorus: {like: verse, echo.patch: leave}
"""
    device = dict.fromkeys(("echo.patch", "echo.engage", "echo.feed", "echo.time"), "held")
    assert shown(show(rig, lantern), "chorus") == {**HOME, **device, "echo.mix": "50 %"}


def test_a_song_may_add_its_own_hands() -> None:
    lantern = """\
song: Lantern
hands: [echo.feed]
scenes:
  verse: {}
  chorus: {solo: down}
"""
    judged = show(RIG, lantern)
    assert shown(judged, "verse") == {**HOME, "echo.feed": "held"}
    assert shown(judged, "chorus") == {**HOME, "echo.feed": "10 %"}


def test_one_songs_hands_are_not_anothers() -> None:
    legs = "legs:\n  tour: {rigs: [a-rig], setlist: [lantern, wreck]}\n"
    wreck = "song: Wreck\nscenes:\n  verse: {}\n"
    more = {"wreck.yaml": wreck, "show.yaml": f"show: Tidewrack\nrigs: [a-rig]\n{legs}"}
    judged = show(RIG, "song: Lantern\nhands: [echo.feed]\nscenes:\n  verse: {}\n", more)
    assert shown(judged, "verse", song_id="wreck") == HOME


def test_a_patch_leaves_its_devices_stored_control_in_the_players_hands() -> None:
    lantern = "song: Lantern\nhands: [echo.mix]\nscenes:\n  verse: {echo.patch: cliff}\n"
    assert shown(show(RIG, lantern), "verse") == {
        **HOME,
        "echo.patch": "cliff",
        "echo.mix": "held",
        "echo.time": "as cliff: 480 ms",
    }


def test_a_control_in_the_players_hands_needs_no_home() -> None:
    rig = RIG.replace("home: {wah: {engage: off, sweep: 0 %}, ", "home: {")
    judged = show(rig, "song: Lantern\nscenes:\n  verse: {}\n")
    assert (names(judged), shown(judged, "verse")) == ([], HOME)


B_RIG = """\
rig: B rig
ports: {spare: {out: spare, speed: din}}
devices:
  unit: {port: spare, channel: 2, definition: treadle-wah}
absent: {wah: treadle-wah}
vocabulary:
  wah.engage: unit.engage
  wah.sweep: unit.sweep
hands: [unit.engage, unit.sweep]
home: {wah: {engage: off, sweep: 0 %}}
"""


def test_a_scene_that_names_an_absent_devices_control_names_the_pedal_that_it_is_handed_on_to() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {wah: {engage: on, sweep: 50 %}}\n"
    assert shown(show(B_RIG, lantern), "verse") == {"unit.engage": "on", "unit.sweep": "50 %"}


def test_home_does_not_move_the_players_pedal_through_an_absent_device() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {wah.engage: on}\n"
    assert shown(show(B_RIG, lantern), "verse") == {"unit.engage": "on", "unit.sweep": "held"}


def test_the_base_does_not_move_the_players_pedal_through_an_absent_device() -> None:
    lantern = "song: Lantern\nbase: {wah.sweep: 50 %}\nscenes:\n  verse: {wah.engage: on}\n"
    judged = show(B_RIG, lantern)
    assert shown(judged, "verse") == {"unit.engage": "on", "unit.sweep": "held"}
    assert names(judged) == ["hands-in-base lantern.yaml:2"]


def test_home_does_not_move_the_players_pedal_through_an_absent_devices_patch() -> None:
    rig = B_RIG.replace("absent: {wah: treadle-wah}", "absent: {echo: two-tap-echo}").replace(
        "  wah.engage: unit.engage\n  wah.sweep: unit.sweep\n",
        "  echo.engage: nothing\n  echo.patch: {slap: {unit.sweep: 10 %}, cliff: {unit.sweep: 80 %}}\n",
    )
    rig = rig.replace("wah: {engage: off, sweep: 0 %}", "echo: {engage: off, patch: slap}")
    lantern = "song: Lantern\nscenes:\n  verse: {echo.engage: on}\n  chorus: {echo.patch: cliff}\n"
    judged = show(rig, lantern)
    assert shown(judged, "verse") == {"unit.engage": "held", "unit.sweep": "held"}
    assert shown(judged, "chorus") == {"unit.engage": "held", "unit.sweep": "80 %"}
