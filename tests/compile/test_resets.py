"""Choices that reload their neighbours when they are set: their order, and what is sent anew."""

from __future__ import annotations

import pytest

from switchmatrix.pipeline import Judged
from tests.compile.rigs import rig_show
from tests.compile.shown import wire
from tests.support import findings, names

DEVICE = "echo: {port: rack, channel: 3, definition: echo-box, patches: %s}"
LISTED = (
    "{a: {at: 1, stores: {mode: tape, mix: 20, time: 30}}, "
    "b: {at: 2, stores: {mode: clean, mix: 5, time: 6}}}"
)
UNLISTED = "{a: {at: 1, stores: {mode: tape}}, b: {at: 2, stores: {mode: clean}}}"
MODE = "{kind: choice, cc: 30, values: {tape: 0, clean: 1}, resets: [mix, time]%s}"


def echo(
    mode: str, stored: str, scenes: str, patches: str = LISTED, extra: str = "", repeat: str = "recalls"
) -> Judged:
    """An echo whose mode reloads mix and time; `stored` goes to those two, `mode` to the mode."""
    definition = f"""
programs: {{count: 8, first: 1, repeat: {repeat}}}
controls:
  mix: {{kind: level, cc: 21, range: [0, 127]{stored}}}
  time: {{kind: level, cc: 22, range: [0, 127]{stored}}}
  mode: {MODE % mode}
"""
    return rig_show(DEVICE % patches, {"echo-box": definition}, scenes, extra)


YES = ", stored: yes"

NO_PATCH = """
  verse: {echo: {mode: tape, mix: 1, time: 2}}
  chorus: {echo: {mode: clean, mix: 1, time: 2}}
  coda: {echo: {mode: tape, mix: 9, time: 2}}
"""


def plain(scenes: str = NO_PATCH, extra: str = "") -> Judged:
    """The same echo, with no patches and nothing stored."""
    definition = f"""
controls:
  mix: {{kind: level, cc: 21, range: [0, 127]}}
  time: {{kind: level, cc: 22, range: [0, 127]}}
  mode: {MODE % ""}
"""
    return rig_show(
        "echo: {port: rack, channel: 3, definition: echo-box}", {"echo-box": definition}, scenes, extra
    )


def test_a_choice_goes_before_what_it_reloads_though_its_definition_has_it_last() -> None:
    assert wire(plain(), "verse") == ["echo B2 1E 00", "echo B2 15 01", "echo B2 16 02"]


def test_what_a_choice_reloads_is_sent_anew_though_the_scene_before_had_it_so() -> None:
    assert wire(plain(), "chorus", after="verse") == ["echo B2 1E 01", "echo B2 15 01", "echo B2 16 02"]


def test_a_choice_that_stands_right_reloads_nothing() -> None:
    assert wire(plain(), "coda", after="verse") == ["echo B2 15 09"]


WITH_PATCH = """
  a: {echo: {patch: a, mode: tape}}
  b: {echo: {patch: b, mode: clean}}
  other: {echo: {patch: a, mode: clean}}
"""


def test_a_choice_that_no_patch_stores_goes_before_the_recall_that_brings_what_it_reloads() -> None:
    listed = LISTED.replace("mode: tape, ", "").replace("mode: clean, ", "")
    show = echo("", YES, WITH_PATCH, listed)
    assert wire(show, "a") == ["echo B2 1E 00", "echo C2 00"]
    assert wire(show, "b", after="a") == ["echo B2 1E 01", "echo C2 01"]


def test_between_scenes_of_one_patch_what_such_a_choice_reloads_is_sent_as_the_patch_lists_it() -> None:
    listed = LISTED.replace("mode: tape, ", "").replace("mode: clean, ", "")
    show = echo("", YES, WITH_PATCH, listed)
    assert wire(show, "other", after="a") == ["echo B2 1E 01", "echo B2 15 14", "echo B2 16 1E"]


def test_what_such_a_choice_reloads_and_no_patch_lists_is_brought_back_by_the_patch_called_again() -> None:
    show = echo("", YES, WITH_PATCH, "{a: 1, b: 2}")
    assert wire(show, "other", after="a") == ["echo B2 1E 01", "echo C2 00"]


def test_what_such_a_choice_reloads_on_a_box_that_may_not_recall_is_an_error() -> None:
    assert names(echo("", YES, WITH_PATCH, "{a: 1, b: 2}", repeat="nothing")) == [
        "left-to-repeat rigs/a-rig.yaml:4",
        "left-to-repeat rigs/a-rig.yaml:4",
    ]


STORED = """
  a: {echo: {patch: a}}
  b: {echo: {patch: b}}
  other: {echo: {patch: a, mode: clean, mix: 7, time: 8}}
"""


