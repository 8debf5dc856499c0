"""Cross-talk: what a message for one device does to another one on its port, judged message by message."""

from __future__ import annotations

import pytest

from tests.checks.nearby import RIG, Files, box, but, scenes, shown
from tests.support import findings, judged

KNOB = "controls: {knob: {kind: level, cc: NUMBER, range: [0, 127]}}\n"


def heard(*files: Files) -> list[str]:
    """What is found about channels: severity, name and message."""
    lines = (line.split(": ", 1)[1] for line in findings(judged(shown(*files))))
    return [line for line in lines if line.split()[1].startswith(("channel-", "controller-"))]


def knob(cc: int, keys: str = "channel: 3") -> Files:
    """A box with one level on a controller, beside the echo on channel 3."""
    return box(KNOB.replace("NUMBER", str(cc)), keys, "knob: 5")


def shared(other: str = "box") -> list[str]:
    """The hint that two devices share a channel."""
    return [
        f"hint channel-shared: `{other}` and `echo` share channel 3 of `rack`; "
        "neither acts on what the show sends the other"
    ]


def test_a_common_controller_is_an_error_that_names_both_devices_the_scene_and_the_message() -> None:
    assert heard(knob(80)) == [
        "error channel-clash: `echo` sets engage to off in `verse` of `lantern`, and that message (B2 50 00) "
        "also moves `knob` of `box`, on the same port"
    ]


def test_it_stands_at_the_device_that_is_moved_and_shows_where_the_message_comes_from() -> None:
    (clash,) = judged(knob(80)).found
    related = [(one.message, str(one.span)) for one in clash.related]
    assert (str(clash.span), related) == (
        "rigs/a-rig.yaml:13:3",
        [
            ("`echo` is here", "rigs/a-rig.yaml:6:3"),
            ("this line brings the message", "rigs/a-rig.yaml:18:28"),
        ],
    )


def test_two_that_move_each_other_are_said_once() -> None:
    both = box("controls: {engage: {kind: switch, cc: 80, main: yes}}\n", "channel: 3", "engage: off")
    assert [line.split(":")[0] for line in heard(both)] == ["error channel-clash"]


def test_a_shared_channel_with_nothing_in_common_is_a_hint() -> None:
    assert heard(knob(81)) == shared()


def test_of_three_on_one_channel_each_pair_is_judged() -> None:
    files = knob(81)
    third = "  third: {port: rack, channel: 3, definition: third}\n"
    more = {
        RIG: files[RIG]
        .replace("  box:", f"{third}  box:")
        .replace("box: {knob", "third.knob: 5, box: {knob"),
        "definitions/third.yaml": "definition: third\n" + KNOB.replace("NUMBER", "81"),
    }
    assert [line.split(" in ")[0] for line in heard(files, more)] == [
        (
            "hint channel-shared: `third` and `echo` share channel 3 of `rack`; neither "
            "acts on what the show sends the other"
        ),
        "error channel-clash: `third` sets knob to 5",
        (
            "hint channel-shared: `box` and `echo` share channel 3 of `rack`; neither "
            "acts on what the show sends the other"
        ),
    ]


SAMPLER = """\
programs: {count: 16, first: 1, repeat: recalls}
controls: {level: {kind: level, cc: 99, range: [0, 127]}}
"""


def test_programs_alone_are_in_common() -> None:
    amp = "controls: {voice: {kind: choice, program: yes, values: {clean: 3, lead: 1}}}\n"
    assert heard(box(amp, "channel: 3", "voice: lead")) == [
        "error channel-clash: `echo` recalls slap (panel 4) in `verse` of `lantern`, "
        "and that message (C2 03) "
        "also moves `voice` of `box`, on the same port"
    ]


def test_a_program_that_is_a_value_here_is_a_patch_there() -> None:
    amp = "controls: {voice: {kind: choice, program: yes, values: {clean: 40, lead: 41}}}\n"
    clash = heard(box(amp, "channel: 3", "voice: lead"))
    assert clash == [
        "error channel-clash: `box` sets voice to lead (wire program 41) in `verse` "
        "of `lantern`, and that message (C2 29) "
        "also moves `patch`, `mix`, `time` of `echo`, on the same port"
    ]


def test_a_patch_past_the_others_last_program_moves_nothing() -> None:
    amp = "controls: {voice: {kind: choice, program: yes, values: {clean: 40, lead: 41}}}\n"
    short = but(("definitions/two-tap-echo.yaml", "count: 128", "count: 20"))
    assert heard(box(amp, "channel: 3", "voice: lead"), short) == shared()


def test_an_omni_device_hears_every_channel_of_its_port() -> None:
    (clash,) = [f for f in judged(knob(80, "channel: 9, omni: yes")).found if f.name == "channel-clash"]
    assert (str(clash.severity), clash.help) == (
        "error",
        "`box` hears all channels (omni): turn that off on its front panel, and here",
    )


