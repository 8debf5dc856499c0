"""Two absent devices that share one control: an error, unless a joint row or a later line decides."""

from __future__ import annotations

from tests.states.kit import show, shown
from tests.support import names

RIG = """\
rig: B rig
ports: {spare: {out: spare, speed: din}}
devices:
  multi:
    port: spare
    channel: 2
    definition: multi-effect
    patches: {C2: 18, C3: 19, D3: 27, D4: 28, E1: 40}
absent: {echo: two-tap-echo, reverb: hall-reverb}
vocabulary:
  shape:
    wide: {multi.patch: E1}
    narrow: {multi.section-5: off}
  echo.engage: multi.section-4
  echo.patch: {slap: {multi.patch: C2}, cliff: {multi: {patch: C3, section-5: on}}, twin: {multi.patch: D3}}
  echo.time: multi.time
  echo.mix: multi.level
  reverb.engage: multi.section-6
  reverb.patch: {room: nothing, hall: {multi.patch: D3}}
  reverb.mix: multi.level
"""
HOME_LINES = """\
home:
  echo: {engage: off, patch: slap}
  reverb: {engage: off, patch: room}
  multi: {section-5: off, level: 0 %}
"""
ROW = "joint:\n  - {of: [echo.patch, reverb.patch], rows: [[cliff, hall, {multi.patch: D4}]]}\n"

MORE = {
    "definitions/multi-effect.yaml": """\
definition: multi-effect
programs: {count: 128, first: 1, settle: 20 ms, repeat: recalls}
controls:
  section-4: {kind: switch, cc: 84}
  section-5: {kind: switch, cc: 85}
  section-6: {kind: switch, cc: 86}
  level: {kind: level, cc: 20, range: [0 %, 100 %], codes: [0, 100]}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
""",
    "definitions/hall-reverb.yaml": """\
definition: hall reverb
programs: {count: 10, first: 1, settle: 20 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
""",
}

HOME = {
    "multi.patch": "C2",
    "multi.section-4": "off",
    "multi.section-5": "off",
    "multi.section-6": "off",
    "multi.level": "0 %",
    "multi.time": "as C2",
}


def found(lantern: str, rig: str = RIG, more: str = "") -> list[str]:
    """The names of what is wrong on the B rig."""
    return names(show(rig + HOME_LINES + more, lantern, MORE))


def state(lantern: str, scene: str = "verse", rig: str = RIG, more: str = "") -> dict[str, str]:
    """The scene on the B rig."""
    return shown(show(rig + HOME_LINES + more, lantern, MORE), scene)


def test_two_absent_devices_that_bring_different_patches_are_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo: cliff, reverb: hall}\n"
    assert found(lantern) == ["absent-clash lantern.yaml:3"]


def test_two_absent_devices_that_bring_different_codes_are_an_error() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.mix: 20 %, reverb.mix: 30 %}\n"
    assert found(lantern) == ["absent-clash lantern.yaml:3"]


def test_two_absent_devices_clash_from_different_layers_too() -> None:
    lantern = """\
song: Lantern
base: {echo.patch: cliff}
scenes:
  verse: {reverb.patch: hall}
"""
    assert [line.split()[0] for line in found(lantern)] == ["absent-clash"]


def test_an_absent_device_of_home_clashes_with_one_of_the_scene() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {reverb.patch: hall}\n"
    # Home's echo is on `slap`, which is C2 here; the hall is D3.
    assert found(lantern) == ["absent-clash lantern.yaml:3"]


def test_two_absent_devices_that_bring_the_same_code_agree() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: twin, reverb.patch: hall}\n"
    expected = {**HOME, "multi.patch": "D3", "multi.time": "as D3"}
    assert (found(lantern), state(lantern)) == ([], expected)


def test_a_joint_row_stands_in_place_of_what_its_names_bring() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo: cliff, reverb: hall}\n"
    # Section 5 belongs to the row of `cliff` alone, so it stays off.
    on = {"multi.section-4": "on", "multi.section-6": "on"}
    expected = {**HOME, **on, "multi.patch": "D4", "multi.time": "as D4"}
    assert (found(lantern, more=ROW), state(lantern, more=ROW)) == ([], expected)


def test_a_joint_row_fits_names_of_different_layers() -> None:
    lantern = """\
song: Lantern
base: {echo.patch: cliff}
scenes:
  verse: {reverb.patch: hall}
"""
    expected = {**HOME, "multi.patch": "D4", "multi.time": "as D4"}
    assert (found(lantern, more=ROW), state(lantern, more=ROW)) == ([], expected)


def test_a_joint_row_stands_in_the_layer_of_its_last_name() -> None:
    row = ROW.replace("{multi.patch: D4}", "{multi: {patch: D4, section-5: on}}")
    changes = "changes: {lantern: {base: {multi.section-5: off}}}\n"
    lantern = """\
song: Lantern
base: {echo.patch: cliff}
scenes:
  verse: {reverb.patch: hall}
"""
    expected = {**HOME, "multi.patch": "D4", "multi.section-5": "on", "multi.time": "as D4"}
    assert state(lantern, more=row + changes) == expected