def test_a_stored_choice_that_the_patch_brings_right_is_not_sent() -> None:
    show = echo(YES, YES, STORED)
    assert wire(show, "a") == ["echo C2 00"]
    assert wire(show, "b", after="a") == ["echo C2 01"]


def test_a_stored_choice_goes_after_the_recall_and_before_what_it_reloads() -> None:
    assert wire(echo(YES, YES, STORED), "other", after="b") == [
        *("echo C2 00", "echo B2 1E 01", "echo B2 15 07", "echo B2 16 08")
    ]


def test_what_a_stored_choice_reloads_is_sent_as_the_patch_lists_it() -> None:
    scenes = "  a: {echo: {patch: a}}\n  other: {echo: {patch: a, mode: clean}}\n"
    assert wire(echo(YES, YES, scenes), "other", after="a") == [
        *("echo B2 1E 01", "echo B2 15 14", "echo B2 16 1E")
    ]


def test_back_from_a_stored_choice_no_patch_is_called_where_all_is_listed() -> None:
    assert wire(echo(YES, YES, STORED), "a", after="other") == [
        *("echo B2 1E 00", "echo B2 15 14", "echo B2 16 1E")
    ]


def test_back_from_a_stored_choice_the_patch_is_called_where_what_it_reloads_is_not_listed() -> None:
    assert wire(echo(YES, YES, STORED, UNLISTED), "a", after="other") == ["echo C2 00"]


def test_a_control_left_to_the_patch_that_a_later_choice_reloads_and_no_patch_lists_is_an_error() -> None:
    scenes = "  a: {echo: {patch: a, mode: clean, mix: 7}}\n"
    show = echo(YES, YES, scenes, "{a: 1}")
    assert findings(show) == [
        "rigs/a-rig.yaml:4:66: error left-to-reset: `time` of `echo` is left to the patch `a`, and a choice "
        "that is set after the recall reloads it"
    ]


def test_a_control_left_to_the_patch_that_the_patch_lists_is_sent_after_the_choice() -> None:
    scenes = "  a: {echo: {patch: a, mode: clean, mix: 7}}\n"
    show = echo(YES, YES, scenes, "{a: {at: 1, stores: {time: 30}}}")
    assert wire(show, "a") == ["echo C2 00", "echo B2 1E 01", "echo B2 15 07", "echo B2 16 1E"]


CHAIN = """
controls:
  third: {kind: level, cc: 23, range: [0, 127]}
  second: {kind: choice, cc: 31, values: {x: 0, y: 1}, resets: [third]}
  first: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, resets: [second]}
"""
CHAINED = "echo: {port: rack, channel: 3, definition: echo-box}"


def chain(scenes: str, definition: str = CHAIN, extra: str = "") -> Judged:
    """A choice that reloads a choice that reloads a level."""
    return rig_show(CHAINED, {"echo-box": definition}, scenes, extra)


def test_a_chain_of_resets_is_set_from_its_top_and_all_of_it_is_sent_anew() -> None:
    scenes = (
        "  a: {echo: {first: tape, second: x, third: 5}}\n  b: {echo: {first: clean, second: x, third: 5}}\n"
    )
    assert wire(chain(scenes), "b", after="a") == ["echo B2 1E 01", "echo B2 1F 00", "echo B2 17 05"]


def test_the_end_of_a_chain_is_sent_anew_though_nobody_sets_what_lies_between() -> None:
    scenes = "  a: {echo: {first: tape, third: 5}}\n  b: {echo: {first: clean, third: 5}}\n"
    show = chain(scenes)
    assert names(show) == ["undetermined rigs/a-rig.yaml:4"]
    assert wire(show, "b", after="a") == ["echo B2 1E 01", "echo B2 17 05"]


@pytest.mark.parametrize("resets", ["[first]", "[third, first]"])
def test_a_circle_of_resets_is_refused_once(resets: str) -> None:
    circle = CHAIN.replace("resets: [third]", f"resets: {resets}")
    assert names(chain("  a: {echo: {first: tape, second: x, third: 5}}\n", circle)) == [
        "reset-circle definitions/echo-box.yaml:4"
    ]


def test_a_circle_of_three_is_refused_once() -> None:
    circle = """
controls:
  one: {kind: choice, cc: 30, values: {a: 0, b: 1}, resets: [two]}
  two: {kind: choice, cc: 31, values: {a: 0, b: 1}, resets: [three]}
  three: {kind: choice, cc: 32, values: {a: 0, b: 1}, resets: [one]}
""".replace("cc: 32", "cc: 33")
    assert findings(chain("  a: {echo: {one: a, two: a, three: a}}\n", circle)) == [
        "definitions/echo-box.yaml:3:3: error reset-circle: `one` resets itself, through what it resets"
    ]


