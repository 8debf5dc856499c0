"""A song means on the B rig what it means on the A rig, wherever the B rig has a control for every name."""

from __future__ import annotations

from switchmatrix.pipeline import Judged
from tests.states.kit import DEFINITIONS, order, shown
from tests.support import judged, names

SHOW = """\
show: Tidewrack
rigs: [a-rig, b-rig]
legs:
  tour: {rigs: [a-rig, b-rig], setlist: [lantern]}
"""

A_RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches:
      slap: {at: 4, stores: {mix: 10 %, time: 120 ms}}
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
  colour:
    dark: {echo.mix: 60 %}
  space:
    near: {echo: {engage: on, patch: slap}}
    far: {echo: {engage: on, patch: cliff, time: 700 ms}}
home: {gate: loose, gate-1.release: 250 ms, echo: {engage: off, patch: slap, feed: 0 %}}
"""

# One unit with a control for each name of the echo; its patch U2 stores what it likes.
B_RIG = """\
rig: B rig
ports: {spare: {out: spare, speed: din}}
devices:
  unit:
    port: spare
    channel: 2
    definition: big-unit
    patches: {U1: 1, U2: {at: 2, stores: {gate: -70 dB, mix: 99 %, time: 990 ms}}}
absent: {echo: two-tap-echo}
vocabulary:
  gate:
    tight: {unit.gate: -38 dB}
    loose: {unit.gate: -55 dB}
  colour:
    dark: {echo.mix: 60 %}
  space:
    near: {echo: {engage: on, patch: slap}}
    far: {echo: {engage: on, patch: cliff, time: 700 ms}}
  echo.engage: unit.section
  echo.feed: unit.feed
  echo.mix: unit.mix
  echo.time: unit.time
  echo.patch:
    slap: {unit: {patch: U1, mix: 10 %, time: 120 ms}}
    cliff: {unit: {patch: U2, mix: 35 %, time: 480 ms}}
home: {gate: loose, echo: {engage: off, patch: slap, feed: 0 %}}
"""

BIG_UNIT = """\
definition: big unit
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  gate: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100], stored: yes}
  section: {kind: switch, cc: 80}
  feed: {kind: level, cc: 23, range: [0 %, 100 %], codes: [0, 100]}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], codes: [0, 127], stored: yes}
"""

HANDED_ON = {
    "gate-1.threshold": "unit.gate",
    "echo.engage": "unit.section",
    "echo.feed": "unit.feed",
    "echo.mix": "unit.mix",
    "echo.time": "unit.time",
}


def two_rigs(lantern: str) -> Judged:
    """The song on both rigs."""
    rigs = {"rigs/a-rig.yaml": A_RIG, "rigs/b-rig.yaml": B_RIG, "definitions/big-unit.yaml": BIG_UNIT}
    return judged({**DEFINITIONS, **rigs, "show.yaml": SHOW, "lantern.yaml": lantern}, base=None)


def on_a(show: Judged, label: str) -> dict[str, str]:
    """The values of the A rig that the B rig has a control for."""
    state = shown(show, label, rig="a-rig")
    return {name: state[name].partition(": ")[2] or state[name] for name in HANDED_ON}


def on_b(show: Judged, label: str) -> dict[str, str]:
    """The B rig's values under the names of the A rig."""
    state = shown(show, label, rig="b-rig")
    return {name: state[there] for name, there in HANDED_ON.items()}


def both(lantern: str) -> tuple[dict[str, dict[str, str]], dict[str, dict[str, str]]]:
    """Each visit's values on the A rig and on the B rig."""
    show = two_rigs(lantern)
    visits = order(show)
    return {v: on_a(show, v) for v in visits}, {v: on_b(show, v) for v in visits}


def test_what_the_a_rigs_patch_stores_is_compared_by_its_value() -> None:
    show = two_rigs("song: Lantern\nscenes:\n  verse: {echo.patch: cliff}\n")
    assert on_a(show, "verse") == {
        "gate-1.threshold": "-55 dB",
        "echo.engage": "off",
        "echo.feed": "0 %",
        "echo.mix": "35 %",
        "echo.time": "480 ms",
    }


def test_home_means_the_same_on_both_rigs() -> None:
    a, b = both("song: Lantern\nscenes:\n  verse: {}\n")
    assert a == b


def test_patches_edits_and_switches_mean_the_same_on_both_rigs() -> None:
    a, b = both("""\
song: Lantern
base: {echo: {engage: on, mix: 50 %, feed: 30 %}}
scenes:
  verse: {echo.time: 300 ms}
  chorus: {like: verse, echo.patch: cliff}
  bridge: {like: chorus, echo: {mix: 20 %, time: 700 ms}}
  outro: {like: bridge, echo: slap, echo.engage: off}
  finale: {like: bridge, echo.mix: as stored, echo.feed: home}
""")
    assert a == b


def test_words_of_different_layers_mean_the_same_on_both_rigs() -> None:
    a, b = both("""\
song: Lantern
base: {colour: dark, gate: tight}
scenes:
  verse: {space: far}
  chorus: {like: verse, space: near, echo.time: 900 ms}
  bridge: {like: chorus, echo: cliff, gate: loose}
  finale: {like: [bridge, verse], echo.feed: 5 %}
""")
    assert a == b


def test_note_values_mean_the_same_on_both_rigs() -> None:
    a, b = both("""\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 17, bpm: 100}]
scenes:
  verse: {at: [bar 1, bar 17], echo: {patch: cliff, time: 1/4}}
  chorus: {at: [bar 9, bar 25], like: verse, echo.time: 1/8}
""")
    assert a == b


def test_a_word_that_one_rig_lacks_is_an_error_there() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: open}\n"
    rigs = {
        "rigs/a-rig.yaml": A_RIG.replace(
            "    tight: {gate", "    open: {gate-1.threshold: -70 dB}\n    tight: {gate"
        ),
        "rigs/b-rig.yaml": B_RIG,
        "definitions/big-unit.yaml": BIG_UNIT,
    }
    show = judged({**DEFINITIONS, **rigs, "show.yaml": SHOW, "lantern.yaml": lantern}, base=None)
    assert (names(show), [d.rigs for d in show.found]) == (["unknown-word lantern.yaml:3"], [("b-rig",)])
