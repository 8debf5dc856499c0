"""Where nothing comes inside a unit: its channel, all of a port with a box that hears every channel."""

from __future__ import annotations

import pytest

from switchmatrix.compile.known import settled_rig
from switchmatrix.compile.schedule import schedule
from switchmatrix.compile.transition import transition
from tests.compile.cases import rig_of, unit
from tests.compile.shown import moments
from tests.support import judged, song, visit

FLANGE = """
definition: flange
gap: 2 ms
controls:
  rate: {kind: level, nrpn: [1, 8], data: 7, range: [0, 127]}
"""
HALL = """
definition: hall
programs: {count: 8, first: 1, settle: 30 ms, repeat: recalls}
controls:
  mix: {kind: level, nrpn: [1, 9], data: 7, range: [0, 127]}
"""


def sent(flange: str, hall: str) -> list[tuple[int, str]]:
    """What the only scene sends from unknown."""
    rig = f"""
rig: A rig
ports: {{rack: {{out: rack, speed: din}}}}
devices:
  flange: {{port: rack, {flange}, definition: flange}}
  hall: {{port: rack, {hall}, definition: hall, patches: {{small: 1}}}}
home: {{flange.rate: 5, hall: {{patch: small, mix: 6}}}}
"""
    files = {"definitions/flange.yaml": FLANGE, "definitions/hall.yaml": HALL, "rigs/a-rig.yaml": rig}
    return moments(judged(files | {"lantern.yaml": "song: Lantern\nscenes: {verse: {}}\n"}), "verse")


def test_another_channel_fills_the_gaps_of_a_unit() -> None:
    assert sent("channel: 1", "channel: 2") == [
        (0, "hall C1 00"),
        (640, "flange B0 63 01"),
        (3600, "flange B0 62 08"),
        (6560, "flange B0 06 05"),
        (30640, "hall B1 63 01"),
        (31600, "hall B1 62 09"),
        (32560, "hall B1 06 06"),
    ]


# The hall settles until 30,640: it would miss the number of the flange's group, and might take its data.
# The flange wants 2,000 between any two messages that it hears, the hall's too.
def test_a_unit_waits_until_all_who_hear_its_channel_have_settled() -> None:
    assert sent("channel: 2", "channel: 2") == [
        (0, "hall C1 00"),
        (30640, "flange B1 63 01"),
        (33600, "flange B1 62 08"),
        (36560, "flange B1 06 05"),
        (39520, "hall B1 63 01"),
        (42480, "hall B1 62 09"),
        (45440, "hall B1 06 06"),
    ]


OMNI = (("channel: 1, omni: yes", "channel: 2"), ("channel: 1", "channel: 2, omni: yes"))


@pytest.mark.parametrize(("flange", "hall"), OMNI)
def test_nothing_of_its_port_comes_inside_a_unit_where_a_box_hears_all_channels(
    flange: str, hall: str
) -> None:
    assert [text.split()[0] for _, text in sent(flange, hall)] == [
        *("hall", "flange", "flange", "flange", "hall", "hall", "hall")
    ]


WIDE = """
definition: flange
gap: 2 ms
controls:
  rate: {kind: level, cc: 20, range: [0, 127]}
  width: {kind: level, cc14: [12, 44], range: [0, 16383]}
"""
PAIR = {
    "definitions/flange.yaml": WIDE,
    "definitions/hall.yaml": "definition: hall\ncontrols: {mix: {kind: level, cc: 21, range: [0, 127]}}\n",
    "rigs/a-rig.yaml": """
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  flange: {port: rack, channel: 2, definition: flange}
  hall: {port: rack, channel: 2, definition: hall}
home: {flange.rate: 5, hall.mix: 6}
""",
}


