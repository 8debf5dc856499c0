"""Cases in which a plainer reading of tables, homes and hands brings a wrong byte."""

from __future__ import annotations

import pytest

from tests.support import BASE_SHOW, judged, names, sent

ECHO = (BASE_SHOW / "definitions" / "two-tap-echo.yaml").read_text(encoding="utf-8")
MULTI = """\
definition: multi
programs: {count: 8, first: 0, repeat: recalls}
controls:
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  on: {kind: switch, cc: 80, main: yes}
  bang: {kind: trigger, cc: 90}
"""
SMALL = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  multi: {port: rack, channel: 1, definition: multi, patches: {p0: 0, p1: 1}}
absent: {echo: two-tap-echo}
vocabulary:
  echo.engage: nothing
  echo.patch: {slap: {multi.patch: p0}, cliff: {multi.patch: p1, multi.mix: home, multi.bang: now}}
home: {multi: {patch: p0, mix: 10 %, on: on}}
"""


def small(song: str, rig: str = SMALL) -> dict[str, str]:
    return {"rigs/a-rig.yaml": rig, "definitions/multi.yaml": MULTI, "lantern.yaml": song}


def test_home_in_a_row_of_a_table_is_what_home_says() -> None:
    show = judged(small("song: L\nscenes:\n  verse: {echo.patch: cliff}\n"))
    assert names(show) == []
    assert sent(show, "lantern", "verse") == [
        "multi recalls p1 (panel 1) C0 01",
        "multi sets mix to 10 % B0 15 0A",
        "multi sets on to on B0 50 7F",
    ]


def test_a_trigger_in_a_row_fires_in_the_scene_that_brings_the_row_alone() -> None:
    song = "song: L\nbase: {echo.patch: cliff}\nscenes:\n  a: {}\n  b: {echo.patch: cliff}\n  c: {like: b}\n"
    show = judged(small(song))
    assert show.states is not None
    states = show.states.runs[0].songs[0][1]
    assert [(visit.scene, len(visit.triggers)) for visit in states.visits] == [("a", 0), ("b", 1), ("c", 0)]


def test_a_rigs_own_home_line_beats_the_dotted_line_of_the_rig_it_is_like() -> None:
    a_rig = (BASE_SHOW / "rigs" / "a-rig.yaml").read_text(encoding="utf-8")
    files = {
        "show.yaml": "show: T\nrigs: [b-rig]\nlegs: {tour: {rigs: [b-rig], setlist: [lantern]}}\n",
        "rigs/a-rig.yaml": a_rig.replace(
            "home: {gate: loose, echo: {engage: off, patch: slap}}",
            "home: {gate: loose, echo.engage: on, echo.patch: slap, echo.mix: 10 %}",
        ),
        "rigs/b-rig.yaml": "rig: B rig\nlike: a-rig\nhome: {echo: {engage: off, mix: 50 %}}\n",
        "lantern.yaml": "song: L\nscenes: {verse: {gate: tight}}\n",
    }
    assert sent(judged(files), "lantern", "verse")[2:] == [
        "echo sets engage to off B2 50 00",
        "echo sets mix to 50 % B2 15 32",
    ]


def test_a_switch_that_a_repeat_flips_is_sent_though_the_patch_stores_it_and_it_stood_there() -> None:
    definition = ECHO.replace("repeat: recalls", "repeat: toggles engage").replace(
        "main: yes}", "main: yes, stored: yes}"
    )
    rig = (BASE_SHOW / "rigs" / "a-rig.yaml").read_text(encoding="utf-8")
    rig = rig.replace("slap: 4", "slap: {at: 4, stores: {engage: on, mix: 35 %, time: 480 ms}}")
    rig = rig.replace("stores: {mix: 35 %", "stores: {engage: on, mix: 35 %")
    rig = rig.replace("echo: {engage: off, patch: slap}", "echo: {engage: on, mix: 10 %, time: 480 ms}")
    show = judged(
        {
            "definitions/two-tap-echo.yaml": definition,
            "rigs/a-rig.yaml": rig,
            "lantern.yaml": "song: L\nscenes:\n  a: {gate: tight}\n  b: {like: a, echo.patch: cliff}\n",
        }
    )
    assert sent(show, "lantern", "b", after="a") == [
        "echo recalls cliff (panel 17) C2 10",
        "echo sets engage to on, as cliff stores it B2 50 7F",
        "echo sets mix to 35 %, as cliff stores it B2 15 23",
    ]


HELD = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  echo: {port: rack, channel: 3, definition: two-tap-echo, patches: {slap: 4, cliff: 17}}
vocabulary:
  who: {player: {echo.patch: leave}}
  one: {x: {echo.engage: on}}
  two: {x: {echo.engage: leave}}
hands: [echo.patch, echo.engage]
home: {echo: {engage: off, mix: 10 %, time: 100 ms}}
"""


