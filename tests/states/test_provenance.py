"""Each value carries where it came from: file, line, layer and name."""

from __future__ import annotations

import pytest

from tests.states.kit import DEFINITIONS, whence
from tests.support import judged

RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches:
      slap: 4
      cliff: {at: 17, stores: {mix: 35 %}}
instruments:
  baritone:
    tuning: B standard
    sets: {gate-1.release: 300 ms}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home:
  gate: loose
  gate-1.release: 250 ms
  echo: {engage: off, patch: slap, feed: 0 %}
changes:
  lantern:
    scenes:
      bridge: {echo.mix: 20 %}
"""

SHOW = """\
show: Tidewrack
rigs: [a-rig]
legs:
  summer:
    rigs: [a-rig]
    setlist: [lantern]
    changes:
      lantern:
        scenes:
          bridge: {echo.time: 90 ms}
"""

LANTERN = """\
song: Lantern
instrument: baritone
base: {echo.feed: 30 %}
scenes:
  verse: {gate: tight}
  chorus:
    like: verse
    echo: cliff
    echo.time: 200 ms
  bridge: {like: chorus, gate: loose}
  finale: bridge
"""


@pytest.mark.parametrize(
    ("scene", "name", "expected"),
    [
        ("verse", "echo.patch", "rigs/a-rig.yaml:23, home, echo.patch: slap"),
        ("verse", "echo.engage", "rigs/a-rig.yaml:23, home, echo.engage: off"),
        ("verse", "gate-1.release", "rigs/a-rig.yaml:15, instrument baritone, gate-1.release: 300 ms"),
        ("verse", "echo.feed", "lantern.yaml:3, base, echo.feed: 30 %"),
        ("verse", "gate-1.threshold", "lantern.yaml:5, scene verse, gate: tight"),
        ("chorus", "gate-1.threshold", "lantern.yaml:5, scene verse, gate: tight"),
        ("chorus", "echo.patch", "lantern.yaml:8, scene chorus, echo.patch: cliff"),
        ("chorus", "echo.time", "lantern.yaml:9, scene chorus, echo.time: 200 ms"),
        ("bridge", "gate-1.threshold", "lantern.yaml:10, scene bridge, gate: loose"),
        ("finale", "gate-1.threshold", "lantern.yaml:10, scene bridge, gate: loose"),
    ],
)
def test_a_value_says_the_line_the_layer_and_the_name_that_gave_it(
    scene: str, name: str, expected: str
) -> None:
    files = {**DEFINITIONS, "show.yaml": SHOW, "rigs/a-rig.yaml": RIG, "lantern.yaml": LANTERN}
    assert whence(judged(files, base=None), scene, name) == expected


@pytest.mark.parametrize(
    ("name", "place", "owner"),
    [("echo.mix", "rigs/a-rig.yaml:27", "rig"), ("echo.time", "show.yaml:10", "summer")],
)
def test_a_changed_value_says_the_line_of_the_change_and_whose_it_is(
    name: str, place: str, owner: str
) -> None:
    files = {**DEFINITIONS, "show.yaml": SHOW, "rigs/a-rig.yaml": RIG, "lantern.yaml": LANTERN}
    where, layer, _ = whence(judged(files, base=None), "finale", name).split(", ")
    assert (where, owner in layer, "bridge" in layer) == (place, True, True)


def test_a_value_that_a_patch_stores_says_the_line_of_the_rigs_file_that_lists_it() -> None:
    files = {**DEFINITIONS, "show.yaml": SHOW, "rigs/a-rig.yaml": RIG, "lantern.yaml": LANTERN}
    given = whence(judged(files, base=None), "chorus", "echo.mix")
    assert given == "rigs/a-rig.yaml:11, scene chorus, stored in cliff"


B_RIG = """\
rig: B rig
ports: {spare: {out: spare, speed: din}}
devices:
  gate-1: {port: spare, channel: 2, definition: plain-gate}
  unit: {port: spare, channel: 3, definition: treadle-wah}
absent:
  echo: two-tap-echo
  reverb: two-tap-echo
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
  echo.engage: unit.engage
  echo.patch:
    slap: nothing
    cliff: {unit.sweep: 50 %}
  reverb.patch: {hall: {unit.sweep: 20 %}}
  reverb.engage: nothing
joint:
  - of: [echo.patch, reverb.patch]
    rows:
      - [cliff, hall, {unit.sweep: 90 %}]
home: {gate: loose, gate-1.release: 250 ms, echo: {engage: off, patch: slap}, unit.sweep: 0 %}
"""


@pytest.mark.parametrize(
    ("scene", "name", "expected"),
    [
        ("verse", "unit.engage", "rigs/a-rig.yaml:23, home, echo.engage: off"),
        ("chorus", "unit.engage", "lantern.yaml:5, scene chorus, echo.engage: cliff"),
        ("chorus", "unit.sweep", "lantern.yaml:5, scene chorus, echo.patch: cliff"),
    ],
)
def test_a_translated_value_says_the_songs_own_line(scene: str, name: str, expected: str) -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {gate: tight}\n  chorus:\n    echo: cliff\n"
    show = SHOW.partition("    changes:")[0]
    files = {**DEFINITIONS, "show.yaml": show, "rigs/a-rig.yaml": B_RIG, "lantern.yaml": lantern}
    assert whence(judged(files, base=None), scene, name) == expected


def test_a_joint_rows_value_says_a_line_of_the_song_that_brought_it() -> None:
    lantern = "song: Lantern\nbase: {echo: cliff}\nscenes:\n  verse: {reverb: hall}\n"
    show = SHOW.partition("    changes:")[0]
    files = {**DEFINITIONS, "show.yaml": show, "rigs/a-rig.yaml": B_RIG, "lantern.yaml": lantern}
    place = whence(judged(files, base=None), "verse", "unit.sweep").partition(",")[0]
    assert place in {"lantern.yaml:2", "lantern.yaml:4"}
