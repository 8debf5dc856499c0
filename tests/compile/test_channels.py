"""Where devices hear: their channels, their ids, omni, gangs, and messages that two of them would take."""

from __future__ import annotations

import pytest

from switchmatrix.pipeline import Judged
from tests.compile.rigs import rig_show
from tests.compile.shown import wire
from tests.support import findings, names

LOOPS = """
programs: {count: 8, first: 1, repeat: recalls}
controls:
  mix: {kind: level, cc: 21, range: [0, 127]}
  bypass: {kind: switch, cc: 21, channel: loops}
  tap: {kind: trigger, note: 60, channel: loops}
"""


def test_each_control_travels_on_its_own_channel() -> None:
    show = rig_show(
        "box: {port: rack, channels: {main: 3, loops: 16}, definition: loop-box, patches: {a: 1}}",
        {"loop-box": LOOPS},
        "  verse: {box: {patch: a, mix: 1, bypass: on}}\n",
    )
    assert wire(show, "verse") == ["box C2 00", "box B2 15 01", "box BF 15 7F"]


def test_programs_travel_on_the_channel_that_they_name() -> None:
    definition = LOOPS.replace("repeat: recalls", "repeat: recalls, channel: loops")
    show = rig_show(
        "box: {port: rack, channels: {main: 3, loops: 16}, definition: loop-box, patches: {a: 1}}",
        {"loop-box": definition},
        "  verse: {box: {patch: a, mix: 1, bypass: on}}\n",
    )
    assert wire(show, "verse") == ["box CF 00", "box B2 15 01", "box BF 15 7F"]


def test_a_channel_that_the_definition_names_and_the_device_does_not_is_missing() -> None:
    show = rig_show(
        "box: {port: rack, channel: 3, definition: loop-box}", {"loop-box": LOOPS}, "  verse: {}\n"
    )
    assert findings(show) == [
        "rigs/a-rig.yaml:4:3: error channel-missing: the definition of `box` also listens on `loops`, and no "
        "channel is given for it"
    ]


@pytest.mark.parametrize("how", ["channels: {main: 3, loops: 3}", "channels: {main: 3, loops: 4}, omni: yes"])
def test_two_controls_of_one_device_that_one_message_would_move_clash(how: str) -> None:
    show = rig_show(
        f"box: {{port: rack, {how}, definition: loop-box, patches: {{a: 1}}}}",
        {"loop-box": LOOPS},
        "  verse: {box: {patch: a, mix: 1, bypass: on}}\n",
    )
    assert findings(show) == [
        "rigs/a-rig.yaml:4:3: error channel-clash: `bypass` and `mix` both have CC 21 on one channel of `box`"
    ]


EXCLUSIVE = "controls: {depth: {kind: level, sysex: {body: [0x7D, id, 0x12, value]}, range: [0, 127]}}"


def exclusive(one: str, other: str, body: str = EXCLUSIVE) -> Judged:
    """Two boxes of one definition, each with what stands last in its braces."""
    return rig_show(
        f"one: {{port: rack, channel: 3, definition: deep-box{one}}}\n"
        f"two: {{port: rack, channel: 4, definition: deep-box{other}}}",
        {"deep-box": body},
        "  verse: {one.depth: 5, two.depth: 6}\n",
    )


def test_a_devices_id_stands_where_its_template_says_and_tells_two_boxes_apart() -> None:
    show = exclusive(", id: 0", ", id: 126")
    assert names(show) == []
    assert wire(show, "verse") == ["one F0 7D 00 12 05 F7", "two F0 7D 7E 12 06 F7"]


def test_two_boxes_of_one_id_on_one_port_clash_whatever_their_channels() -> None:
    assert names(exclusive(", id: 1", ", id: 1")) == ["channel-clash rigs/a-rig.yaml:5"]


def test_two_boxes_whose_template_has_no_id_clash() -> None:
    assert names(exclusive("", "", EXCLUSIVE.replace("id, ", ""))) == ["channel-clash rigs/a-rig.yaml:5"]


def test_a_gang_is_sent_everything_once() -> None:
    show = rig_show(
        "pair: {port: rack, channel: 3, definition: plain-box, gang: 2}",
        {"plain-box": "controls: {mix: {kind: level, cc: 21, range: [0, 127]}}"},
        "  verse: {pair.mix: 5}\n",
    )
    assert wire(show, "verse") == ["pair B2 15 05"]


PLAIN = "controls: {mix: {kind: level, cc: %d, range: [0, 127]}}"


def omni(one: int, other: int, omni: str = ", omni: yes", port: str = "rack") -> Judged:
    """Two boxes, each with a level on that CC; the second one on channel 4."""
    return rig_show(
        "one: {port: rack, channel: 3, definition: one-box}\n"
        f"two: {{port: {port}, channel: 4, definition: two-box{omni}}}",
        {"one-box": PLAIN % one, "two-box": PLAIN % other},
        "  verse: {one.mix: 5, two.mix: 6}\n",
    )