def test_what_is_meant_for_an_omni_device_is_heard_on_its_own_channel_alone() -> None:
    quiet = "controls: {knob: {kind: trigger, cc: 99}}\n"
    assert heard(box(quiet, "channel: 9, omni: yes")) == []


def test_a_gang_is_one_device() -> None:
    assert heard(but((RIG, "channel: 3", "channel: 3\n    gang: 2"))) == []


def test_ports_do_not_hear_each_other() -> None:
    files = but(
        (RIG, "  rack: {out", "  shelf: {out: shelf, speed: din}\n  rack: {out"),
        (RIG, "gate-1: {port: rack, channel: 2", "gate-1: {port: shelf, channel: 3"),
    )
    assert heard(files) == []


BELL = "controls: {bell: {kind: trigger, cc: 80, codes: {fire: 127}}}\n"


def test_a_trigger_that_another_devices_message_fires_is_moved() -> None:
    assert heard(box(BELL, "channel: 3")) == [
        "error channel-clash: `echo` sets engage to off in `verse` of `lantern`, and that message (B2 50 00) "
        "also moves `bell` of `box`, on the same port"
    ]


# Boxes differ in which values set a trigger off (common practice).
def test_so_is_one_whose_own_code_is_another() -> None:
    assert len(heard(box(BELL.replace("127", "90"), "channel: 3"))) == 1


def test_what_a_trigger_sends_counts_where_a_scene_fires_it() -> None:
    bell = "controls: {bell: {kind: trigger, cc: 21}}\n"
    fired = scenes("verse: {at: bar 1, gate: tight}", "chorus: {at: bar 9, box.bell: now}")
    assert heard(box(bell, "channel: 3"), fired) == [
        "error channel-clash: `box` fires bell in `chorus` of `lantern`, and that message (B2 15 7F) "
        "also moves `mix` of `echo`, on the same port"
    ]


def test_a_trigger_that_no_scene_fires_is_never_sent() -> None:
    assert heard(box("controls: {bell: {kind: trigger, cc: 21}}\n", "channel: 3")) == shared()


def test_a_control_that_the_show_never_sends_clashes_with_nothing() -> None:
    assert heard(knob(22, "channel: 3"), scenes("verse: {at: bar 1, echo: cliff}")) == [
        "error channel-clash: `box` sets knob to 5 in `verse` of `lantern`, and that message (B2 16 05) "
        "also moves `time` of `echo`, on the same port"
    ]


def test_nor_does_one_that_is_left_to_its_patch_on_both_sides() -> None:
    other = (
        "programs: {count: 8, first: 1, channel: calls, repeat: recalls}\n"
        "controls: {time: {kind: level, cc: 22, range: [0, 9], stored: yes}}\n"
    )
    assert heard(box(other, "channels: {main: 3, calls: 4}, patches: {p: 1}", "patch: p")) == shared()


EDITED = scenes("verse: {at: bar 1, echo: cliff}", "chorus: {at: bar 9, like: verse, echo.time: 100 ms}")


def test_so_does_what_only_a_change_sends() -> None:
    bang = "controls: {bang: {kind: trigger, cc: 22, codes: {fire: 10}}}\n"
    assert heard(box(bang, "channel: 3"), EDITED) == [
        "error channel-clash: `echo` sets time to 100 ms in `chorus` of `lantern`, and that message "
        "(B2 16 0A) also moves `bang` of `box`, on the same port"
    ]


PAIR = "controls: {fine: {kind: level, cc14: [12, 80], range: [0, 9999]}}\n"


def test_the_lower_half_of_a_pair_moves_what_listens_to_its_number() -> None:
    assert [line.split(" of `lantern`")[0] for line in heard(box(PAIR, "channel: 3", "fine: 0"))] == [
        "error channel-clash: `echo` sets engage to off in `verse`"
    ]


def parameter(kind: str, number: str) -> str:
    """A box's definition with one parameter."""
    return f"controls: {{a: {{kind: level, {kind}: {number}, data: 7, range: [0, 127]}}}}\n"


def two_parameters(one: str, other: str) -> list[str]:
    """What is found of two boxes on channel 9, each with one parameter."""
    first = box(one, "channel: 9", "a: 5")
    second = "  second: {port: rack, channel: 9, definition: second}\n"
    more = {
        RIG: first[RIG].replace("  box:", f"{second}  box:").replace("box: {a", "second.a: 5, box: {a"),
        "definitions/second.yaml": f"definition: second\n{other}",
    }
    return [line.split(": ")[0] for line in heard(first, more)]


def test_parameters_of_other_numbers_are_a_hint() -> None:
    assert two_parameters(parameter("nrpn", "[1, 8]"), parameter("nrpn", "[1, 9]")) == ["hint channel-shared"]


def test_parameters_of_one_number_clash() -> None:
    assert two_parameters(parameter("nrpn", "[1, 8]"), parameter("nrpn", "[1, 8]")) == ["error channel-clash"]


