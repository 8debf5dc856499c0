"""Gaps, settles of controls, units and mutes on the wire, worked out by hand.

A byte takes 320 microseconds (MIDI 1.0 Detailed Specification 4.2.1, p. 1): a program change of two
bytes 640, a control change of three 960.
"""

from __future__ import annotations

from switchmatrix.pipeline import Judged
from tests.compile.shown import moments
from tests.support import judged

AMP = """
definition: amp
controls:
  channel: {kind: choice, cc: 80, values: {clean: 0, lead: 127}, settle: 20 ms}
  boost: {kind: switch, cc: 81}
"""
SLOW = """
definition: slow box
gap: 2 ms
controls:
  depth: {kind: level, cc14: [12, 44], range: [0, 16383]}
  rate: {kind: level, cc: 20, range: [0, 127]}
"""
GATE = "definition: plain gate\ncontrols: {threshold: {kind: level, cc: 20, range: [0, 127]}}\n"
MIXER = """
definition: mixer
programs: {count: 8, first: 1, settle: 3 ms, repeat: recalls}
controls:
  mute: {kind: switch, cc: 102, settle: 1 ms, stored: yes}
  low: {kind: switch, cc: 103}
"""


def show_of(rig: str, scenes: str) -> Judged:
    """A rig of these boxes with these scenes."""
    return judged(
        {
            "definitions/amp.yaml": AMP,
            "definitions/slow-box.yaml": SLOW,
            "definitions/plain-gate.yaml": GATE,
            "definitions/mixer.yaml": MIXER,
            "rigs/a-rig.yaml": "rig: A rig\nports: {rack: {out: rack, speed: din}}\n" + rig,
            "lantern.yaml": "song: Lantern\nscenes:\n" + scenes,
        }
    )


def test_a_control_settles() -> None:
    rig = """
devices: {amp: {port: rack, channel: 1, definition: amp}}
home: {amp.channel: clean, amp.boost: off}
"""
    assert moments(show_of(rig, "  verse: {}\n"), "verse") == [
        (0, "amp B0 50 00"),
        (20960, "amp B0 51 00"),
    ]


SLOW_AND_GATES = """
devices:
  slow: {port: rack, channel: 1, definition: slow-box}
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  gate-2: {port: rack, channel: 3, definition: plain-gate}
  gate-3: {port: rack, channel: 4, definition: plain-gate}
home: {slow.depth: 300, slow.rate: 3, gate-1.threshold: 1, gate-2.threshold: 2, gate-3.threshold: 3}
"""


# 300 is 2 times 128 and 44. The third gate begins just before the slow box would take something again.
def test_a_gap_stands_inside_a_unit_and_after_it_and_other_channels_fill_it() -> None:
    assert moments(show_of(SLOW_AND_GATES, "  verse: {}\n"), "verse") == [
        (0, "slow B0 0C 02"),
        (960, "gate-1 B1 14 01"),
        (1920, "gate-2 B2 14 02"),
        (2880, "gate-3 B3 14 03"),
        (3840, "slow B0 2C 2C"),
        (6800, "slow B0 14 03"),
    ]


# A gate hears channel 1 too: nothing for it stands inside the pair, nor in the slow box's gap.
def test_nothing_on_the_channel_of_a_unit_stands_inside_it() -> None:
    rig = SLOW_AND_GATES.replace("channel: 2", "channel: 1").replace("cc: 20", "cc: 21")
    files = {"definitions/slow-box.yaml": SLOW.replace("cc: 20", "cc: 21")}
    show = judged(
        {
            **files,
            "definitions/plain-gate.yaml": GATE,
            "rigs/a-rig.yaml": "rig: A rig\nports: {rack: {out: rack, speed: din}}\n" + rig,
            "lantern.yaml": "song: Lantern\nscenes: {verse: {}}\n",
        }
    )
    assert moments(show, "verse") == [
        (0, "slow B0 0C 02"),
        (960, "gate-2 B2 14 02"),
        (1920, "gate-3 B3 14 03"),
        (2960, "slow B0 2C 2C"),
        (5920, "slow B0 15 03"),
        (8880, "gate-1 B0 14 01"),
    ]


