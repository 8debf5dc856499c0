"""A mute holds while what it covers moves, and is let go: told by what the boxes hear."""

from __future__ import annotations

import pytest

from switchmatrix.model.rig import Device
from switchmatrix.proof.bench import Bench, Wire
from switchmatrix.proof.muted import Muting
from switchmatrix.proof.parts import Part, parts_of
from switchmatrix.proof.run import scenes_of
from switchmatrix.states.show import Run
from tests.proof.shown import SHOW, failed, run_of

MIXER = """\
definition: mixer
controls:
  mute-all: {kind: switch, cc: 102}
  level: {kind: level, cc: 20, range: [0, 127]}
"""
AMP = """\
definition: amp
controls:
  channel: {kind: choice, cc: 30, values: {clean: 0, lead: 1}}
  mute: {kind: switch, cc: 31}
"""
RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  amp: {port: rack, channel: 1, definition: amp}
  mixer: {port: rack, channel: 2, definition: mixer}
mutes:
  - {while: [amp.channel], hold: {mixer.mute-all: on}, before: 5 ms, after: 10 ms}
home: {amp: {channel: clean, mute: off}, mixer: {mute-all: off, level: 64}}
"""
SONG = """\
song: Lantern
scenes:
  verse: {}
  chorus: {amp.channel: lead}
  silence: {mixer.mute-all: on}
"""
FILES = {
    "show.yaml": SHOW,
    "definitions/mixer.yaml": MIXER,
    "definitions/amp.yaml": AMP,
    "rigs/a-rig.yaml": RIG,
    "lantern.yaml": SONG,
}
ON, OFF = bytes.fromhex("B1 66 7F"), bytes.fromhex("B1 66 00")
UNHELD = "amp.channel moves while it is not held"
VERSE = "from unknown (and from 1 more) to lantern verse: mixer.mute-all"


def muted() -> Run:
    """An amplifier whose channel bangs, and a mixer that is shut for as long."""
    return run_of(FILES)


def instead(*arrives: bytes) -> Wire:
    """A wire on which something else arrives where the mixer is shut and opened again."""
    return lambda _, data: arrives if data == (ON, OFF) else data


def test_mutes_that_hold_and_are_let_go_are_proved() -> None:
    assert failed(muted()) == []
    assert failed(muted(), every_pair=True) == []


@pytest.mark.parametrize(
    ("arrives", "said"),
    [
        ((ON,), [f"{VERSE}; wanted off (code 0); got    on (code 127); bytes  B1 66 7F"]),
        ((OFF,), [f"{VERSE}; {UNHELD}; bytes  B1 66 00"]),
        ((OFF, OFF), [f"{VERSE}; {UNHELD}; bytes  B1 66 00, B1 66 00"]),
        (
            (OFF, ON),
            [
                f"{VERSE}; {UNHELD}; bytes  B1 66 00, B1 66 7F",
                f"{VERSE}; wanted off (code 0); got    on (code 127); bytes  B1 66 00, B1 66 7F",
            ],
        ),
        ((bytes.fromhex("B1 66 7E"), OFF), [f"{VERSE}; {UNHELD}; bytes  B1 66 7E, B1 66 00"]),
    ],
    ids=["not let go", "not put on", "another value", "swapped", "off by one"],
)
def test_a_mute_that_does_not_hold_or_is_not_let_go_is_caught(
    arrives: tuple[bytes, ...], said: list[str]
) -> None:
    assert failed(muted(), instead(*arrives)) == said


def test_between_scenes_of_one_state_of_the_mixer_it_is_caught_too() -> None:
    assert failed(muted(), instead(ON), every_pair=True) == [
        "from lantern verse to any scene with mixer alike: mixer.mute-all; wanted off (code 0); got    on "
        "(code 127); bytes  B1 66 7F"
    ]


# Said twice, it holds as it did, and the level beside it does not matter.
def test_a_mute_that_is_said_twice_is_no_fault() -> None:
    assert failed(muted(), instead(ON, ON, OFF)) == []


OF_ONE_BOX = FILES | {
    "rigs/a-rig.yaml": RIG.replace("hold: {mixer.mute-all: on}", "hold: {amp.mute: on}"),
}


def test_a_box_that_mutes_itself_is_proved_with_what_it_covers() -> None:
    run = run_of(OF_ONE_BOX)
    amp = run.rig.devices[0]
    muting = Muting(run.rig, Bench(amp), [state for _, state in scenes_of(run)])
    assert parts_of(amp, muting.together) == (Part(False, frozenset({0, 1})),)
    assert failed(run) == []


@pytest.mark.parametrize("every_pair", [False, True])
def test_a_box_that_moves_before_its_own_mute_is_caught(every_pair: bool) -> None:
    on, lead, off = bytes.fromhex("B0 1F 7F"), bytes.fromhex("B0 1E 01"), bytes.fromhex("B0 1F 00")

    def too_early(_: Device, data: tuple[bytes, ...]) -> tuple[bytes, ...]:
        return (lead, on, off) if data == (on, lead, off) else data

    assert failed(run_of(OF_ONE_BOX), too_early, every_pair=every_pair) == [
        "from unknown (and from 1 more) to lantern chorus: amp.mute; amp.channel moves while it is "
        "not held; bytes  B0 1E 01, B0 1F 7F, B0 1F 00"
    ]
