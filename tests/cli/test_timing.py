"""`switchmatrix timing`: how long each change of a show takes.

A byte takes 320 microseconds (MIDI 1.0 Detailed Specification 4.2.1, p. 1).
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

from tests.cli.kit import TWO_LEGS, lay, run


# The recall of two bytes, its 35 ms, the switch and (at a tempo of its own) the time.
def test_each_leg_on_each_of_its_rigs_is_printed(tmp_path: Path) -> None:
    ran = run("timing", lay(tmp_path, TWO_LEGS))

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        """\
summer, A rig

01  Lantern
  1. verse, bar 1: from unknown, 36.6 ms (bound 36.6 ms), slowest echo
     quiet while they recall: echo 35 ms
  2. chorus, bar 9: 36.6 ms (bound 36.6 ms), slowest echo
     quiet while they recall: echo 35 ms

03  Harbour
  1. swell, bar 1: from unknown, 37.6 ms (bound 37.6 ms), slowest echo
     quiet while they recall: echo 35 ms
  2. swell, bar 9: 1.0 ms (bound 1.0 ms), slowest echo

summer, B rig

01  Lantern
  1. verse, bar 1: from unknown, 36.6 ms (bound 36.6 ms), slowest echo
     quiet while they recall: echo 35 ms
  2. chorus, bar 9: 36.6 ms (bound 36.6 ms), slowest echo
     quiet while they recall: echo 35 ms

03  Harbour
  1. swell, bar 1: from unknown, 37.6 ms (bound 37.6 ms), slowest echo
     quiet while they recall: echo 35 ms
  2. swell, bar 9: 1.0 ms (bound 1.0 ms), slowest echo

winter, A rig

01  Harbour
  1. swell, bar 1: from unknown, 37.6 ms (bound 37.6 ms), slowest echo
     quiet while they recall: echo 35 ms
  2. swell, bar 9: 1.0 ms (bound 1.0 ms), slowest echo
"""
    )


def test_one_leg_on_one_rig_may_be_asked_for(tmp_path: Path) -> None:
    ran = run("timing", lay(tmp_path, TWO_LEGS), "--leg", "summer", "--rig", "b-rig")

    assert [line for line in ran.out.splitlines() if line.startswith(("summer", "winter"))] == [
        "summer, B rig"
    ]


def test_json_has_a_row_for_each_visit(tmp_path: Path) -> None:
    ran = run("timing", lay(tmp_path, TWO_LEGS), "--leg", "winter", "--format", "json")

    assert (ran.code, ran.err) == (0, "")
    swell = {"leg": "winter", "rig": "a-rig", "song": "harbour", "scene": "swell", "slowest": "echo"}
    held = {"budget_us": None, "on_time": False, "late_us": None}
    assert json.loads(ran.out) == [
        {
            **swell,
            **held,
            "visit": 1,
            "place": "bar 1",
            "change_time_us": 37560,
            "bound_us": 37560,
            "quiet_us": {"echo": 35000},
        },
        {
            **swell,
            **held,
            "visit": 2,
            "place": "bar 9",
            "change_time_us": 960,
            "bound_us": 960,
            "quiet_us": {},
        },
    ]


def test_a_show_with_an_error_has_no_times(tmp_path: Path) -> None:
    ran = run("timing", lay(tmp_path, {"lantern.yaml": "song: Lantern\nscenes: {verse: {gate: tigt}}\n"}))

    assert (ran.code, ran.out) == (1, "")
    assert "unknown-word" in ran.err


def test_a_leg_that_is_not_there_is_refused(tmp_path: Path) -> None:
    assert run("timing", lay(tmp_path), "--leg", "spring").code == 2


def _printed(seed: str) -> str:
    """What a fresh interpreter with this hash seed prints of the example show's workshop, mutes and all."""
    songs = Path(__file__).parents[2] / "songs"
    command = [sys.executable, "-m", "switchmatrix", "timing", str(songs), "--leg", "workshop"]
    env = {**os.environ, "PYTHONHASHSEED": seed}
    return subprocess.run(command, check=True, capture_output=True, text=True, env=env).stdout


def test_hash_seeds_change_no_time() -> None:
    assert _printed("1") == _printed("2") != ""
