"""Patches compare by number; a moved stored control comes back by its own message, else by a recall."""

from __future__ import annotations

from switchmatrix.pipeline import Judged
from tests.compile.shown import wire
from tests.support import judged, names

ECHO = """
definition: two-tap echo
programs: {count: 128, first: 1, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
"""


def show_of(patches: str, scenes: str, hands: str = "[]") -> Judged:
    """An echo on channel 3 with these patches, of which the player holds `hands`, and these scenes."""
    rig = f"""rig: A rig
ports: {{rack: {{out: rack, speed: din}}}}
devices:
  echo: {{port: rack, channel: 3, definition: two-tap-echo, patches: {patches}}}
hands: {hands}
home: {{echo.engage: on}}
"""
    song = "song: Lantern\nscenes:\n" + scenes
    return judged({"rigs/a-rig.yaml": rig, "definitions/two-tap-echo.yaml": ECHO, "lantern.yaml": song})


def test_two_names_of_one_number_are_one_patch() -> None:
    show = show_of(
        "{slap: 4, tap: 4}",
        """
  verse: {echo.patch: slap}
  chorus: {echo.patch: tap}
""",
    )
    assert wire(show, "chorus", after="verse") == []


def test_two_names_of_one_number_that_store_the_same_are_one_patch() -> None:
    show = show_of(
        "{slap: {at: 4, stores: {mix: 35 %}}, tap: {at: 4, stores: {mix: 35 %}}}",
        """
  verse: {echo.patch: slap}
  chorus: {echo.patch: tap}
""",
    )
    assert wire(show, "chorus", after="verse") == []


def test_what_one_name_of_a_number_stores_the_other_name_stores_too() -> None:
    show = show_of(
        "{slap: {at: 4, stores: {mix: 35 %}}, tap: 4}",
        """
  verse: {echo.patch: slap}
  chorus: {echo.patch: tap}
""",
    )
    assert wire(show, "chorus", after="verse") == []


def test_a_moved_control_left_to_another_name_of_the_patch_is_sent_by_its_own_message() -> None:
    show = show_of(
        "{slap: {at: 4, stores: {mix: 35 %}}, tap: 4}",
        """
  verse: {echo: {patch: tap, mix: 40 %}}
  chorus: {echo.patch: slap}
""",
    )
    assert wire(show, "chorus", after="verse") == ["echo B2 15 23"]


def test_a_moved_control_wanted_as_stored_is_sent_alone_where_the_patch_lists_it() -> None:
    show = show_of(
        "{cliff: {at: 17, stores: {mix: 35 %}}}",
        """
  verse: {echo: {patch: cliff, mix: 40 %}}
  chorus: {like: verse, echo.mix: as stored}
""",
    )
    assert wire(show, "chorus", after="verse") == ["echo B2 15 23"]


def test_a_moved_control_wanted_as_stored_and_not_listed_has_its_patch_recalled_again() -> None:
    show = show_of(
        "{cliff: {at: 17, stores: {mix: 35 %}}}",
        """
  verse: {echo: {patch: cliff, time: 480 ms}}
  chorus: {like: verse, echo.time: as stored}
""",
    )
    assert wire(show, "chorus", after="verse") == ["echo C2 10"]


def test_a_control_left_to_two_patches_that_store_one_value_is_not_sent() -> None:
    show = show_of(
        "{slap: {at: 4, stores: {mix: 35 %}}, cliff: {at: 17, stores: {mix: 35 %}}}",
        """
  verse: {echo.patch: slap}
  chorus: {echo.patch: cliff}
""",
    )
    assert wire(show, "chorus", after="verse") == ["echo C2 10"]


OVER_HANDS = """
  verse: {echo: {patch: cliff, time: 480 ms}}
  chorus: {echo: {patch: cliff}}
"""


def test_a_repeated_recall_that_moves_what_the_player_holds_is_a_warning_at_the_patch() -> None:
    show = show_of("{cliff: 17}", OVER_HANDS, "[echo.mix]")
    assert names(show) == ["recall-over-hands rigs/a-rig.yaml:4"]
    assert wire(show, "chorus", after="verse") == ["echo C2 10"]


