"""From unknown all is sent; from a known state what differs after the transition's own recall."""

from __future__ import annotations

from switchmatrix.pipeline import Judged
from tests.compile.shown import wire
from tests.support import judged

RIG = """
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches:
      slap: 4
      cliff: {at: 17, stores: {mix: 35 %, tone: dark, level: 10}, remark: its time is not listed}
home: {echo: {engage: off, patch: slap}}
"""
ECHO = """
definition: two-tap echo
programs: {count: 128, first: 1, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
  tone: {kind: choice, cc: 23, values: {dark: 0, clear: 1}, stored: yes}
  level: {kind: level, cc: 24, range: [0, 127], stored: yes}
"""


def scenes(text: str) -> Judged:
    """The rig above with these scenes."""
    song = "song: Lantern\nscenes:\n" + text
    return judged({"rigs/a-rig.yaml": RIG, "definitions/two-tap-echo.yaml": ECHO, "lantern.yaml": song})


def test_from_unknown_the_patch_and_every_control_of_the_state_are_sent() -> None:
    show = scenes("  verse: {echo: {engage: on, patch: slap, mix: 40 %, tone: clear}}\n")
    assert wire(show, "verse") == ["echo C2 03", "echo B2 50 7F", "echo B2 15 28", "echo B2 17 01"]


def test_from_unknown_a_recall_that_surely_recalls_brings_what_the_patch_stores() -> None:
    show = scenes("  verse: {echo: {engage: on, patch: cliff}}\n")
    assert wire(show, "verse") == ["echo C2 10", "echo B2 50 7F"]


def test_from_unknown_a_value_that_the_patch_is_known_to_store_is_not_sent_again() -> None:
    show = scenes("  verse: {echo: {patch: cliff, mix: 35 %, time: 480 ms}}\n")
    assert wire(show, "verse") == ["echo C2 10", "echo B2 50 00", "echo B2 16 30"]


def test_to_the_state_that_the_rig_is_in_nothing_is_sent() -> None:
    show = scenes("""
  verse: {echo: {engage: on, patch: cliff, mix: 40 %}}
  chorus: {like: verse}
""")
    assert wire(show, "chorus", after="verse") == []


def test_only_the_control_that_differs_is_sent() -> None:
    show = scenes("""
  verse: {echo: {engage: on, patch: cliff, mix: 40 %, time: 480 ms}}
  chorus: {like: verse, echo.time: 490 ms}
""")
    assert wire(show, "chorus", after="verse") == ["echo B2 16 31"]


def test_two_values_that_have_one_code_do_not_differ() -> None:
    # 40.3 % of codes 0 to 100 is code 40 (section of scales: nearest code).
    show = scenes("""
  verse: {echo.mix: 40 %}
  chorus: {echo.mix: 40.3 %}
""")
    assert wire(show, "chorus", after="verse") == []


def test_a_control_that_did_not_differ_is_sent_again_where_the_recall_moves_it() -> None:
    show = scenes("""
  verse: {echo: {patch: slap, mix: 40 %, time: 480 ms}}
  chorus: {echo: {patch: cliff, mix: 40 %, time: 480 ms}}
""")
    assert wire(show, "chorus", after="verse") == ["echo C2 10", "echo B2 15 28", "echo B2 16 30"]


def test_a_control_that_differed_is_not_sent_where_the_recall_brings_its_value() -> None:
    show = scenes("""
  verse: {echo: {patch: slap, mix: 40 %}}
  chorus: {echo: {patch: cliff, mix: 35 %}}
""")
    assert wire(show, "chorus", after="verse") == ["echo C2 10"]


def test_a_control_that_no_patch_stores_is_not_sent_again_after_a_recall() -> None:
    show = scenes("""
  verse: {echo: {engage: on, patch: slap}}
  chorus: {echo: {engage: on, patch: cliff}}
""")
    assert wire(show, "chorus", after="verse") == ["echo C2 10"]


def test_a_value_that_the_last_patch_stored_is_sent_where_the_new_patch_may_store_another() -> None:
    show = scenes("""
  verse: {echo: {patch: cliff}}
  chorus: {echo: {patch: slap, mix: 35 %}}
""")
    assert wire(show, "chorus", after="verse") == ["echo C2 03", "echo B2 15 23"]


def test_three_messages_are_sent_rather_than_one_recall_of_fewer_bytes() -> None:
    show = scenes("""
  verse: {echo: {patch: cliff, mix: 40 %, tone: clear, level: 11}}
  chorus: {echo: {patch: cliff}}
""")
    assert wire(show, "chorus", after="verse") == ["echo B2 15 23", "echo B2 17 00", "echo B2 18 0A"]


def test_a_recall_that_must_be_brings_back_the_listed_controls_without_messages_of_their_own() -> None:
    show = scenes("""
  verse: {echo: {patch: cliff, mix: 40 %, time: 480 ms, tone: clear, level: 11}}
  chorus: {echo: {patch: cliff}}
""")
    assert wire(show, "chorus", after="verse") == ["echo C2 10"]


def test_an_edit_that_stays_is_sent_again_where_another_control_needs_the_recall() -> None:
    show = scenes("""
  verse: {echo: {patch: cliff, mix: 40 %, time: 480 ms}}
  chorus: {echo: {patch: cliff, mix: 40 %}}
""")
    assert wire(show, "chorus", after="verse") == ["echo C2 10", "echo B2 15 28"]


def test_an_edit_of_the_value_that_the_patch_stores_and_none_at_all_are_one_state() -> None:
    show = scenes("""
  verse: {echo: {patch: cliff, mix: 35 %}}
  chorus: {echo: {patch: cliff}}
""")
    assert wire(show, "chorus", after="verse") == []
