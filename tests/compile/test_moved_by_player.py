"""What a definition says that the player moves: in his hands on every rig, and never taken for known."""

from __future__ import annotations

from switchmatrix.pipeline import Judged
from tests.compile.rigs import rig_show
from tests.compile.shown import visits, wire
from tests.support import names

ECHO = """
programs: {count: 8, first: 1, repeat: recalls%s}
controls:
  pedal: {kind: level, cc: 11, range: [0, 127]%s}
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
  engage: {kind: switch, cc: 80}
"""
DEVICE = "echo: {port: rack, channel: 3, definition: echo-box, patches: {a: {at: 1, stores: {mix: 5}}, b: 2}}"
MOVED = ", moved-by: player"


def control(scenes: str, extra: str = "home: {echo: {patch: a, engage: on}}") -> Judged:
    """An echo whose pedal the player moves."""
    return rig_show(DEVICE, {"echo-box": ECHO % ("", MOVED)}, scenes, extra)


def test_a_control_that_the_player_moves_is_no_part_of_a_scene_that_does_not_name_it() -> None:
    show = control("  verse: {}\n")
    assert names(show) == []
    assert wire(show, "verse") == ["echo C2 00", "echo B2 50 7F"]


def test_home_says_it_for_the_home_state_alone() -> None:
    show = control("  verse: {}\n", "home: {echo: {patch: a, engage: on, pedal: 9}}")
    assert wire(show, "verse") == ["echo C2 00", "echo B2 50 7F"]


def test_a_scene_that_names_it_sends_it_each_time() -> None:
    show = control("  verse: {echo.pedal: 9}\n  chorus: {like: verse, echo.engage: off}\n")
    assert wire(show, "chorus", after="verse") == ["echo B2 0B 09", "echo B2 50 00"]


def test_a_scene_may_leave_it_to_the_player_again() -> None:
    show = control("  verse: {echo.pedal: 9}\n  chorus: {like: verse, echo.pedal: leave, echo.engage: off}\n")
    assert wire(show, "chorus", after="verse") == ["echo B2 50 00"]


def programs(scenes: str, extra: str = "home: {echo: {engage: on, pedal: 1}}") -> Judged:
    """An echo whose programs the player calls."""
    return rig_show(DEVICE, {"echo-box": ECHO % (MOVED, "")}, scenes, extra)


def test_a_scene_that_names_no_patch_of_the_players_programs_calls_none() -> None:
    show = programs("  verse: {}\n")
    assert names(show) == []
    assert wire(show, "verse") == ["echo B2 0B 01", "echo B2 50 7F"]


def test_a_scene_that_names_the_patch_calls_it_each_time() -> None:
    show = programs("  verse: {echo.patch: a}\n  chorus: {echo.patch: a}\n  coda: {echo.patch: b}\n")
    assert wire(show, "verse", after="verse") == ["echo C2 00"]
    assert wire(show, "coda", after="verse") == ["echo C2 01"]


def test_what_is_stored_is_sent_each_time_since_the_player_may_have_called_another_program() -> None:
    show = programs("  verse: {echo.mix: 9}\n  chorus: {echo.mix: 9, echo.engage: off}\n")
    assert wire(show, "chorus", after="verse") == ["echo B2 15 09", "echo B2 50 00"]


def test_a_stored_control_of_a_scene_that_names_the_patch_is_sent_after_it_each_time() -> None:
    show = programs("  verse: {echo: {patch: a, mix: 9}}\n  chorus: {echo: {patch: a, mix: 9}}\n")
    assert wire(show, "chorus", after="verse") == ["echo C2 00", "echo B2 15 09"]


def test_a_call_after_the_players_own_may_be_a_repeat_where_a_box_does_nothing_then() -> None:
    definition = (ECHO % (MOVED, "")).replace("repeat: recalls", "repeat: nothing")
    show = rig_show(
        DEVICE,
        {"echo-box": definition},
        "  verse: {echo.patch: a}\n  chorus: {echo: {patch: b, mix: 3}}\n",
        "home: {echo: {engage: on, pedal: 1}}",
    )
    assert names(show) == []
    assert wire(show, "verse", after="chorus") == ["echo C2 00", "echo B2 15 05"]
    assert wire(show, "chorus", after="verse") == ["echo C2 01", "echo B2 15 03"]


def test_a_switch_that_the_players_repeat_flips_is_sent_each_time() -> None:
    definition = (ECHO % (MOVED, "")).replace("repeat: recalls", "repeat: toggles engage")
    show = rig_show(
        DEVICE,
        {"echo-box": definition},
        "  verse: {}\n  chorus: {echo.pedal: 2}\n",
        "home: {echo: {engage: on, pedal: 1}}",
    )
    assert visits(show) == [
        ["echo B2 0B 01", "echo B2 50 7F"],
        ["echo B2 0B 02", "echo B2 50 7F"],
    ]


def test_two_rigs_that_share_the_definition_both_leave_it_to_the_player() -> None:
    devices = (
        f"{DEVICE}\n{DEVICE.replace('echo: {port: rack, channel: 3', 'echo-2: {port: rack, channel: 4')}"
    )
    extra = "home: {echo: {patch: a, engage: on, pedal: 1}, echo-2: {patch: a, engage: on, pedal: 1}}"
    show = rig_show(devices, {"echo-box": ECHO % ("", MOVED)}, "  verse: {}\n", extra)
    assert wire(show, "verse") == ["echo C2 00", "echo-2 C3 00", "echo B2 50 7F", "echo-2 B3 50 7F"]
