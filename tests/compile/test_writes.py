"""Messages that write a device's memory: refused wherever a scene could send them."""

from __future__ import annotations

import pytest

from switchmatrix.pipeline import Judged
from tests.compile.rigs import files_of
from tests.support import findings, judged, names

ECHO = """
programs: {count: 8, first: 1, repeat: recalls}
controls:
  mix: {kind: level, cc: 21, range: [0, 127]}
  save: {kind: trigger, cc: 119, writes: yes}
  slot: {kind: choice, cc: 118, values: {a: 0, b: 1}, writes: yes}
"""
DEVICE = "echo: {port: rack, channel: 3, definition: echo-box, patches: {a: 1}}"


def show_of(scenes: str, extra: str = "", show: str = "") -> Judged:
    """An echo that can be told to write its memory."""
    files = files_of(DEVICE, {"echo-box": ECHO}, scenes, "home: {echo: {patch: a, mix: 1}}\n" + extra)
    return judged({**files, **({"show.yaml": show} if show else {})}, base=None)


def test_a_control_that_writes_is_not_left_to_chance_where_nobody_says_it() -> None:
    assert names(show_of("  verse: {echo.mix: 2}\n")) == []


def test_a_scene_that_writes_is_refused_where_it_says_so() -> None:
    assert findings(show_of("  verse: {echo.save: now}\n")) == [
        "lantern.yaml:3:22: error writes-memory: `echo.save` writes the device's memory: no scene sends it"
    ]


@pytest.mark.parametrize("line", ["echo.slot: b", "echo: {slot: b}", "echo: {save: now}"])
def test_a_scene_that_writes_is_refused_however_it_is_written(line: str) -> None:
    assert names(show_of(f"  verse: {{{line}}}\n")) == ["writes-memory lantern.yaml:3"]


@pytest.mark.parametrize(
    ("extra", "scenes"),
    [
        ("vocabulary: {keep: {it: {echo.slot: b}}}", "  verse: {keep: it}\n"),
        ("vocabulary: {keep: echo.slot}", "  verse: {keep: b}\n"),
        ("standing: {silence: {echo.slot: b}}", "  verse: {}\n"),
        ("instruments: {lute: {sets: {echo.slot: b}}}", "  verse: {instrument: lute}\n"),
        ("changes: {lantern: {base: {echo.slot: b}}}", "  verse: {}\n"),
        ("changes: {lantern: {scenes: {verse: {echo.slot: b}}}}", "  verse: {}\n"),
        ("mutes: [{while: [echo.mix], hold: {echo.slot: b}}]", "  verse: {}\n"),
    ],
    ids=["a word", "an entry", "standing", "an instrument", "a changed base", "a changed scene", "a mute"],
)
def test_nothing_else_of_a_rig_brings_it_in(extra: str, scenes: str) -> None:
    assert {d.name for d in show_of(scenes, extra).found if d.severity == "error"} == {"writes-memory"}


def test_home_does_not_bring_it_in() -> None:
    files = files_of(DEVICE, {"echo-box": ECHO}, "  verse: {}\n", "home: {echo: {patch: a, mix: 1, slot: b}}")
    assert names(judged(files, base=None)) == ["writes-memory rigs/a-rig.yaml:5"]


def test_a_songs_base_does_not_bring_it_in() -> None:
    assert names(show_of("  verse: {}\nbase: {echo.slot: b}\n")) == ["writes-memory lantern.yaml:4"]


def test_a_legs_changed_scene_does_not_bring_it_in() -> None:
    show = """
show: Tidewrack
rigs: [a-rig]
legs:
  tour:
    rigs: [a-rig]
    setlist: [lantern]
    changes: {lantern: {scenes: {verse: {echo.save: now}}}}
"""
    assert names(show_of("  verse: {}\n", show=show)) == ["writes-memory show.yaml:8"]


def test_what_is_said_of_an_absent_device_is_refused_on_the_rig_that_has_it_alone() -> None:
    other = """
rig: B rig
ports: {rack: {out: rack, speed: din}}
devices: {multi: {port: rack, channel: 1, definition: multi-box}}
absent: {echo: echo-box}
vocabulary: {echo.mix: multi.mix, echo.slot: nothing, echo.save: nothing, echo.patch: {a: nothing}}
home: {multi.mix: 1}
"""
    files = files_of(DEVICE, {"echo-box": ECHO}, "  verse: {echo.mix: 3}\n", "home: {echo: {patch: a}}")
    files["rigs/b-rig.yaml"] = other
    files["definitions/multi-box.yaml"] = (
        "definition: multi\ncontrols: {mix: {kind: level, cc: 20, range: [0, 127]}}\n"
    )
    files["show.yaml"] = files["show.yaml"].replace("[a-rig]", "[a-rig, b-rig]")
    assert names(judged(files, base=None)) == []
