"""What a declared controller can reach is unknown after every scene, by whatever carrier."""

from __future__ import annotations

import pytest

from switchmatrix.pipeline import Judged
from tests.compile.rigs import rig_show
from tests.compile.shown import wire
from tests.support import findings, names

CARRIERS = {
    "cc": ("cc: 21", "B2 15 05"),
    "pair": ("cc14: [12, 44]", "B2 0C 00 B2 2C 05"),
    "nrpn": ("nrpn: [1, 8], data: 7", "B2 63 01 B2 62 08 B2 06 05"),
    "rpn": ("rpn: [0, 5], data: 14", "B2 65 00 B2 64 05 B2 06 00 B2 26 05 B2 65 7F B2 64 7F"),
    "note": ("note: 60", "92 3C 05"),
    "bend": ("pitch-bend: yes", "E2 05 00"),
    "pressure": ("channel-pressure: yes", "D2 05"),
    "sysex": ("sysex: {body: [0x7D, value]}", "F0 7D 05 F7"),
    "also": ("cc: 21, also-cc: [90]", "B2 15 05"),
}
"""Each carrier of a level, and what carries code 5 on channel 3."""


def level(carrier: str, sends: str, channel: int = 3, device: str = "", port: str = "rack") -> Judged:
    """A box whose level travels so, and a controller that sends so."""
    text = CARRIERS[carrier][0]
    ends = "range: [1, 100], codes: [1, 100]" if carrier == "note" else "range: [0, 127], codes: [0, 127]"
    definition = f"controls: {{level: {{kind: level, {text}, {ends}}}}}"
    return rig_show(
        f"box: {{port: rack, channel: 3, definition: plain-box{device}}}",
        {"plain-box": definition},
        "  verse: {box.level: 5}\n  chorus: {like: verse}\n",
        f"controllers: {{floor: {{port: {port}, channel: {channel}, sends: {{{sends}}}}}}}",
    )


def again(show: Judged) -> str:
    """What a scene sends after another that wanted the same."""
    return " ".join(message.removeprefix("box ") for message in wire(show, "chorus", after="verse"))


REACHED = [
    ("cc", "cc: [21]"),
    ("cc", "cc: [20-25]"),
    ("pair", "cc: [12]"),
    ("pair", "cc: [44]"),
    ("nrpn", "cc: [6]"),
    ("nrpn", "cc: [38]"),
    ("nrpn", "cc: [96]"),
    ("rpn", "cc: [97]"),
    ("note", "notes: [60]"),
    ("note", "notes: [50-70]"),
    ("bend", "pitch-bend: yes"),
    ("pressure", "channel-pressure: yes"),
    ("also", "cc: [90]"),
    ("also", "cc: [21]"),
]


@pytest.mark.parametrize(("carrier", "sends"), REACHED)
def test_what_a_controller_can_move_is_sent_anew(carrier: str, sends: str) -> None:
    show = level(carrier, sends)
    assert findings(show) == [
        "rigs/a-rig.yaml:4:3: hint controller-reaches: a controller can move `level` of `box`: sent anew "
        "with every scene"
    ]
    assert again(show) == CARRIERS[carrier][1]


@pytest.mark.parametrize(("carrier", "sends"), REACHED)
def test_on_another_channel_it_moves_nothing(carrier: str, sends: str) -> None:
    show = level(carrier, sends, channel=4)
    assert names(show) == []
    assert again(show) == ""


@pytest.mark.parametrize(("carrier", "sends"), REACHED)
def test_on_another_port_it_moves_nothing(carrier: str, sends: str) -> None:
    assert again(level(carrier, sends, port="loft")) == ""


@pytest.mark.parametrize(("carrier", "sends"), REACHED)
def test_a_box_that_hears_all_channels_is_moved_from_any(carrier: str, sends: str) -> None:
    show = level(carrier, sends, channel=9, device=", omni: yes")
    assert again(show) == CARRIERS[carrier][1]


@pytest.mark.parametrize(
    ("carrier", "sends"),
    [
        ("cc", "cc: [0-20, 22-119]"),
        ("cc", "notes: [21]"),
        ("cc", "programs: yes, notes: [0-127], pitch-bend: yes, channel-pressure: yes"),
        ("nrpn", "cc: [98-101]"),
        ("note", "notes: [59, 61]"),
        ("note", "cc: [60]"),
        ("bend", "channel-pressure: yes, cc: [0-119]"),
        ("pressure", "pitch-bend: yes, cc: [0-119]"),
        ("sysex", "programs: yes, cc: [0-127], notes: [0-127], pitch-bend: yes, channel-pressure: yes"),
    ],
)
def test_what_no_message_of_the_controller_moves_is_known(carrier: str, sends: str) -> None:
    assert again(level(carrier, sends)) == ""


@pytest.mark.parametrize("carrier", ["cc", "pair", "bend", "pressure", "also"])
def test_reset_all_controllers_may_move_what_controllers_move(carrier: str) -> None:
    """Reset All Controllers (MMA RP-015, p. 1)."""
    assert again(level(carrier, "cc: [121]")) == CARRIERS[carrier][1]