def test_a_word_that_leaves_the_patch_to_the_player_clears_no_edit() -> None:
    song = "song: L\nscenes:\n  verse: {echo.mix: 40 %}\n  a: {like: verse, who: player}\n"
    show = judged({"rigs/a-rig.yaml": HELD, "lantern.yaml": song})
    assert "echo sets mix to 40 % B2 15 28" in sent(show, "lantern", "a")


@pytest.mark.parametrize(("first", "second"), [("one", "two"), ("two", "one")])
def test_a_word_with_a_value_and_a_word_that_leaves_it_disagree(first: str, second: str) -> None:
    rig = HELD.replace("  one:", f"  {first}1:").replace("  two:", f"  {second}2:")
    song = f"song: L\nscenes:\n  verse: {{{first}1: x, {second}2: x}}\n"
    show = judged({"rigs/a-rig.yaml": rig, "lantern.yaml": song})
    assert [name.split()[0] for name in names(show)] == ["words-disagree"]


def test_a_control_cannot_be_as_stored_while_the_player_holds_the_patch() -> None:
    song = "song: L\nscenes:\n  verse: {echo.mix: as stored}\n"
    show = judged({"rigs/a-rig.yaml": HELD, "lantern.yaml": song})
    assert names(show) == ["as-stored-nothing lantern.yaml:3"]


@pytest.mark.parametrize(
    ("limit", "place"),
    [("echo.mix: {most: 20 %}", "rigs/a-rig.yaml:10"), ("multi.mix: {most: 20 dB}", "rigs/a-rig.yaml:10")],
)
def test_a_limit_that_limits_nothing_is_refused(limit: str, place: str) -> None:
    rig = SMALL + f"limits: {{{limit}}}\n"
    assert names(judged(small("song: L\nscenes:\n  verse: {echo.patch: slap}\n", rig))) == [
        f"bad-value {place}"
    ]


def test_a_limit_on_a_time_is_said_in_the_controls_own_unit() -> None:
    rig = (BASE_SHOW / "rigs" / "a-rig.yaml").read_text(
        encoding="utf-8"
    ) + "limits: {echo.time: {most: 4 Hz}}\n"
    assert [name.split()[0] for name in names(judged({"rigs/a-rig.yaml": rig}))] == ["bad-value"]


@pytest.mark.parametrize("block", ["{loops: [1, 3], loop-2: on}", "{loop-2: on, loops: [1, 3]}"])
def test_a_loop_named_beside_loops_wins_whatever_the_order(block: str) -> None:
    rig = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices: {box: {port: rack, channel: 1, definition: box}}
home: {box: {loops: []}}
"""
    show = judged(
        {
            "rigs/a-rig.yaml": rig,
            "definitions/box.yaml": "definition: box\nloops: {cc: [81, 82, 83]}\n",
            "lantern.yaml": f"song: L\nscenes:\n  verse: {{box: {block}}}\n",
        }
    )
    assert [line.rpartition(" ")[2] for line in sent(show, "lantern", "verse")] == ["7F", "7F", "7F"]


def test_a_leg_that_drops_every_placed_scene_leaves_no_running_order() -> None:
    show = judged(
        {
            "show.yaml": (
                "show: T\nrigs: [a-rig]\nlegs:\n  tour:\n    rigs: [a-rig]\n    setlist: [lantern]\n"
                "    changes: {lantern: {scenes: {verse: {drop: yes}}}}\n"
            ),
            "lantern.yaml": "song: L\nscenes:\n  verse: {at: bar 1, gate: tight}\n  b: {like: verse}\n",
        }
    )
    assert show.states is not None
    assert show.states.runs[0].songs[0][1].visits == ()


@pytest.mark.parametrize(
    "song",
    [
        "tempo: [{at: bar 1, bpm: 120}, {at: bar 99999, bpm: 60}]\nmeter: 64/1\nscenes: {a: {at: bar 1}}\n",
        'tempo: 1000\nscenes: {a: {at: "279:37.2159"}}\n',
    ],
)
def test_what_lies_past_the_end_of_a_midi_file_is_a_finding(song: str) -> None:
    assert "bad-place" in [name.split()[0] for name in names(judged({"lantern.yaml": "song: L\n" + song}))]