def test_a_repeated_recall_over_hands_is_said_once_however_many_scenes_bring_it() -> None:
    more = OVER_HANDS + "  bridge: {echo: {patch: cliff, time: 490 ms}}\n  coda: {like: chorus}\n"
    show = show_of("{cliff: 17}", more, "[echo.mix]")
    assert names(show) == ["recall-over-hands rigs/a-rig.yaml:4"]


def test_a_listed_control_comes_back_without_touching_what_the_player_holds() -> None:
    show = show_of("{cliff: {at: 17, stores: {time: 500 ms}}}", OVER_HANDS, "[echo.mix]")
    assert names(show) == []
    assert wire(show, "chorus", after="verse") == ["echo B2 16 32"]


def test_a_change_of_patch_may_move_what_the_player_holds() -> None:
    show = show_of(
        "{slap: 4, cliff: 17}",
        """
  verse: {echo: {patch: slap}}
  chorus: {echo: {patch: cliff}}
""",
        "[echo.mix]",
    )
    assert names(show) == []
    assert wire(show, "chorus", after="verse") == ["echo C2 10"]


def test_a_repeated_recall_leaves_alone_what_the_player_holds_and_no_patch_stores() -> None:
    show = show_of("{cliff: 17}", OVER_HANDS, "[echo.engage]")
    assert names(show) == []
    assert wire(show, "chorus", after="verse") == ["echo C2 10"]


def test_a_stored_control_that_the_player_holds_is_no_reason_to_recall_again() -> None:
    show = show_of(
        "{cliff: 17}",
        """
  verse: {echo: {patch: cliff, mix: 40 %}}
  chorus: {echo: {patch: cliff}}
""",
        "[echo.mix]",
    )
    assert wire(show, "chorus", after="verse") == []


def test_a_repeated_recall_over_hands_is_found_between_two_songs_too() -> None:
    show = judged(
        {
            "show.yaml": "show: Tidewrack\nrigs: [a-rig]\n"
            "legs: {tour: {rigs: [a-rig], setlist: [lantern, gull]}}\n",
            "rigs/a-rig.yaml": "rig: A rig\nports: {rack: {out: rack, speed: din}}\ndevices:\n"
            "  echo: {port: rack, channel: 3, definition: two-tap-echo, patches: {cliff: 17}}\n"
            "hands: [echo.mix]\nhome: {echo.engage: on}\n",
            "definitions/two-tap-echo.yaml": ECHO,
            "lantern.yaml": "song: Lantern\nscenes: {verse: {echo: {patch: cliff, time: 480 ms}}}\n",
            "gull.yaml": "song: Gull\nscenes: {verse: {echo: {patch: cliff}}}\n",
        }
    )
    assert names(show) == ["recall-over-hands rigs/a-rig.yaml:4"]


def test_what_one_song_leaves_unknown_is_judged_where_another_song_begins() -> None:
    show = judged(
        {
            "show.yaml": "show: Tidewrack\nrigs: [a-rig]\n"
            "legs: {tour: {rigs: [a-rig], setlist: [ebb, lantern, gull]}}\n",
            "rigs/a-rig.yaml": "rig: A rig\nports: {rack: {out: rack, speed: din}}\ndevices:\n"
            "  echo: {port: rack, channel: 3, definition: two-tap-echo, patches: {cliff: 17}}\n"
            "home: {echo.engage: on}\n",
            "definitions/two-tap-echo.yaml": ECHO,
            "ebb.yaml": "song: Ebb\nscenes: {verse: {echo: {patch: cliff, time: as stored}}}\n",
            "lantern.yaml": "song: Lantern\nhands: [echo.time]\n"
            "scenes: {verse: {echo: {patch: cliff, time: as stored}}}\n",
            "gull.yaml": "song: Gull\nhands: [echo.mix]\nscenes: {verse: {echo: {patch: cliff}}}\n",
        }
    )
    assert names(show) == ["recall-over-hands rigs/a-rig.yaml:4"]
