"""`switchmatrix state`: what a scene means, control by control, and which line says so."""

from __future__ import annotations

from pathlib import Path

from tests.cli.kit import TWO_LEGS, lay, run

SWELL = """\
gate-1  (plain gate, rack ch 2)
  threshold  -38 dB  harbour.yaml:4  scene swell, gate: tight

echo  (two-tap echo, rack ch 3)
  patch   cliff (panel 17)          harbour.yaml:4      scene swell, echo.patch: cliff
  engage  on                        harbour.yaml:4      scene swell, echo.engage: on
  mix     35 %, as cliff stores it  rigs/a-rig.yaml:12  scene swell, stored in cliff
  time    {time}                    harbour.yaml:4      scene swell, echo.time: 1/8
"""


def test_a_scene_is_every_control_with_its_line_layer_and_name(tmp_path: Path) -> None:
    ran = run("state", lay(tmp_path), "lantern", "chorus")

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        """\
gate-1  (plain gate, rack ch 2)
  threshold  -38 dB  lantern.yaml:4  scene verse, gate: tight

echo  (two-tap echo, rack ch 3)
  patch   cliff (panel 17)            lantern.yaml:5      scene chorus, echo.patch: cliff
  engage  on                          lantern.yaml:5      scene chorus, echo.engage: cliff
  mix     35 %, as cliff stores it    rigs/a-rig.yaml:12  scene chorus, stored in cliff
  time    480 ms, as cliff stores it  rigs/a-rig.yaml:12  scene chorus, stored in cliff
"""
    )


# An eighth note is half a quarter: 60 s / 120 / 2 = 250 ms, 60 s / 100 / 2 = 300 ms.
def test_a_scene_without_a_number_is_its_first_visit(tmp_path: Path) -> None:
    ran = run("state", lay(tmp_path, TWO_LEGS), "harbour", "swell")

    assert (ran.code, ran.out) == (0, SWELL.replace("{time}", "250 ms"))


def test_a_scene_with_a_number_is_that_visit(tmp_path: Path) -> None:
    ran = run("state", lay(tmp_path, TWO_LEGS), "harbour", "swell@2")

    assert (ran.code, ran.out) == (0, SWELL.replace("{time}", "300 ms"))


def test_a_standing_scene_has_a_state(tmp_path: Path) -> None:
    ran = run("state", lay(tmp_path, TWO_LEGS), "standing", "changeover", "--rig", "b-rig")

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        """\
gate-1  (plain gate, rack ch 2)
  threshold  -55 dB  rigs/b-rig.yaml:18  scene changeover, gate: loose

echo  (two-tap echo, rack ch 4)
  patch   slap (panel 4)     rigs/b-rig.yaml:17  home, echo.patch: slap
  engage  off                rigs/b-rig.yaml:18  scene changeover, echo.engage: off
  mix     as slap stores it  rigs/b-rig.yaml:17  home, echo.patch: slap
  time    as slap stores it  rigs/b-rig.yaml:17  home, echo.patch: slap
"""
    )


# The gate's codes 0 to 100 hold -70 dB to -20 dB in steps of 0.5 dB.
def test_a_value_between_two_codes_is_shown_as_asked_and_as_the_device_gets_it(tmp_path: Path) -> None:
    show = lay(tmp_path, {"lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate-1.threshold: -38.1 dB}\n"})

    assert run("state", show, "lantern", "verse").out.splitlines()[1] == (
        "  threshold  asked -38.1 dB, gets -38 dB  lantern.yaml:3  scene verse, gate-1.threshold: -38.1 dB"
    )


def test_an_unknown_scene_is_wrong_usage_with_the_nearest_known(tmp_path: Path) -> None:
    ran = run("state", lay(tmp_path), "lantern", "chors")

    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines()[-1] == "Error: no scene is called chors: did you mean `chorus`?"


def test_a_show_with_an_error_has_no_state(tmp_path: Path) -> None:
    show = lay(tmp_path, {"lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: tigh}\n"})

    ran = run("state", show, "lantern", "verse")

    assert (ran.code, ran.out) == (1, "")
    assert ran.err.splitlines()[0] == "error unknown-word: `gate` has no word `tigh`"
