"""What is known after a scene: not what the player holds, a controller reaches, or nobody determines."""

from __future__ import annotations

from switchmatrix.pipeline import Judged
from tests.compile.shown import visits, wire
from tests.support import judged, names

ECHO = """definition: two-tap echo
programs: {count: 8, first: 1, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
  time: {kind: level, cc: 22, range: [0, 127], stored: yes}
  mode: {kind: choice, program: yes, values: {tape: 100, clean: 101}}
"""


def show_of(extra: str, song: str) -> Judged:
    """An echo on channel 3, with `extra` in its rig's file, and this song."""
    rig = f"""rig: A rig
ports: {{rack: {{out: rack, speed: din}}, loft: {{out: loft, speed: din}}}}
devices:
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {{one: {{at: 1, stores: {{mix: 5}}}}, two: 2}}
{extra}
"""
    files = {"rigs/a-rig.yaml": rig, "definitions/two-tap-echo.yaml": ECHO}
    return judged({**files, "lantern.yaml": "song: Lantern\n" + song})


HOME = "home: {echo: {engage: on, mode: tape, patch: one, time: 50}}\n"
TWICE = "scenes: {verse: {echo.mix: 9}, chorus: {like: verse}}"


def test_what_the_player_holds_is_not_sent_where_the_scene_does_not_name_it() -> None:
    show = show_of(HOME + "hands: [echo.engage]", TWICE)
    assert wire(show, "verse") == ["echo C2 00", "echo B2 15 09", "echo B2 16 32", "echo C2 64"]


def test_what_the_player_holds_is_sent_where_the_scene_names_it() -> None:
    show = show_of(
        HOME + "hands: [echo.engage]", "scenes: {verse: {echo.mix: 9}, chorus: {like: verse, echo: off}}"
    )
    assert wire(show, "chorus", after="verse") == ["echo B2 50 00"]


def test_what_the_player_holds_is_unknown_after_a_scene_that_named_it() -> None:
    show = show_of(
        HOME + "hands: [echo.engage]", "scenes: {verse: {echo: on}, chorus: {like: verse, echo.mix: 9}}"
    )
    assert wire(show, "chorus", after="verse") == ["echo B2 50 7F", "echo B2 15 09"]


def test_what_the_player_holds_in_one_song_is_unknown_after_a_scene_that_named_it() -> None:
    song = "hands: [echo.engage]\nscenes: {verse: {echo: on}, chorus: {like: verse, echo.mix: 9}}"
    assert wire(show_of(HOME, song), "chorus", after="verse") == ["echo B2 50 7F", "echo B2 15 09"]


def test_a_control_that_the_scene_leaves_in_the_players_hands_is_not_sent() -> None:
    song = "scenes: {verse: {echo: on}, chorus: {like: verse, echo.engage: leave, echo.mix: 9}}"
    assert wire(show_of(HOME + "hands: [echo.engage]", song), "chorus", after="verse") == ["echo B2 15 09"]


def test_a_device_that_is_wholly_in_the_players_hands_is_never_sent_anything() -> None:
    song = "scenes: {verse: {}, chorus: {}, coda: {}}"
    assert visits(show_of(HOME + "hands: [echo]", song)) == [[], [], []]


def test_a_device_that_is_wholly_in_the_players_hands_gets_what_a_scene_names_and_no_more() -> None:
    show = show_of(HOME + "hands: [echo]", "scenes: {verse: {echo.mix: 9}, chorus: {echo.patch: two}}")
    assert wire(show, "verse") == ["echo B2 15 09"]
    assert wire(show, "chorus", after="verse") == ["echo C2 01"]


def test_a_patch_that_the_player_holds_is_unknown_after_a_scene_that_named_it() -> None:
    song = "scenes: {verse: {echo.patch: two}, chorus: {echo.patch: two}}"
    assert wire(show_of(HOME + "hands: [echo]", song), "chorus", after="verse") == ["echo C2 01"]


def test_where_the_player_holds_the_patch_stored_controls_are_unknown_after_every_scene() -> None:
    extra = "home: {echo: {engage: on, mode: tape, mix: 9, time: 50}}\nhands: [echo.patch]"
    show = show_of(extra, "scenes: {verse: {}, chorus: {like: verse}}")
    assert wire(show, "chorus", after="verse") == ["echo B2 15 09", "echo B2 16 32"]


