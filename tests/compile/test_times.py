"""Messages in time: 320 microseconds a byte on a din port, ports side by side, settles undisturbed.

320 microseconds: ten bits at 31,250 baud (MIDI 1.0 Detailed Specification 4.2.1, p. 1).
"""

from __future__ import annotations

from switchmatrix.pipeline import Judged, plan
from tests.compile.shown import moments
from tests.support import judged, timed

HALL = """
definition: hall
programs: {count: 8, first: 1, settle: 35 ms, repeat: recalls}
controls:
  mix: {kind: level, cc: 30, range: [0, 127]}
  decay: {kind: level, cc: 20, range: [0, 127]}
"""
GATE = """
definition: plain gate
controls:
  threshold: {kind: level, cc: 20, range: [0, 127]}
"""


def show_of(rig: str, scenes: str) -> Judged:
    """A rig of halls and gates with these scenes."""
    files = {"rigs/a-rig.yaml": "rig: A rig\n" + rig, "definitions/hall.yaml": HALL}
    song = "song: Lantern\ntempo: 120\n" + scenes
    return judged({**files, "definitions/plain-gate.yaml": GATE, "lantern.yaml": song})


RACK = "ports: {rack: {out: rack, speed: din}}\n"


def test_on_a_din_port_a_message_starts_when_the_one_before_has_gone() -> None:
    rig = """
devices:
  gate-1: {port: rack, channel: 1, definition: plain-gate}
  gate-2: {port: rack, channel: 2, definition: plain-gate}
  gate-3: {port: rack, channel: 3, definition: plain-gate}
home: {gate-1.threshold: 1, gate-2.threshold: 2, gate-3.threshold: 3}
"""
    assert moments(show_of(RACK + rig, "scenes: {verse: {}}"), "verse") == [
        (0, "gate-1 B0 14 01"),
        (960, "gate-2 B1 14 02"),
        (1920, "gate-3 B2 14 03"),
    ]


def test_on_a_usb_port_bytes_take_no_time() -> None:
    rig = """
ports: {rack: {out: rack, speed: usb}}
devices:
  gate-1: {port: rack, channel: 1, definition: plain-gate}
  gate-2: {port: rack, channel: 2, definition: plain-gate}
home: {gate-1.threshold: 1, gate-2.threshold: 2}
"""
    assert moments(show_of(rig, "scenes: {verse: {}}"), "verse") == [
        (0, "gate-1 B0 14 01"),
        (0, "gate-2 B1 14 02"),
    ]


def test_ports_run_side_by_side() -> None:
    rig = """
ports: {rack: {out: rack, speed: din}, floor: {out: floor, speed: din}}
devices:
  gate-1: {port: rack, channel: 1, definition: plain-gate}
  gate-2: {port: rack, channel: 2, definition: plain-gate}
  gate-3: {port: floor, channel: 1, definition: plain-gate}
home: {gate-1.threshold: 1, gate-2.threshold: 2, gate-3.threshold: 3}
"""
    assert moments(show_of(rig, "scenes: {verse: {}}"), "verse") == [
        (0, "gate-1 B0 14 01"),
        (0, "gate-3 B0 14 03"),
        (960, "gate-2 B1 14 02"),
    ]


def test_a_device_is_sent_nothing_while_it_settles() -> None:
    rig = """
devices:
  hall-1: {port: rack, channel: 1, definition: hall, patches: {small: 1}}
home: {hall-1: {patch: small, mix: 5, decay: 6}}
"""
    # Two bytes (640), then 35,000 of settling.
    assert moments(show_of(RACK + rig, "scenes: {verse: {}}"), "verse") == [
        (0, "hall-1 C0 00"),
        (35640, "hall-1 B0 1E 05"),
        (36600, "hall-1 B0 14 06"),
    ]