MUTED = """
devices:
  amp: {port: rack, channel: 1, definition: amp}
  mixer:
    port: rack
    channel: 2
    definition: mixer
    patches: {open: {at: 1, stores: {mute: off}}, shut: {at: 2, stores: {mute: on}}}
  gate-1: {port: rack, channel: 3, definition: plain-gate}
home: {amp.channel: clean, amp.boost: off, mixer: {patch: open, low: off}, gate-1.threshold: 1}
mutes: [{while: [amp.channel], hold: {HELD: on}, before: 5 ms, after: 10 ms}]
"""


# On and out at 960, settled at 1,960, 5 ms more; the channel out at 7,920, settled at 27,920, 10 ms more.
def test_a_mute_holds_before_and_after_what_it_covers() -> None:
    show = show_of(MUTED.replace("HELD", "mixer.mute"), "  verse: {}\n  solo: {amp.channel: lead}\n")
    assert moments(show, "solo", "verse") == [
        (0, "mixer B1 66 7F"),
        (6960, "amp B0 50 7F"),
        (37920, "mixer B1 66 00"),
    ]


def test_others_are_sent_to_while_a_mute_holds() -> None:
    show = show_of(
        MUTED.replace("HELD", "mixer.mute"),
        "  verse: {}\n  solo: {amp: {channel: lead, boost: on}, gate-1.threshold: 9}\n",
    )
    assert moments(show, "solo", "verse") == [
        (0, "mixer B1 66 7F"),
        (960, "gate-1 B2 14 09"),
        (6960, "amp B0 50 7F"),
        (27920, "amp B0 51 7F"),
        (37920, "mixer B1 66 00"),
    ]


# The mixer's own recall stores the mute, so it goes first: out at 640, settled at 3,640. The mute is on
# at 4,600, settled at 5,600, and holds from 10,600 on.
def test_a_recall_that_stores_what_a_mute_holds_goes_before_it() -> None:
    rig = MUTED.replace("HELD", "mixer.mute").replace("stores: {mute: on}", "stores: {mute: off}")
    show = show_of(rig, "  verse: {}\n  solo: {amp.channel: lead, mixer.patch: shut}\n")
    assert moments(show, "solo", "verse") == [
        (0, "mixer C1 01"),
        (3640, "mixer B1 66 7F"),
        (10600, "amp B0 50 7F"),
        (41560, "mixer B1 66 00"),
    ]


# The patch itself is muted: nothing more to hold, but it holds only when it has settled, at 3,640.
def test_a_recall_that_brings_the_mute_is_waited_for() -> None:
    show = show_of(
        MUTED.replace("HELD", "mixer.mute"),
        "  verse: {}\n  solo: {amp.channel: lead, mixer.patch: shut}\n",
    )
    assert moments(show, "solo", "verse") == [(0, "mixer C1 01"), (8640, "amp B0 50 7F")]


def test_a_mute_that_is_known_to_hold_is_not_waited_for() -> None:
    show = show_of(
        MUTED.replace("HELD", "mixer.mute"),
        "  verse: {mixer.patch: shut}\n  solo: {mixer.patch: shut, amp.channel: lead}\n",
    )
    assert moments(show, "solo", "verse") == [(0, "amp B0 50 7F")]


TWO_MUTES = MUTED.replace(
    "mutes: [{while: [amp.channel], hold: {HELD: on}, before: 5 ms, after: 10 ms}]",
    """\
mutes:
  - {while: [amp.channel], hold: {mixer.low: on}, before: 1 ms}
  - {while: [amp.boost, gate-1.threshold], hold: {mixer.low: on}, after: 3 ms}
""",
)


# One control held by both: on once, off when both have done. The amp settles at 22,920 from its channel,
# and its boost is out at 23,880; 3 ms after that it is 26,880.
def test_two_mutes_of_one_control_are_one_hold() -> None:
    show = show_of(TWO_MUTES, "  verse: {}\n  solo: {amp: {channel: lead, boost: on}, gate-1.threshold: 9}\n")
    assert moments(show, "solo", "verse") == [
        (0, "mixer B1 67 7F"),
        (960, "gate-1 B2 14 09"),
        (1960, "amp B0 50 7F"),
        (22920, "amp B0 51 7F"),
        (26880, "mixer B1 67 00"),
    ]
