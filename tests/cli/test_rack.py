"""`switchmatrix rack`: what must be so at the front panels."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from tests.cli.kit import TWO_LEGS, lay, run
from tests.compare.kit import A_RIG, ECHO

RACK = """\
A rig (a-rig)

gate-1: plain gate, port rack (out rack), channel 2
  [ ] channel 2
  [ ] omni off
  [ ] receives CC 20, for threshold

echo: two-tap echo, port rack (out rack), channel 3
  [ ] channel 3
  [ ] omni off
  [ ] receives program changes, for patches
  [ ] receives CC 80, for engage
  [ ] receives CC 21, for mix
  [ ] receives CC 22, for time
  [ ] patch 4, slap: what it stores is not said
  [ ] patch 17, cliff: mix 35 %, time 480 ms
"""


def test_a_whole_rig_is_a_list_with_boxes(tmp_path: Path) -> None:
    ran = run("rack", lay(tmp_path))
    assert (ran.code, ran.out, ran.err) == (0, RACK, "")


def test_another_rig_is_named(tmp_path: Path) -> None:
    ran = run("rack", lay(tmp_path, TWO_LEGS), "--rig", "b-rig")
    assert ran.out.splitlines()[0] == "B rig (b-rig)"
    assert "echo: two-tap echo, port rack (out rack), channel 4" in ran.out.splitlines()


def test_an_unknown_rig_is_wrong_usage(tmp_path: Path) -> None:
    ran = run("rack", lay(tmp_path), "--rig", "a-rgi")
    assert (ran.code, ran.err.splitlines()[-1]) == (
        2,
        "Error: no rig is called a-rgi: did you mean `a-rig`?",
    )


def test_a_show_with_an_error_has_no_list(tmp_path: Path) -> None:
    assert run("rack", lay(tmp_path, {"lantern.yaml": "song: L\nscenes: {a: {gate: tigth}}\n"})).code == 1


def test_a_rig_that_no_leg_plays_on_lists_all_that_it_could_be_sent(tmp_path: Path) -> None:
    spare = {"rigs/b-rig.yaml": A_RIG.replace("A rig", "B rig")}
    show = "show: Tidewrack\nrigs: [a-rig, b-rig]\nlegs:\n  tour: {rigs: [a-rig], setlist: [lantern]}\n"
    ran = run("rack", lay(tmp_path, {**spare, "show.yaml": show}), "--rig", "b-rig")
    assert (ran.code, ran.out) == (0, RACK.replace("A rig (a-rig)", "B rig (b-rig)"))


def test_a_control_that_no_scene_sends_need_not_be_received(tmp_path: Path) -> None:
    tone = {
        "definitions/two-tap-echo.yaml": ECHO + "  tone: {kind: level, cc: 23, range: [0, 9], stored: yes}\n"
    }
    assert run("rack", lay(tmp_path, tone)).out == RACK


EVERYTHING = {
    "definitions/wide-box.yaml": """\
definition: wide box
clock: yes
programs: {count: 256, first: 1, settle: 0 ms, repeat: recalls, bank: cc0, bank-when: always}
controls:
  time: {kind: time, cc14: [12, 44], range: [0 ms, 2000 ms], codes: [0, 2000]}
  depth: {kind: level, nrpn: [1, 8], data: 7, range: [0, 127], channel: side}
  tune: {kind: level, rpn: [0, 1], data: 14, range: [0, 16383]}
  bend: {kind: level, pitch-bend: yes, range: [0, 16383]}
  press: {kind: level, channel-pressure: yes, range: [0, 127]}
  hit: {kind: trigger, note: 60, release: yes}
  loop: {kind: switch, cc: 90, toggle: {press: 127, release: none}, powers-up: off}
  mode: {kind: choice, sysex: {body: [0x7D, id, value]}, values: {one: 1, two: 2}}
""",
    "rigs/a-rig.yaml": A_RIG.replace(
        "vocabulary:",
        "  wide:\n    port: rack\n    channels: {main: 5, side: 6}\n    id: 9\n    gang: 2\n"
        "    definition: wide-box\n    patches: {deep: 130}\nvocabulary:",
    ).replace(
        "home: {",
        "home: {wide: {patch: deep, time: 1 s, depth: 1, tune: 1, bend: 1, press: 1, loop: off, mode: one}, ",
    ),
    "lantern.yaml": "song: Lantern\nscenes: {verse: {wide.hit: now}}\n",
}


def test_every_carrier_is_said_in_words(tmp_path: Path) -> None:
    ran = run("rack", lay(tmp_path, EVERYTHING))
    assert ran.out.partition("\nwide:")[2] == (
        " wide box, port rack (out rack), channel main 5, side 6, id 9, 2 boxes alike\n"
        "  [ ] channel main 5, side 6\n"
        "  [ ] omni off\n"
        "  [ ] system exclusive id 9\n"
        "  [ ] after power-up loop off\n"
        "  [ ] receives program changes, for patches\n"
        "  [ ] receives bank select by CC 0, before every program, 128 programs in a bank, for banks\n"
        "  [ ] receives CC 12 and CC 44, for time\n"
        "  [ ] receives NRPN 1, 8 with 7 bits of data, on the channel side, for depth\n"
        "  [ ] receives RPN 0, 1 with 14 bits of data, then the null number, for tune\n"
        "  [ ] receives pitch bend, for bend\n"
        "  [ ] receives channel pressure, for press\n"
        "  [ ] receives note 60, then its note off, for hit\n"
        "  [ ] receives CC 90, each press flips it, for loop\n"
        "  [ ] receives system exclusive F0 7D <id> <value> F7, for mode\n"
        "  [ ] receives MIDI clock, for tempo\n"
        "  [ ] patch 130, deep: what it stores is not said\n"
    )


def test_as_csv_each_thing_to_do_is_a_row(tmp_path: Path) -> None:
    rows = list(csv.reader(io.StringIO(run("rack", lay(tmp_path), "--format", "csv").out)))
    head = "done rig device model port out channel id do what number detail was scenes"
    device = ["[ ]", "a-rig", "echo", "two-tap echo", "rack", "rack", "3", ""]
    assert rows[0] == head.split()
    assert rows[-2:] == [
        [*device, "make", "slap", "4", "not said", "", ""],
        [*device, "make", "cliff", "17", "mix 35 %, time 480 ms", "", ""],
    ]
    assert len(rows) == 12


def test_a_table_of_programs_in_the_box_is_to_be_set(tmp_path: Path) -> None:
    remapped = {"definitions/two-tap-echo.yaml": ECHO.replace("repeat:", "remap: {5: 12}, repeat:")}
    ran = run("rack", lay(tmp_path, remapped))
    assert "  [ ] program table 5 calls 12\n" in ran.out