def test_a_device_settles_on_a_usb_port_too() -> None:
    rig = """
ports: {rack: {out: rack, speed: usb}}
devices:
  hall-1: {port: rack, channel: 1, definition: hall, patches: {small: 1}}
home: {hall-1: {patch: small, mix: 5, decay: 6}}
"""
    assert moments(show_of(rig, "scenes: {verse: {}}"), "verse") == [
        (0, "hall-1 C0 00"),
        (35000, "hall-1 B0 1E 05"),
        (35000, "hall-1 B0 14 06"),
    ]


def test_the_recalls_of_others_fill_a_settle() -> None:
    rig = """
devices:
  hall-1: {port: rack, channel: 1, definition: hall, patches: {small: 1}}
  hall-2: {port: rack, channel: 2, definition: hall, patches: {small: 1}}
home: {hall-1: {patch: small, mix: 5, decay: 6}, hall-2: {patch: small, mix: 7, decay: 8}}
"""
    assert moments(show_of(RACK + rig, "scenes: {verse: {}}"), "verse") == [
        (0, "hall-1 C0 00"),
        (640, "hall-2 C1 00"),
        (35640, "hall-1 B0 1E 05"),
        (36600, "hall-2 B1 1E 07"),
        (37560, "hall-1 B0 14 06"),
        (38520, "hall-2 B1 14 08"),
    ]


def test_a_device_of_another_port_does_not_wait_for_a_settle() -> None:
    rig = """
ports: {rack: {out: rack, speed: din}, floor: {out: floor, speed: din}}
devices:
  hall-1: {port: rack, channel: 1, definition: hall, patches: {small: 1}}
  gate-1: {port: floor, channel: 2, definition: plain-gate}
home: {hall-1: {patch: small, mix: 5, decay: 6}, gate-1.threshold: 9}
"""
    assert moments(show_of(rig, "scenes: {verse: {}}"), "verse") == [
        (0, "hall-1 C0 00"),
        (0, "gate-1 B1 14 09"),
        (35640, "hall-1 B0 1E 05"),
        (36600, "hall-1 B0 14 06"),
    ]


HALL_RIG = """
devices:
  hall-1: {port: rack, channel: 1, definition: hall, patches: {small: 1, large: 2}}
home: {hall-1: {patch: small, mix: 5, decay: 6}}
"""


def test_a_recall_lands_when_the_device_has_settled() -> None:
    show = show_of(RACK + HALL_RIG, "scenes: {verse: {}, chorus: {hall-1.patch: large}}")
    assert [m.lands_us for m in timed(show, "lantern", "chorus", "verse")] == [35640]


def test_the_change_time_runs_from_the_first_byte_until_the_last_device_has_settled() -> None:
    show = show_of(
        RACK + HALL_RIG, "scenes: {verse: {}, chorus: {hall-1.patch: large}, coda: {like: chorus}}"
    )
    assert [v.change_time_us for v in plan(show)[0].songs[0].visits] == [37560, 35640, 0]


def test_a_visit_begins_from_what_the_one_before_left_going() -> None:
    song = 'scenes: {verse: {at: "0:00"}, chorus: {at: "0:00.010", hall-1: {patch: large, mix: 9}}}'
    show = show_of(RACK + HALL_RIG, song)
    # The last message of the verse ends at 37,560; the chorus stands at 10,000, to the nearest tick.
    chorus = plan(show)[0].songs[0].visits[1]
    begins = 37560 - chorus.messages[0].starts_us
    assert 9_000 < begins < 11_000
    assert [m.starts_us + begins for m in chorus.messages] == [37560, 73200]


def test_a_visit_long_after_the_one_before_waits_for_nothing() -> None:
    show = show_of(
        RACK + HALL_RIG, "scenes: {verse: {at: bar 1}, chorus: {at: bar 2, hall-1: {patch: large, mix: 9}}}"
    )
    assert [m.starts_us for m in plan(show)[0].songs[0].visits[1].messages] == [0, 35640]
