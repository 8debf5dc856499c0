"""Messages whole: of each kind all that a Step says, from its bytes to the line behind it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from switchmatrix.compile.known import nothing_known, settled_rig
from switchmatrix.compile.step import Step
from switchmatrix.compile.transition import transition
from switchmatrix.pipeline import Judged
from tests.compile.rigs import rig_show
from tests.support import song, visit


def whole(step: Step) -> list[str]:
    """All of a message: who and what; its unit and role; its times; its line; what it moves and holds."""
    return [
        f"{step.device} on {step.port}, channel {step.channel}: {step.data.hex(' ').upper()} {step.meaning}",
        f"    {step.role.value}, {step.part} of {step.parts}; gap {step.gap_us}, settle {step.settle_us}",
        f"    {step.layer}: {step.name} ({step.span})",
        f"    moves {sorted(step.moves)}; mutes {step.mutes}",
    ]


def steps(show: Judged, label: str, after: str | None = None) -> list[str]:
    """The messages and triggers of a scene, whole, from unknown or from another scene."""
    run, states = song(show, "lantern")
    known = nothing_known(run.rig) if after is None else settled_rig(run.rig, visit(states, after).state)
    there = visit(states, label)
    sent = transition(run.rig, known, there.state, there.triggers)
    return [line for step in sent for line in whole(step)]


AMP = """
gap: 2 ms
programs: {count: 256, first: 1, bank: both, bank-when: change, repeat: recalls, settle: 20 ms,
  channel: calls}
controls:
  gain: {kind: level, cc: 31, range: [0, 127], stored: yes}
  line: {kind: choice, cc: 34, values: {one: 0, two: 1}, resets: [bright], channel: loops, settle: 3 ms}
  bright: {kind: level, cc14: [12, 44], range: [0, 16383], settle: 4 ms}
  bell: {kind: trigger, note: 60, release: yes, channel: loops, settle: 5 ms}
"""
MIXER = """
controls:
  level: {kind: level, cc14: [7, 39], range: [0, 16383], channel: desk, settle: 1 ms}
  out: {kind: switch, cc: 90}
"""
DEVICES = """
amp: {port: rack, channels: {main: 1, calls: 5, loops: 6}, definition: amp, patches: {low: 1, high: 130}}
mixer: {port: loft, channels: {main: 2, desk: 9}, definition: mixer}
"""
EXTRA = """
home: {amp: {patch: low, line: one, bright: 300}, mixer: {level: 12000, out: on}}
mutes:
  - {while: [amp.bright], hold: {mixer.out: off}}
  - {while: [amp.line], hold: {mixer.level: 12001}}
  - {while: [amp.patch], hold: {mixer.level: 12001}}
"""
SCENES = """
  verse: {amp.patch: low}
  chorus: {amp.patch: high, amp.bell: now}
  bridge: {amp: {patch: high, bright: 301}}
"""


def rig() -> Judged:
    """An amp of three channels, with banks, and a mixer that is held while it moves."""
    return rig_show(DEVICES, {"amp": AMP, "mixer": MIXER}, SCENES, EXTRA)


def test_from_unknown_each_message_says_who_what_when_and_why() -> None:
    assert (
        steps(rig(), "verse")
        == """\
mixer on loft, channel 9: B8 07 5D holds level at 12001 (1 of 2)
    mute on, 1 of 2; gap 0, settle 0
    mutes: mixer.level: 12001 (rigs/a-rig.yaml:9:5)
    moves ['level']; mutes (1, 2)
mixer on loft, channel 9: B8 27 61 holds level at 12001 (2 of 2)
    mute on, 2 of 2; gap 0, settle 1000
    mutes: mixer.level: 12001 (rigs/a-rig.yaml:9:5)
    moves ['level']; mutes (1, 2)
mixer on loft, channel 2: B1 5A 00 holds out at off
    mute on, 1 of 1; gap 0, settle 0
    mutes: mixer.out: off (rigs/a-rig.yaml:8:5)
    moves ['out']; mutes (0,)
amp on rack, channel 6: B5 22 00 sets line to one
    set, 1 of 1; gap 2000, settle 3000
    home: amp.line: one (rigs/a-rig.yaml:6:26)
    moves ['bright', 'line']; mutes ()
amp on rack, channel 5: B4 00 00 recalls low (panel 1) (1 of 3)
    recall, 1 of 3; gap 2000, settle 0
    scene verse: amp.patch: low (lantern.yaml:4:11)
    moves ['gain', 'patch']; mutes ()
amp on rack, channel 5: B4 20 00 recalls low (panel 1) (2 of 3)
    recall, 2 of 3; gap 2000, settle 0
    scene verse: amp.patch: low (lantern.yaml:4:11)
    moves ['gain', 'patch']; mutes ()