@pytest.mark.parametrize("carrier", ["note", "nrpn", "rpn", "sysex"])
def test_reset_all_controllers_leaves_the_rest(carrier: str) -> None:
    assert again(level(carrier, "cc: [121]")) == ""


@pytest.mark.parametrize("cc", [7, 10, 70, 79, 91, 95])
def test_reset_all_controllers_leaves_volume_pan_sounds_and_effects(cc: int) -> None:
    """RP-015 names them (p. 1): volume, pan, sound controllers, effect depths."""
    show = rig_show(
        "box: {port: rack, channel: 3, definition: plain-box}",
        {"plain-box": f"controls: {{level: {{kind: level, cc: {cc}, range: [0, 127]}}}}"},
        "  verse: {box.level: 5}\n  chorus: {like: verse}\n",
        "controllers: {floor: {port: rack, channel: 3, sends: {cc: [121]}}}",
    )
    assert again(show) == ""


@pytest.mark.parametrize("cc", [1, 31, 33, 69, 80, 90, 119])
def test_reset_all_controllers_may_move_every_other_on_an_older_box(cc: int) -> None:
    """RP-015 (p. 1) narrows what older boxes do: they reset what they have."""
    show = rig_show(
        "box: {port: rack, channel: 3, definition: plain-box}",
        {"plain-box": f"controls: {{level: {{kind: level, cc: {cc}, range: [0, 127]}}}}"},
        "  verse: {box.level: 5}\n  chorus: {like: verse}\n",
        "controllers: {floor: {port: rack, channel: 3, sends: {cc: [121]}}}",
    )
    assert again(show) == f"B2 {cc:02X} 05"


def test_reset_all_controllers_may_move_what_is_left_alone_by_another_cc_that_moves_it_too() -> None:
    """CC 70 and 71 are sound controllers, which it leaves alone; CC 21 is not (MMA RP-015, p. 1)."""
    show = rig_show(
        "box: {port: rack, channel: 3, definition: plain-box}",
        {"plain-box": "controls: {level: {kind: level, cc14: [70, 71], also-cc: [21], range: [0, 16383]}}"},
        "  verse: {box.level: 5}\n  chorus: {like: verse}\n",
        "controllers: {floor: {port: rack, channel: 3, sends: {cc: [121]}}}",
    )
    assert again(show) == "B2 46 00 B2 47 05"


CHANNELS = """
programs: {count: 8, first: 1, repeat: recalls}
controls:
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
  loop: {kind: switch, cc: 22, channel: loops}
"""


def two_channels(sends: str, channel: int) -> Judged:
    """A box with a switch on a second channel."""
    return rig_show(
        "box: {port: rack, channels: {main: 3, loops: 4}, definition: two-box, patches: {a: 1}}",
        {"two-box": CHANNELS},
        "  verse: {box: {patch: a, mix: 1, loop: on}}\n  chorus: {like: verse}\n",
        f"controllers: {{floor: {{port: rack, channel: {channel}, sends: {{{sends}}}}}}}",
    )


@pytest.mark.parametrize(
    ("sends", "channel", "sent"),
    [
        ("cc: [21, 22]", 3, "B2 15 01"),
        ("cc: [21, 22]", 4, "B3 16 7F"),
        ("programs: yes", 3, "C2 00 B2 15 01"),
        ("programs: yes", 4, ""),
    ],
)
def test_each_channel_of_a_box_is_reached_for_itself(sends: str, channel: int, sent: str) -> None:
    assert again(two_channels(sends, channel)) == sent


def test_what_two_controllers_reach_is_said_once_with_both() -> None:
    show = rig_show(
        "box: {port: rack, channel: 3, definition: two-box, patches: {a: 1}}",
        {"two-box": CHANNELS.replace(", channel: loops", "")},
        "  verse: {box: {patch: a, mix: 1, loop: on}}\n",
        "controllers:\n  floor: {port: rack, channel: 3, sends: {cc: [22]}}\n"
        "  wing: {port: rack, channel: 3, sends: {programs: yes}}",
    )
    assert findings(show) == [
        "rigs/a-rig.yaml:4:3: hint controller-reaches: a controller can move its patch, `mix`, `loop` of "
        "`box`: sent anew with every scene"
    ]
    assert [r.message for d in show.found for r in d.related] == [
        "`floor` sends on channel 3 of `rack`",
        "`wing` sends on channel 3 of `rack`",
    ]


def test_a_controller_that_can_send_bank_select_alone_reaches_the_bank() -> None:
    show = rig_show(
        "box: {port: rack, channel: 3, definition: bank-box, patches: {a: 1}}",
        {"bank-box": "programs: {count: 400, first: 1, bank: both, bank-when: change}"},
        "  verse: {box.patch: a}\n",
        "controllers: {floor: {port: rack, channel: 3, sends: {cc: [0]}}}",
    )
    assert findings(show) == [
        "rigs/a-rig.yaml:4:3: hint controller-reaches: a controller can move its bank of `box`: sent anew "
        "with every scene"
    ]