def test_where_a_scene_names_the_patch_that_the_player_holds_stored_controls_are_unknown_after_it() -> None:
    song = """
scenes:
  verse: {echo: {patch: two, mix: 9, time: 1}}
  chorus: {echo: {patch: leave, mix: 9, time: 1}}
"""
    show = show_of("home: {echo: {engage: on, mode: tape}}\nhands: [echo.patch]", song)
    assert wire(show, "chorus", after="verse") == ["echo B2 15 09", "echo B2 16 01"]


def test_a_control_that_a_controller_can_send_is_sent_with_every_scene() -> None:
    extra = HOME + "controllers: {floor: {port: rack, channel: 3, sends: {cc: [21, 79-80]}}}"
    assert wire(show_of(extra, TWICE), "chorus", after="verse") == ["echo B2 50 7F", "echo B2 15 09"]


def test_a_stored_control_that_a_controller_moved_is_brought_back_as_the_patch_lists_it() -> None:
    extra = HOME + "controllers: {floor: {port: rack, channel: 3, sends: {cc: [21]}}}"
    show = show_of(extra, "scenes: {verse: {}, chorus: {like: verse}}")
    assert wire(show, "chorus", after="verse") == ["echo B2 15 05"]


def test_a_stored_control_that_a_controller_moved_and_no_patch_lists_has_its_patch_recalled_again() -> None:
    extra = HOME + "controllers: {floor: {port: rack, channel: 3, sends: {cc: [22]}}}"
    show = show_of(extra, "scenes: {verse: {echo: {patch: one, mix: 9}}, chorus: {like: verse}}")
    assert wire(show, "chorus", after="verse") == ["echo C2 00", "echo B2 15 09"]


def test_a_controller_on_another_channel_reaches_nothing() -> None:
    extra = HOME + "controllers: {floor: {port: rack, channel: 4, sends: {programs: yes, cc: [21, 80]}}}"
    assert wire(show_of(extra, TWICE), "chorus", after="verse") == []


def test_a_controller_on_another_port_reaches_nothing() -> None:
    extra = HOME + "controllers: {floor: {port: loft, channel: 3, sends: {programs: yes, cc: [21, 80]}}}"
    assert wire(show_of(extra, TWICE), "chorus", after="verse") == []


def test_a_controllers_programs_make_patch_stored_controls_and_program_carried_ones_unknown() -> None:
    extra = HOME + "controllers: {floor: {port: rack, channel: 3, sends: {programs: yes}}}"
    assert wire(show_of(extra, TWICE), "chorus", after="verse") == [
        "echo C2 00",
        "echo B2 15 09",
        "echo B2 16 32",
        "echo C2 64",
    ]


def test_a_controllers_programs_reach_a_program_carried_control_of_a_box_without_patches() -> None:
    show = judged(
        {
            "rigs/a-rig.yaml": "rig: A rig\nports: {rack: {out: rack, speed: din}}\n"
            "controllers: {floor: {port: rack, channel: 3, sends: {programs: yes}}}\n"
            "devices: {amp: {port: rack, channel: 3, definition: amp}}\n"
            "home: {amp: {boost: on, channel: lead}}\n",
            "definitions/amp.yaml": "definition: amp\ncontrols:\n  boost: {kind: switch, cc: 80, main: yes}\n"
            "  channel: {kind: choice, program: yes, values: {clean: 0, lead: 1}}\n",
            "lantern.yaml": "song: Lantern\nscenes: {verse: {}, chorus: {like: verse}}\n",
        }
    )
    assert wire(show, "chorus", after="verse") == ["amp C2 01"]


def test_a_control_that_nothing_determines_is_unknown_after_the_scene() -> None:
    song = "scenes: {verse: {echo: on}, bridge: {echo.mix: 9}, coda: {like: verse}}"
    show = show_of("home: {echo: {mode: tape, patch: one, mix: 9, time: 50}}", song)
    assert names(show) == ["undetermined rigs/a-rig.yaml:4"]
    assert visits(show)[1:] == [[], ["echo B2 50 7F"]]


def test_a_patch_that_nothing_determines_is_unknown_after_the_scene() -> None:
    song = "scenes: {verse: {echo.patch: two}, bridge: {}, coda: {echo.patch: two}}"
    show = show_of("home: {echo: {engage: on, mode: tape, mix: 9, time: 50}}", song)
    assert visits(show)[1:] == [["echo B2 15 09", "echo B2 16 32"], ["echo C2 01"]]


def test_the_scenes_own_state_is_known_afterwards() -> None:
    assert wire(show_of(HOME, TWICE), "chorus", after="verse") == []