def test_a_choice_that_resets_itself_is_no_other_control() -> None:
    circle = CHAIN.replace("resets: [second]", "resets: [first]")
    assert names(chain("  a: {echo: {first: tape, second: x, third: 5}}\n", circle)) == [
        "unknown-name definitions/echo-box.yaml:5"
    ]


def test_a_choice_that_resets_a_trigger_is_refused() -> None:
    definition = CHAIN + "  bell: {kind: trigger, cc: 40}\n"
    definition = definition.replace("resets: [second]", "resets: [bell]")
    assert names(chain("  a: {echo: {first: tape, second: x, third: 5}}\n", definition)) == [
        "unknown-name definitions/echo-box.yaml:5"
    ]


def test_what_a_choice_in_the_players_hands_reloads_is_unknown_after_every_scene() -> None:
    scenes = "  a: {echo: {mix: 1, time: 2}}\n  b: {echo: {mix: 1, time: 2}, remark: again}\n"
    show = plain(scenes, "hands: [echo.mode]")
    assert wire(show, "b", after="a") == ["echo B2 15 01", "echo B2 16 02"]


def test_the_end_of_a_chain_whose_top_the_player_holds_is_unknown_after_every_scene() -> None:
    scenes = "  a: {echo: {second: x, third: 5}}\n  b: {echo: {second: x, third: 5}, remark: again}\n"
    show = chain(scenes, extra="hands: [echo.first]")
    assert wire(show, "b", after="a") == ["echo B2 1F 00", "echo B2 17 05"]


def test_what_a_choice_that_a_controller_can_reach_reloads_is_unknown_after_every_scene() -> None:
    floor = "controllers: {floor: {port: rack, channel: 3, sends: {cc: [30]}}}"
    show = plain("  a: {echo: {mode: tape, mix: 1, time: 2}}\n  b: {like: a}\n", floor)
    assert findings(show) == [
        "rigs/a-rig.yaml:4:3: hint controller-reaches: a controller can move `mix`, `time`, `mode` of `echo`"
        ": sent anew with every scene"
    ]
    assert wire(show, "b", after="a") == ["echo B2 1E 00", "echo B2 15 01", "echo B2 16 02"]


def test_where_a_controller_calls_programs_what_a_stored_choice_reloads_is_unknown_too() -> None:
    floor = "controllers: {floor: {port: rack, channel: 3, sends: {programs: yes}}}"
    scenes = "  a: {echo: {patch: a, mode: tape, mix: 1, time: 2}}\n  b: {like: a}\n"
    listed = LISTED.replace("mix: 20, time: 30", "").replace("mix: 5, time: 6", "").replace(", }", "}")
    show = echo(YES, "", scenes, listed, floor)
    assert wire(show, "b", after="a") == ["echo C2 00", "echo B2 15 01", "echo B2 16 02"]


ABOVE = """
programs: {count: 8, first: 1, repeat: recalls}
controls:
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
  route: {kind: choice, cc: 31, values: {x: 0, y: 1}, resets: [mix]}
  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, resets: [route], stored: yes}
"""
BELOW = "echo: {port: rack, channel: 3, definition: echo-box, patches: {a: {at: 1, stores: {mode: tape}}}}"


def above(scenes: str) -> Judged:
    """A stored choice reloads one that is not stored, which reloads a stored level."""
    return rig_show(BELOW, {"echo-box": ABOVE}, scenes)


def test_an_unstored_choice_below_a_stored_one_goes_before_the_recall_that_brings_what_it_reloads() -> None:
    show = above("  a: {echo: {patch: a, route: y}}\n  b: {echo: {patch: a, route: x}}\n")
    assert wire(show, "a") == ["echo B2 1F 01", "echo C2 00"]
    assert wire(show, "b", after="a") == ["echo B2 1F 00", "echo C2 00"]


def test_an_unstored_choice_that_a_stored_one_reloads_later_is_sent_once_and_after_it() -> None:
    show = above("  a: {echo: {patch: a, mode: clean, route: y, mix: 3}}\n")
    assert wire(show, "a") == ["echo C2 00", "echo B2 1E 01", "echo B2 1F 01", "echo B2 15 03"]


def test_a_choice_that_reloads_a_hazard_is_refused_where_it_says_so() -> None:
    definition = CHAIN.replace(
        "{kind: level, cc: 23, range: [0, 127]}", "{kind: level, cc: 23, range: [0, 127], hazard: flame}"
    )
    assert findings(chain("  a: {echo: {first: tape, second: x}}\n", definition)) == [
        "definitions/echo-box.yaml:4:65: error hazard: `third`, which `second` resets, is a hazard (flame): "
        "nothing is compiled for it or sent to it"
    ]