def test_a_box_that_hears_all_channels_clashes_with_one_of_the_same_cc() -> None:
    show = omni(21, 21)
    assert findings(show) == [
        "rigs/a-rig.yaml:5:3: error channel-clash: `one` sets mix to 5 in `verse` of `lantern`, and that "
        "message (B2 15 05) also moves `mix` of `two`, on the same port"
    ]
    assert [d.help for d in show.found] == [
        "`two` hears all channels (omni): turn that off on its front panel, and here"
    ]


@pytest.mark.parametrize(
    "show",
    [omni(21, 22), omni(21, 21, ""), omni(21, 21, port="loft")],
    ids=["another CC", "no omni", "another port"],
)
def test_boxes_that_never_hear_each_others_messages_do_not_clash(show: Judged) -> None:
    assert names(show) == []
    assert [m[:5] for m in wire(show, "verse")] == ["one B", "two B"]


def test_a_box_that_hears_all_channels_is_sent_on_its_own() -> None:
    assert wire(omni(21, 22), "verse") == ["one B2 15 05", "two B3 16 06"]


ALSO = "controls: {mix: {kind: level, cc: 21, also-cc: [40], range: [0, 127]}}"


def shared(
    one: str, other: str, scenes: str = "  verse: {one.mix: 5, two.mix: 6}\n", more: str = ""
) -> Judged:
    """Two boxes on one channel."""
    return rig_show(
        f"one: {{port: rack, channel: 3, definition: one-box{more}}}\n"
        f"two: {{port: rack, channel: 3, definition: two-box{more}}}",
        {"one-box": one, "two-box": other},
        scenes,
    )


def test_a_cc_that_moves_a_control_too_is_never_sent() -> None:
    show = rig_show(
        "one: {port: rack, channel: 3, definition: one-box}", {"one-box": ALSO}, "  verse: {one.mix: 5}\n"
    )
    assert wire(show, "verse") == ["one B2 15 05"]


def test_a_box_that_also_hears_the_cc_of_another_on_its_channel_clashes() -> None:
    assert names(shared(ALSO, PLAIN % 40)) == ["channel-clash rigs/a-rig.yaml:4"]
    assert names(shared(PLAIN % 40, ALSO)) == ["channel-clash rigs/a-rig.yaml:5"]


def test_two_boxes_that_also_hear_a_cc_which_nobody_sends_only_share_the_channel() -> None:
    assert names(shared(ALSO, ALSO.replace("cc: 21", "cc: 22"))) == ["channel-shared rigs/a-rig.yaml:5"]


NUMBERED = "controls: {mix: {kind: level, nrpn: [1, %d], data: 7, range: [0, 127]}}"


def test_two_boxes_of_two_parameter_numbers_share_a_channel_and_do_not_clash() -> None:
    assert names(shared(NUMBERED % 8, NUMBERED % 9)) == ["channel-shared rigs/a-rig.yaml:5"]


def test_two_boxes_of_one_parameter_number_clash() -> None:
    assert names(shared(NUMBERED % 8, NUMBERED % 8)) == ["channel-clash rigs/a-rig.yaml:5"]


def test_one_number_registered_and_not_registered_is_two() -> None:
    other = (NUMBERED % 8).replace("nrpn", "rpn")
    assert names(shared(NUMBERED % 8, other)) == ["channel-shared rigs/a-rig.yaml:5"]


FLIPPED = "controls: {mix: {kind: switch, cc: 21, toggle: {press: 127, release: 0}, powers-up: off}}"


def test_a_press_that_another_box_hears_clashes() -> None:
    scenes = "  verse: {one.mix: on, two.mix: 6}\n"
    show = shared(FLIPPED, "controls: {mix: {kind: level, cc: 22, also-cc: [21], range: [0, 127]}}", scenes)
    assert names(show) == ["channel-clash rigs/a-rig.yaml:5"]


BANKED = "programs: {count: %d, first: 1, bank: %s, bank-when: %s}"
CALLS = "  verse: {one.patch: a, two.patch: a}\n"


def banked(one: str, other: str, patches: str) -> Judged:
    """Two boxes on one channel, each with a patch."""
    return rig_show(
        f"one: {{port: rack, channel: 3, definition: one-box, patches: {{a: {patches}}}}}\n"
        "two: {port: rack, channel: 3, definition: two-box, patches: {a: 1}}",
        {"one-box": one, "two-box": other},
        CALLS,
    )


def test_a_bank_that_another_box_would_take_for_its_own_next_program_clashes() -> None:
    """The program itself lies past the other's; but in that bank its own are not found any more."""
    show = banked(BANKED % (400, "both", "change"), BANKED % (20, "both", "change"), "{bank: 3, program: 99}")
    assert "channel-clash" in {d.name for d in show.found}


def test_a_trigger_that_another_box_hears_clashes() -> None:
    scenes = "  verse: {one.bell: now, two.mix: 6}\n"
    assert names(shared("controls: {bell: {kind: trigger, cc: 21}}", PLAIN % 21, scenes)) == [
        "channel-clash rigs/a-rig.yaml:5"
    ]