# A message of three bytes takes 960 (MIDI 1.0 Detailed Specification 4.2.1, p. 1), and 2,000 after it the
# flange takes the next one: its own, or the hall's, which it hears as well.
@pytest.mark.parametrize(
    ("first", "then", "starts"),
    [
        ("hall.mix: 7", "flange.rate: 8", [2960]),
        ("flange.rate: 8", "hall.mix: 7", [2960]),
        ("hall.mix: 7", "flange.width: 300", [2960, 5920]),
    ],
)
def test_a_gap_on_a_shared_channel_goes_on_into_the_next_transition(
    first: str, then: str, starts: list[int]
) -> None:
    scenes = f"song: Lantern\nscenes:\n  verse: {{}}\n  chorus: {{{first}}}\n  coda: {{{first}, {then}}}\n"
    run, states = song(judged(PAIR | {"lantern.yaml": scenes}), "lantern")
    verse, chorus, coda = (visit(states, label).state for label in ("verse", "chorus", "coda"))
    before = schedule(run.rig, transition(run.rig, settled_rig(run.rig, verse), chorus))
    steps = transition(run.rig, settled_rig(run.rig, chorus), coda)
    assert [m.starts_us for m in schedule(run.rig, steps, 100, before.busy).messages] == starts


def two(flange: str, hall: str, scene: str) -> list[tuple[int, str]]:
    """What the only scene sends a flange that wants 2 ms between messages, and a hall; channels as given."""
    definition = """
gap: 2 ms
controls:
  rate: {kind: level, cc: 20, range: [0, 127]}
  pan: {kind: level, cc: 22, range: [0, 127], channel: desk}
"""
    rig = f"""
rig: A rig
ports: {{rack: {{out: rack, speed: din}}}}
devices:
  flange: {{port: rack, {flange}, definition: flange}}
  hall: {{port: rack, {hall}, definition: hall}}
hands: [flange.pan]
"""
    files = {"definitions/flange.yaml": f"definition: flange\n{definition}", "rigs/a-rig.yaml": rig}
    song = f"song: Lantern\nscenes: {{verse: {scene}}}\n"
    return moments(judged(PAIR | files | {"lantern.yaml": song}), "verse")


@pytest.mark.parametrize(
    ("flange", "hall", "start"),
    [
        ("channels: {main: 1, desk: 2}", "channel: 3", 960),
        ("channels: {main: 1, desk: 2}, omni: yes", "channel: 3", 2960),
        ("channels: {main: 1, desk: 3}", "channel: 3", 2960),
    ],
)
def test_a_gap_counts_from_each_message_that_the_box_hears(flange: str, hall: str, start: int) -> None:
    assert two(flange, hall, "{hall.mix: 7, flange.rate: 8}") == [
        (0, "flange B0 14 08"),
        (start, "hall B2 15 07"),
    ]


ROOMS = """
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  hall: {port: rack, channel: 2, definition: hall, patches: {small: 1}}
  flange: {port: rack, channel: 2, definition: flange}
"""


def beside(scene: str, rig: str = ROOMS) -> list[tuple[int, str]]:
    """What the only scene sends a hall and a flange, which hear each other."""
    files = {"definitions/flange.yaml": WIDE, "definitions/hall.yaml": HALL, "rigs/a-rig.yaml": rig}
    return moments(judged(files | {"lantern.yaml": f"song: Lantern\nscenes: {{verse: {scene}}}\n"}), "verse")


def test_a_single_message_does_not_wait_until_others_who_hear_it_have_settled() -> None:
    assert beside("{hall.patch: small, flange.rate: 5}") == [(0, "hall C1 00"), (2640, "flange B1 14 05")]


def test_two_messages_of_a_unit_do() -> None:
    assert beside("{hall.patch: small, flange.width: 300}") == [
        (0, "hall C1 00"),
        (30640, "flange B1 0C 02"),
        (33600, "flange B1 2C 2C"),
    ]


def test_all_devices_of_a_port_hear_what_goes_over_it_where_one_hears_all_channels() -> None:
    rig = ROOMS.replace("channel: 2, definition: hall", "channel: 3, omni: yes, definition: hall")
    assert beside("{hall.patch: small, flange.rate: 5}", rig) == [
        (0, "hall C2 00"),
        (2640, "flange B1 14 05"),
    ]


def test_a_unit_without_its_end_leaves_its_lane_to_nobody() -> None:
    """No transition makes one: whoever puts it in time hears of it."""
    rig = rig_of({"rack": "din"})
    steps = (unit("hall", 3, 3)[0], *unit("echo", 3), *unit("flange", 3))
    with pytest.raises(ValueError, match=r"^the messages wait for each other in a circle$"):
        schedule(rig, steps)
