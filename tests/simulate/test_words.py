"""Where a device stands, in words."""

from __future__ import annotations

import pytest

from switchmatrix.simulate.standing import UNKNOWN, AsStored, Half, Moved, Reloaded, Standing
from switchmatrix.simulate.words import device_said
from tests.simulate.boxes import box, program, start

BOX = """\
programs: {count: 128, first: 0, settle: 1 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80}
  time: {kind: level, cc14: [12, 44], range: [0, 16383], stored: yes}
  bell: {kind: trigger, cc: 90}"""


def test_device_is_said_with_its_patch_and_controls_and_no_triggers() -> None:
    one = box(BOX, "channel: 1, patches: {cliff: 5}")
    at = start(one, 127, AsStored(program(5)), UNKNOWN, patch=program(5))
    assert device_said(one.unit, at) == (("patch", "cliff"), ("engage", "on"), ("time", "as cliff stores it"))


@pytest.mark.parametrize(
    ("standing", "said"),
    [
        (468, "code 468"),
        (AsStored(program(6)), "as program 7 stores it"),
        (Reloaded("mode"), "reloaded by mode"),
        (Moved(20), "moved by CC 20"),
        (Half(3, None), "upper half 3, lower half unknown"),
        (Half(None, 84), "lower half 84, upper half unknown"),
        (UNKNOWN, "unknown"),
    ],
)
def test_standing_is_said(standing: Standing, said: str) -> None:
    one = box(BOX)
    at = start(one, 0, standing, UNKNOWN)
    assert device_said(one.unit, at) == (("patch", "unknown"), ("engage", "off"), ("time", said))


def test_patch_without_a_name_is_said_as_the_standard_counts() -> None:
    one = box("programs: {count: 300, first: 0, bank: cc0, bank-when: change, settle: 1 ms}\ncontrols: {}")
    assert device_said(one.unit, start(one, patch=program(5, 1))) == (("patch", "bank 2, program 6"),)


def test_whoever_knows_the_scale_says_the_codes() -> None:
    one = box(BOX)
    said = device_said(one.unit, start(one, 0, 468, UNKNOWN), lambda control, code: f"{control.name}={code}")
    assert said == (("patch", "unknown"), ("engage", "engage=0"), ("time", "time=468"))