amp on rack, channel 5: C4 00 recalls low (panel 1) (3 of 3)
    recall, 3 of 3; gap 2000, settle 20000
    scene verse: amp.patch: low (lantern.yaml:4:11)
    moves ['gain', 'patch']; mutes ()
amp on rack, channel 1: B0 0C 02 sets bright to 300 (1 of 2)
    set, 1 of 2; gap 2000, settle 0
    home: amp.bright: 300 (rigs/a-rig.yaml:6:37)
    moves ['bright']; mutes ()
amp on rack, channel 1: B0 2C 2C sets bright to 300 (2 of 2)
    set, 2 of 2; gap 2000, settle 4000
    home: amp.bright: 300 (rigs/a-rig.yaml:6:37)
    moves ['bright']; mutes ()
mixer on loft, channel 9: B8 27 60 sets level to 12000
    mute off, 1 of 1; gap 0, settle 1000
    home: mixer.level: 12000 (rigs/a-rig.yaml:6:59)
    moves ['level']; mutes (1, 2)
mixer on loft, channel 2: B1 5A 7F sets out to on
    mute off, 1 of 1; gap 0, settle 0
    home: mixer.out: on (rigs/a-rig.yaml:6:73)
    moves ['out']; mutes (0,)
""".splitlines()
    )


def test_a_recall_says_its_bank_and_a_trigger_that_it_moves_nothing() -> None:
    assert (
        steps(rig(), "chorus", after="verse")
        == """\
mixer on loft, channel 9: B8 27 61 holds level at 12001
    mute on, 1 of 1; gap 0, settle 1000
    mutes: mixer.level: 12001 (rigs/a-rig.yaml:10:5)
    moves ['level']; mutes (2,)
amp on rack, channel 5: B4 00 00 recalls high (panel 130) (1 of 3)
    recall, 1 of 3; gap 2000, settle 0
    scene chorus: amp.patch: high (lantern.yaml:5:12)
    moves ['gain', 'patch']; mutes ()
amp on rack, channel 5: B4 20 01 recalls high (panel 130) (2 of 3)
    recall, 2 of 3; gap 2000, settle 0
    scene chorus: amp.patch: high (lantern.yaml:5:12)
    moves ['gain', 'patch']; mutes ()
amp on rack, channel 5: C4 01 recalls high (panel 130) (3 of 3)
    recall, 3 of 3; gap 2000, settle 20000
    scene chorus: amp.patch: high (lantern.yaml:5:12)
    moves ['gain', 'patch']; mutes ()
mixer on loft, channel 9: B8 27 60 sets level to 12000
    mute off, 1 of 1; gap 0, settle 1000
    home: mixer.level: 12000 (rigs/a-rig.yaml:6:59)
    moves ['level']; mutes (2,)
amp on rack, channel 6: 95 3C 7F fires bell (1 of 2)
    trigger, 1 of 2; gap 2000, settle 0
    scene chorus: amp.bell: now (lantern.yaml:5:29)
    moves []; mutes ()
amp on rack, channel 6: 85 3C 40 fires bell (2 of 2)
    trigger, 2 of 2; gap 2000, settle 5000
    scene chorus: amp.bell: now (lantern.yaml:5:29)
    moves []; mutes ()
""".splitlines()
    )


def test_a_half_of_a_pair_goes_alone_where_the_other_half_stands() -> None:
    assert (
        steps(rig(), "bridge", after="chorus")
        == """\
mixer on loft, channel 2: B1 5A 00 holds out at off
    mute on, 1 of 1; gap 0, settle 0
    mutes: mixer.out: off (rigs/a-rig.yaml:8:5)
    moves ['out']; mutes (0,)
amp on rack, channel 1: B0 2C 2D sets bright to 301
    set, 1 of 1; gap 2000, settle 4000
    scene bridge: amp.bright: 301 (lantern.yaml:6:31)
    moves ['bright']; mutes ()
mixer on loft, channel 2: B1 5A 7F sets out to on
    mute off, 1 of 1; gap 0, settle 0
    home: mixer.out: on (rigs/a-rig.yaml:6:73)
    moves ['out']; mutes (0,)
""".splitlines()
    )


def test_a_trigger_that_its_device_has_not_got_is_no_message() -> None:
    """The binder refuses its name: whoever fires it all the same hears of it."""
    run, states = song(rig(), "lantern")
    there = visit(states, "chorus")
    gong = tuple(replace(trigger, control="gong") for trigger in there.triggers)
    with pytest.raises(KeyError, match=r"^'gong'$"):
        transition(run.rig, nothing_known(run.rig), there.state, gong)
