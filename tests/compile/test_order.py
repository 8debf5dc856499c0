"""A device's recall, then its other controls, then triggers; between devices, the longest way ahead first."""

from __future__ import annotations

from switchmatrix.pipeline import Judged
from tests.compile.shown import visits, wire
from tests.support import judged

RIG = """
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  reverb: {port: rack, channel: 9, definition: hall, patches: {small: 1, large: 2}}
  echo: {port: rack, channel: 3, definition: hall, patches: {slap: 1, cliff: 2}}
  bell: {port: rack, channel: 1, definition: bell-box}
vocabulary:
  wash:
    wet: {echo.mix: 90, reverb.mix: 80}
home: {bell.level: 7, echo: {decay: 1, mix: 2, patch: slap}, reverb: {decay: 3, mix: 4, patch: small}}
"""
HALL = """
definition: hall
programs: {count: 8, first: 1, repeat: recalls}
controls:
  mix: {kind: level, cc: 30, range: [0, 127]}
  decay: {kind: level, cc: 20, range: [0, 127]}
"""
BELL = """
definition: bell box
controls:
  ring: {kind: trigger, cc: 50}
  level: {kind: level, cc: 51, range: [0, 127]}
"""


def scenes(text: str) -> Judged:
    """The rig above with these scenes; nothing takes time to settle."""
    files = {"rigs/a-rig.yaml": RIG, "definitions/hall.yaml": HALL, "definitions/bell-box.yaml": BELL}
    return judged({**files, "lantern.yaml": "song: Lantern\nscenes:\n" + text})


def test_a_recall_comes_before_the_controls_of_its_device_and_the_longest_way_goes_first() -> None:
    assert wire(scenes("  verse: {}\n"), "verse") == [
        "reverb C8 00",
        "echo C2 00",
        "reverb B8 1E 04",
        "echo B2 1E 02",
        "reverb B8 14 03",
        "echo B2 14 01",
        "bell B0 33 07",
    ]


def test_the_order_of_a_scenes_lines_changes_nothing() -> None:
    show = scenes("""
  verse: {wash: wet, bell.level: 8, echo.decay: 50, reverb: {patch: large, decay: 60}}
  chorus: {reverb: {decay: 60, patch: large}, echo.decay: 50, bell.level: 8, wash: wet}
""")
    assert wire(show, "chorus") == wire(show, "verse")


def test_controls_go_in_the_order_of_their_definition_whatever_brought_them() -> None:
    show = scenes("  verse: {}\n  chorus: {echo.decay: 50, reverb.decay: 60, wash: wet}\n")
    assert wire(show, "chorus", after="verse") == [
        "reverb B8 1E 50",
        "echo B2 1E 5A",
        "reverb B8 14 3C",
        "echo B2 14 32",
    ]


def test_a_trigger_goes_last_though_its_definition_has_it_first() -> None:
    show = scenes("  verse: {}\n  chorus: {bell: {ring: now, level: 8}, echo: {patch: cliff, mix: 9}}\n")
    assert visits(show)[1] == ["echo C2 01", "echo B2 1E 09", "bell B0 33 08", "bell B0 32 7F"]


def test_a_trigger_of_an_earlier_device_waits_for_the_controls_of_later_ones() -> None:
    rig = RIG.replace(
        "  reverb: {port", "  bell-2: {port: rack, channel: 2, definition: bell-box}\n  reverb: {port"
    )
    files = {"rigs/a-rig.yaml": rig, "definitions/hall.yaml": HALL, "definitions/bell-box.yaml": BELL}
    song = """
song: Lantern
scenes:
  verse: {bell-2.level: 1}
  chorus: {bell-2: {ring: now, level: 2}, bell.level: 8}
"""
    assert visits(judged({**files, "lantern.yaml": song}))[1] == [
        "bell-2 B1 33 02",
        "bell B0 33 08",
        "bell-2 B1 32 7F",
    ]