def test_the_first_joint_row_that_fits_decides() -> None:
    joint = """\
joint:
  - of: [echo.patch, reverb.patch]
    rows:
      - [slap, hall, {multi.patch: C3}]
      - [cliff, hall, {multi.patch: D4}]
      - [cliff, hall, {multi.patch: E1}]
"""
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: cliff, reverb.patch: hall}\n"
    assert state(lantern, more=joint) == {**HOME, "multi.patch": "D4", "multi.time": "as D4"}


def test_where_no_joint_row_fits_each_name_brings_its_own() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: cliff, reverb.patch: room}\n"
    expected = {**HOME, "multi.patch": "C3", "multi.section-5": "on", "multi.time": "as C3"}
    assert state(lantern, more=ROW) == expected


def test_where_no_joint_row_fits_two_that_differ_still_clash() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {echo.patch: slap, reverb.patch: hall}\n"
    assert found(lantern, more=ROW) == ["absent-clash lantern.yaml:3"]


def test_a_joint_row_may_be_of_switches() -> None:
    joint = "joint:\n  - {of: [echo.engage, reverb.engage], rows: [[on, on, {multi.section-5: on}]]}\n"
    lantern = "song: Lantern\nscenes:\n  verse: {echo: on, reverb: on}\n  chorus: {echo: on}\n"
    # The row stands in place of what the two switches bring: sections 4 and 6 stay as home's own lines say.
    home = HOME_LINES.replace("section-5: off", "section-4: off, section-5: off, section-6: off")
    judged = show(RIG + home + joint, lantern, MORE)
    assert shown(judged, "verse") == {**HOME, "multi.section-5": "on"}
    assert shown(judged, "chorus") == {**HOME, "multi.section-4": "on"}


def test_edits_of_a_joint_rows_devices_lie_over_the_row() -> None:
    row = ROW.replace("{multi.patch: D4}", "{multi: {patch: D4, time: 500 ms}}")
    lantern = "song: Lantern\nscenes:\n  verse: {echo: {patch: cliff, time: 300 ms}, reverb.patch: hall}\n"
    assert state(lantern, more=row) == {**HOME, "multi.patch": "D4", "multi.time": "300 ms"}


def test_a_later_layers_edit_of_a_joint_rows_device_lies_over_the_row() -> None:
    row = ROW.replace("{multi.patch: D4}", "{multi: {patch: D4, time: 500 ms}}")
    lantern = """\
song: Lantern
base: {echo.patch: cliff, reverb.patch: hall}
scenes:
  verse: {echo.time: 300 ms}
"""
    assert state(lantern, more=row) == {**HOME, "multi.patch": "D4", "multi.time": "300 ms"}


def test_a_later_outright_line_of_the_rigs_own_decides() -> None:
    changes = "changes: {lantern: {scenes: {verse: {multi.patch: E1}}}}\n"
    lantern = "song: Lantern\nbase: {echo.patch: cliff, reverb.patch: hall}\nscenes:\n  verse: {}\n"
    expected = {**HOME, "multi.patch": "E1", "multi.section-5": "on", "multi.time": "as E1"}
    assert (found(lantern, more=changes), state(lantern, more=changes)) == ([], expected)


def test_a_later_word_of_the_rigs_own_decides() -> None:
    lantern = (
        "song: Lantern\nbase: {echo.patch: cliff, reverb.patch: hall}\nscenes:\n  verse: {shape: wide}\n"
    )
    expected = {**HOME, "multi.patch": "E1", "multi.section-5": "on", "multi.time": "as E1"}
    assert (found(lantern), state(lantern)) == ([], expected)


def test_an_outright_line_of_the_same_layer_is_later_than_both_and_decides() -> None:
    home = HOME_LINES.replace("patch: room", "patch: hall").replace("level: 0 %", "level: 0 %, patch: E1")
    lantern = "song: Lantern\nscenes:\n  verse: {}\n"
    judged = show(RIG + home, lantern, MORE)
    assert (names(judged), shown(judged, "verse")) == (
        [],
        {**HOME, "multi.patch": "E1", "multi.time": "as E1"},
    )


def test_a_word_of_the_same_layer_is_earlier_than_both_and_does_not_decide() -> None:
    lantern = "song: Lantern\nscenes:\n  verse: {shape: wide, echo.patch: cliff, reverb.patch: hall}\n"
    assert found(lantern) == ["absent-clash lantern.yaml:3"]


def test_a_line_of_the_rigs_own_between_the_two_does_not_decide() -> None:
    lantern = """\
song: Lantern
base: {echo.patch: cliff}
scenes:
  verse: {shape: wide}
  chorus: {like: verse, reverb.patch: hall}
"""
    assert found(lantern) == ["absent-clash lantern.yaml:5"]