def test_registered_and_not_registered_are_apart() -> None:
    assert two_parameters(parameter("nrpn", "[0, 5]"), parameter("rpn", "[0, 5]")) == ["hint channel-shared"]


def exclusive(body: str, keys: str, other: str, other_keys: str) -> list[str]:
    """What is found of two boxes on channels of their own that are set by system exclusive."""
    text = "controls: {{a: {{kind: level, sysex: {{body: [{}]}}, range: [0, 127]}}}}\n"
    first = box(text.format(body), f"channel: 9, {keys}", "a: 5")
    second = f"  second: {{port: rack, channel: 10, {other_keys}, definition: second}}\n"
    more = {
        RIG: first[RIG].replace("  box:", f"{second}  box:").replace("box: {a", "second.a: 5, box: {a"),
        "definitions/second.yaml": f"definition: second\n{text.format(other)}",
    }
    return [line.split(": ")[0] for line in heard(first, more)]


def test_exclusive_with_one_id_clashes_on_any_channel() -> None:
    body = "0x7D, id, 0x12, value"
    assert exclusive(body, "id: 1", body, "id: 1") == ["error channel-clash"]


def test_exclusive_with_two_ids_does_not() -> None:
    body = "0x7D, id, 0x12, value"
    assert exclusive(body, "id: 1", body, "id: 2") == []


def test_exclusive_of_two_addresses_does_not() -> None:
    assert exclusive("0x7D, id, 0x12, value", "id: 1", "0x7D, id, 0x13, value", "id: 1") == []


def test_exclusive_of_two_ids_says_what_to_give() -> None:
    body = "0x7D, id, value"
    text = f"controls: {{a: {{kind: level, sysex: {{body: [{body}]}}, range: [0, 127]}}}}\n"
    first = box(text, "channel: 9, id: 1", "a: 5")
    second = "  second: {port: rack, channel: 10, id: 1, definition: box}\n"
    files = {RIG: first[RIG].replace("  box:", f"{second}  box:").replace("box: {a", "second.a: 5, box: {a")}
    (clash,) = judged(shown(first, files)).found
    assert clash.help == "give one of them a device id of its own, on its front panel and here"


CALLER = "programs: {count: 256, first: 1, bank: cc32, bank-when: always, repeat: recalls}\n"


@pytest.mark.parametrize(
    ("when", "name"), [("change", "error channel-clash"), ("always", "hint channel-shared")]
)
def test_a_bank_select_for_the_one_would_leave_the_other_in_another_bank(when: str, name: str) -> None:
    # Program 72 of bank 2 is none of the second box's, which has twelve there: the bank alone would stick.
    first = box(CALLER, "channel: 9, patches: {p: 200}", "patch: p")
    second = "  second: {port: rack, channel: 9, definition: second}\n"
    definition = f"definition: second\nprograms: {{count: 140, first: 1, bank: cc32, bank-when: {when}}}\n"
    files = {RIG: first[RIG].replace("  box:", f"{second}  box:"), "definitions/second.yaml": definition}
    assert [line.split(": ")[0] for line in heard(first, files)] == [name]


def test_a_standing_scene_can_send_it_too() -> None:
    bang = "controls: {bang: {kind: trigger, cc: 21, codes: {fire: 99}}}\n"
    standing = box(bang, "channel: 3", rest="standing: {loud: {echo: {engage: on, mix: 99 %}}}\n")
    assert heard(standing) == [
        "error channel-clash: `echo` sets mix to 99 % in `loud` of `standing`, and that message (B2 15 63) "
        "also moves `bang` of `box`, on the same port"
    ]


def controller(sends: str, channel: int = 3, port: str = "rack") -> Files:
    """A controller beside the echo."""
    keys = f"{{port: {port}, channel: {channel}, sends: {{{sends}}}}}"
    return but((RIG, "devices:\n", f"controllers:\n  floor: {keys}\ndevices:\n"))


@pytest.mark.parametrize(
    ("sends", "moved"),
    [
        ("cc: [80]", "`engage`"),
        ("cc: [20-22]", "`mix`, `time`"),
        ("programs: yes", "its patch, `mix`, `time`"),
        ("cc: [121]", "`engage`, `mix`, `time`"),
    ],
)
def test_a_controller_that_can_move_a_device_is_a_hint_that_names_what(sends: str, moved: str) -> None:
    assert heard(controller(sends)) == [
        f"hint controller-reaches: a controller can move {moved} of `echo`: sent anew with every scene"
    ]


@pytest.mark.parametrize("sends", ["cc: [23-79]", "notes: [80]", "pitch-bend: yes", "channel-pressure: yes"])
def test_a_controller_that_can_not_is_silent(sends: str) -> None:
    assert heard(controller(sends)) == []


def test_an_omni_device_hears_a_controller_on_any_channel() -> None:
    omni = {RIG: controller("cc: [80]", 9)[RIG].replace("    channel: 3", "    channel: 3\n    omni: yes")}
    assert [line.split(": ")[0] for line in heard(omni)] == ["hint controller-reaches"]
