"""Mutes: what is held while other things move, for how long, and what it is given back."""

from __future__ import annotations

from dataclasses import replace

import pytest

from switchmatrix.compile.known import nothing_known
from switchmatrix.compile.mutable import mutable
from switchmatrix.compile.transition import transition
from switchmatrix.pipeline import Judged
from tests.compile.rigs import rig_show
from tests.compile.shown import moments, visits, wire
from tests.support import findings, names

DEVICES = """
amp: {port: rack, channel: 1, definition: amp-box, patches: {low: {at: 1, stores: {gain: 20}}, high: 2}}
mixer: {port: rack, channel: 2, definition: mixer-box}
"""
DEFINITIONS = {
    "amp-box": """
programs: {count: 8, first: 1, repeat: recalls, settle: 20 ms}
controls:
  voice: {kind: choice, cc: 30, values: {clean: 0, lead: 1}, settle: 10 ms}
  gain: {kind: level, cc: 31, range: [0, 127], stored: yes}
  line: {kind: choice, cc: 32, values: {one: 0, two: 1}, resets: [bright]}
  bright: {kind: level, cc: 33, range: [0, 127]}
""".replace("cc: 32", "cc: 34"),
    "mixer-box": """
controls:
  mute-all: {kind: switch, cc: 90}
  level: {kind: level, cc: 91, range: [0, 127]}
""",
}
HOME = "home: {amp: {patch: low, voice: clean, line: one, bright: 3}, mixer: {mute-all: off, level: 100}}\n"
SCENES = """
  verse: {amp.voice: clean}
  chorus: {amp.voice: lead}
  coda: {amp.voice: lead, mixer.level: 90}
"""
MUTE = "mutes: [{while: [amp.voice], hold: {mixer.mute-all: on}}]\n"
ON, OFF = "mixer B1 5A 7F", "mixer B1 5A 00"


def rig(mutes: str = MUTE, scenes: str = SCENES, home: str = HOME, devices: str = DEVICES) -> Judged:
    """An amp on channel 1 and a mixer on channel 2."""
    return rig_show(devices, DEFINITIONS, scenes, home + mutes)


def test_what_is_covered_moves_while_the_mute_holds() -> None:
    assert wire(rig(), "chorus", after="verse") == [ON, "amp B0 1E 01", OFF]


def test_where_nothing_covered_moves_nothing_is_held() -> None:
    assert wire(rig(), "coda", after="chorus") == ["mixer B1 5B 5A"]


def test_the_held_control_waits_until_what_it_covers_has_settled() -> None:
    assert moments(rig(), "chorus", after="verse") == [(0, ON), (960, "amp B0 1E 01"), (11920, OFF)]


def test_before_and_after_are_held_on_top_of_settling() -> None:
    mute = "mutes: [{while: [amp.voice], hold: {mixer.mute-all: on}, before: 5 ms, after: 7 ms}]"
    assert moments(rig(mute), "chorus", after="verse") == [(0, ON), (5960, "amp B0 1E 01"), (23920, OFF)]


def test_what_is_not_covered_moves_when_it_likes() -> None:
    mute = "mutes: [{while: [amp.voice], hold: {mixer.mute-all: on}, before: 5 ms}]"
    scenes = "  verse: {amp.voice: clean}\n  chorus: {amp.voice: lead, mixer.level: 90}\n"
    assert moments(rig(mute, scenes), "chorus", after="verse") == [
        (0, ON),
        (960, "mixer B1 5B 5A"),
        (5960, "amp B0 1E 01"),
        (16920, OFF),
    ]


def test_from_unknown_the_mute_goes_on_before_what_it_covers_and_off_after_it() -> None:
    assert moments(rig(), "verse") == [
        (0, "amp B0 22 00"),
        (960, "amp C0 00"),
        (1600, ON),
        (2560, "mixer B1 5B 64"),
        (21600, "amp B0 1E 00"),
        (32560, "amp B0 21 03"),
        (33520, OFF),
    ]


@pytest.mark.parametrize(
    ("covers", "scene", "moves"),
    [
        ("amp.patch", "{amp.patch: high}", ["amp C0 01"]),
        ("amp.gain", "{amp.patch: high}", ["amp C0 01"]),
        ("amp.gain", "{amp.gain: 5}", ["amp B0 1F 05"]),
        ("amp.bright", "{amp.line: two}", ["amp B0 22 01", "amp B0 21 03"]),
        ("amp.line", "{amp.line: two}", ["amp B0 22 01", "amp B0 21 03"]),
    ],
    ids=["its patch", "stored, by a recall", "stored, by its message", "by a reset", "its message"],
)
def test_a_control_is_covered_whatever_moves_it(covers: str, scene: str, moves: list[str]) -> None:
    mute = f"mutes: [{{while: [{covers}], hold: {{mixer.mute-all: on}}}}]"
    show = rig(mute, f"  verse: {{}}\n  chorus: {scene}\n")
    sent = wire(show, "chorus", after="verse")
    assert sent[0] == ON
    assert sent[-1] == OFF
    assert sent[1:-1] == moves


def test_a_patch_is_not_covered_by_a_control_of_its_device_that_moves() -> None:
    mute = "mutes: [{while: [amp.patch], hold: {mixer.mute-all: on}}]"
    show = rig(mute, "  verse: {}\n  chorus: {amp.gain: 5}\n")
    assert wire(show, "chorus", after="verse") == ["amp B0 1F 05"]


def test_a_recall_is_covered_where_it_is_called_again_for_what_no_patch_lists() -> None:
    mute = "mutes: [{while: [amp.patch], hold: {mixer.mute-all: on}}]"
    scenes = "  verse: {amp: {patch: high, gain: 5}}\n  chorus: {amp.patch: high}\n"
    assert wire(rig(mute, scenes), "chorus", after="verse") == [ON, "amp C0 01", OFF]


def test_a_scene_that_wants_it_on_gets_no_off() -> None:
    scenes = "  verse: {amp.voice: clean}\n  silence: {amp.voice: lead, mixer.mute-all: on}\n"
    assert wire(rig(scenes=scenes), "silence", after="verse") == [ON, "amp B0 1E 01"]


def test_from_a_scene_that_wants_it_on_no_on_is_sent() -> None:
    scenes = "  silence: {amp.voice: lead, mixer.mute-all: on}\n  verse: {amp.voice: clean}\n"
    assert wire(rig(scenes=scenes), "verse", after="silence") == ["amp B0 1E 00", OFF]


def test_between_scenes_that_want_it_on_neither_is_sent() -> None:
    scenes = """
  silence: {amp.voice: lead, mixer.mute-all: on}
  change: {amp.voice: clean, mixer.mute-all: on}
"""
    assert wire(rig(scenes=scenes), "change", after="silence") == ["amp B0 1E 00"]


def test_where_nothing_covered_moves_a_scene_that_wants_it_on_sets_it_itself() -> None:
    scenes = "  verse: {amp.voice: lead}\n  silence: {amp.voice: lead, mixer.mute-all: on}\n"
    assert wire(rig(scenes=scenes), "silence", after="verse") == [ON]


def test_a_mute_of_a_level_gives_back_the_level_that_the_scene_wants() -> None:
    mute = "mutes: [{while: [amp.voice], hold: {mixer.level: 0}}]"
    scenes = "  verse: {amp.voice: clean}\n  chorus: {amp.voice: lead, mixer.level: 90}\n"
    assert wire(rig(mute, scenes), "chorus", after="verse") == [
        *("mixer B1 5B 00", "amp B0 1E 01", "mixer B1 5B 5A")
    ]


def test_a_held_pair_takes_and_gives_back_its_lower_half_alone_where_the_upper_one_stays() -> None:
    devices = DEVICES + "fader: {port: rack, channel: 4, definition: fader-box}\n"
    definitions = {
        **DEFINITIONS,
        "fader-box": "controls: {gain: {kind: level, cc14: [7, 39], range: [0, 16383]}}",
    }
    mute = "mutes: [{while: [amp.voice], hold: {fader.gain: 256}}]"
    home = HOME.rstrip().removesuffix("}") + ", fader.gain: 300}\n"
    show = rig_show(devices, definitions, SCENES, home + mute)
    assert wire(show, "chorus", after="verse") == ["fader B3 27 00", "amp B0 1E 01", "fader B3 27 2C"]


def test_a_mute_that_a_controller_can_reach_is_always_put_on() -> None:
    floor = "controllers: {floor: {port: rack, channel: 2, sends: {cc: [90]}}}\n"
    scenes = "  silence: {amp.voice: lead, mixer.mute-all: on}\n  verse: {amp.voice: clean}\n"
    assert wire(rig(MUTE + floor, scenes), "verse", after="silence") == [ON, "amp B0 1E 00", OFF]


TWO = """
mutes:
  - {while: [amp.voice], hold: {mixer.mute-all: on}, before: 5 ms}
  - {while: [amp.patch], hold: {mixer.mute-all: on}, after: 9 ms}
"""


def test_two_mutes_that_hold_one_control_put_it_on_once_and_off_when_both_are_done() -> None:
    show = rig(TWO, "  verse: {}\n  chorus: {amp: {voice: lead, patch: high}}\n")
    assert moments(show, "chorus", after="verse") == [
        (0, ON),
        (960, "amp C0 01"),
        (21600, "amp B0 1E 01"),
        (32560, OFF),
    ]


def test_of_two_mutes_that_hold_one_control_only_the_one_that_is_needed_counts() -> None:
    show = rig(TWO, "  verse: {}\n  chorus: {amp.patch: high}\n")
    assert moments(show, "chorus", after="verse") == [(0, ON), (960, "amp C0 01"), (30600, OFF)]


def test_two_mutes_that_hold_one_control_at_two_values_are_refused() -> None:
    mutes = TWO.replace(
        "{while: [amp.patch], hold: {mixer.mute-all: on}", "{while: [amp.patch], hold: {mixer.mute-all: off}"
    )
    assert findings(rig(mutes, "  verse: {}\n")) == [
        "rigs/a-rig.yaml:10:5: error mute-unsound: two mutes hold `mixer.mute-all` at different values"
    ]


def test_one_mute_may_hold_several_controls_in_the_order_of_their_definition() -> None:
    mute = "mutes: [{while: [amp.voice], hold: {mixer.level: 0, mixer.mute-all: on}}]"
    assert wire(rig(mute), "chorus", after="verse") == [
        *(ON, "mixer B1 5B 00", "amp B0 1E 01", OFF, "mixer B1 5B 64")
    ]


def test_a_mute_on_another_port_is_held_as_long() -> None:
    devices = DEVICES.replace("mixer: {port: rack", "mixer: {port: loft")
    mute = "mutes: [{while: [amp.voice], hold: {mixer.mute-all: on}, before: 5 ms, after: 7 ms}]"
    assert moments(rig(mute, devices=devices), "chorus", after="verse") == [
        (0, ON),
        (5960, "amp B0 1E 01"),
        (23920, OFF),
    ]


STORING = {
    **DEFINITIONS,
    "mixer-box": """
programs: {count: 8, first: 1, repeat: recalls, settle: 30 ms}
controls:
  mute-all: {kind: switch, cc: 90, stored: yes}
""",
}
STORED = """
amp: {port: rack, channel: 1, definition: amp-box, patches: {low: {at: 1, stores: {gain: 20}}, high: 2}}
mixer: {port: rack, channel: 2, definition: mixer-box, patches: %s}
"""
BOTH = "  verse: {amp.voice: clean, mixer.patch: dry}\n  chorus: {amp.voice: lead, mixer.patch: wet}\n"
AMP_HOME = "home: {amp: {patch: low, voice: clean, line: one, bright: 3}}\n"


def storing(stores: str, scenes: str = BOTH, mutes: str = MUTE, repeat: str = "recalls") -> Judged:
    """The mixer stores its mute in its patches."""
    patches = f"{{dry: {{at: 1, stores: {{{stores}}}}}, wet: {{at: 2, stores: {{{stores}}}}}}}"
    definitions = {**STORING, "mixer-box": STORING["mixer-box"].replace("recalls", repeat)}
    return rig_show(STORED % patches, definitions, scenes, AMP_HOME + mutes)


def test_a_recall_that_stores_the_held_control_goes_before_the_mute_and_settles() -> None:
    assert moments(storing("mute-all: off"), "chorus", after="verse") == [
        (0, "mixer C1 01"),
        (30640, ON),
        (31600, "amp B0 1E 01"),
        (42560, OFF),
    ]


def test_a_recall_that_brings_the_held_control_where_the_mute_wants_it_is_the_mute() -> None:
    scenes = """
  verse: {amp.voice: clean, mixer: {patch: dry, mute-all: off}}
  chorus: {amp.voice: lead, mixer: {patch: wet, mute-all: off}}
"""
    assert moments(storing("mute-all: on", scenes), "chorus", after="verse") == [
        (0, "mixer C1 01"),
        (30640, "amp B0 1E 01"),
        (41600, OFF),
    ]


def test_without_a_recall_the_held_control_goes_back_to_what_the_patch_stores() -> None:
    scenes = "  verse: {amp.voice: clean, mixer.patch: dry}\n  chorus: {amp.voice: lead, mixer.patch: dry}\n"
    assert wire(storing("mute-all: off", scenes), "chorus", after="verse") == [ON, "amp B0 1E 01", OFF]


def test_a_recall_that_does_not_store_the_held_control_of_its_device_waits_for_it() -> None:
    mute = "mutes: [{while: [amp.patch], hold: {amp.voice: lead}}]\n"
    scenes = "  verse: {amp.patch: low}\n  chorus: {amp.patch: high, amp.gain: 30}\n"
    assert wire(rig(mute, scenes), "chorus", after="verse") == [
        "amp B0 1E 01",
        "amp C0 01",
        "amp B0 1F 1E",
        "amp B0 1E 00",
    ]


def test_a_recall_that_may_do_nothing_leaves_the_held_control_to_be_put_on() -> None:
    show = storing("mute-all: on", BOTH.replace("dry}", "dry, mixer.mute-all: off}"), repeat="nothing")
    assert [m for m in wire(show, "verse") if m.startswith("mixer")] == ["mixer C1 00", ON, OFF]


def test_a_scene_that_leaves_the_held_control_to_a_patch_that_does_not_list_it_is_refused() -> None:
    assert findings(storing("")) == [
        "rigs/a-rig.yaml:7:9: error mute-unsound: a mute holds `mixer.mute-all`, and `verse` of `lantern` "
        "and 1 more scene gives it no value to go back to"
    ]


def test_a_held_control_that_is_left_to_a_patch_cannot_be_given_back() -> None:
    """The finding keeps such a show from being compiled: whoever compiles it all the same hears of it."""
    show = storing("").states
    assert show is not None
    (run,) = show.runs
    state = run.songs[0][1].visits[0].state
    problem = r"^the scene has no code for mixer\.mute-all, which a mute holds$"
    with pytest.raises(TypeError, match=problem):
        transition(run.rig, nothing_known(run.rig), state)


def test_only_mutes_that_every_state_can_give_back_are_counted_where_there_is_a_finding() -> None:
    mutes = """
mutes:
  - {while: [amp.voice], hold: {mixer.mute-all: on}}
  - {while: [amp.voice], hold: {mixer.mute-all: on, mixer.level: 0}}
  - {while: [amp.line], hold: {mixer.mute-all: on}}
"""
    scenes = "  verse: {mixer.level: 3}\n  chorus: {amp.voice: lead}\n"
    show = rig(mutes, scenes, HOME.replace(", level: 100", "")).states
    assert show is not None
    (run,) = show.runs
    states = [state.state for state in run.songs[0][1].states]
    assert mutable(run.rig, states[:1]) == run.rig
    assert mutable(run.rig, states) == replace(run.rig, mutes=(run.rig.mutes[0], run.rig.mutes[2]))


def refused(
    mutes: str, extra: str = "", home: str = HOME, definitions: dict[str, str] | None = None
) -> list[str]:
    """What is said of the mutes of the rig; its scenes want everything."""
    show = rig_show(DEVICES, definitions or DEFINITIONS, "  verse: {}\n", f"{home}{mutes}\n{extra}")
    return [line.removeprefix("rigs/a-rig.yaml:7:") for line in findings(show)]


def mixer(mute: str, more: str = "") -> dict[str, str]:
    """The mixer with another mute."""
    return {
        **DEFINITIONS,
        "mixer-box": f"controls:\n  mute-all: {{{mute}}}\n"
        f"  level: {{kind: level, cc: 91, range: [0, 127]}}\n{more}",
    }


def test_a_toggle_holds_nothing() -> None:
    toggle = "kind: switch, cc: 90, toggle: {press: 127, release: 0}, powers-up: off"
    assert refused(MUTE, definitions=mixer(toggle)) == [
        "37: error mute-unsound: `mixer.mute-all` cannot be set outright, so nothing can hold it"
    ]


def test_a_trigger_holds_nothing() -> None:
    home = HOME.replace("mute-all: off, ", "")
    assert refused(MUTE.replace(": on", ": now"), home=home, definitions=mixer("kind: trigger, cc: 90")) == [
        "37: error mute-unsound: `mixer.mute-all` cannot be set outright, so nothing can hold it"
    ]


def test_a_control_in_the_players_hands_holds_nothing() -> None:
    assert refused(MUTE, "hands: [mixer.mute-all]") == [
        "37: error mute-unsound: `mixer.mute-all` is in the player's hands, so nothing can hold it"
    ]


def test_a_control_that_the_player_always_moves_holds_nothing() -> None:
    moved = "kind: switch, cc: 90, moved-by: player"
    assert refused(MUTE, definitions=mixer(moved)) == [
        "37: error mute-unsound: `mixer.mute-all` is in the player's hands, so nothing can hold it"
    ]


def test_a_control_in_the_hands_of_one_songs_player_holds_nothing() -> None:
    show = rig_show(
        DEVICES, DEFINITIONS, "  verse: {mixer.mute-all: off}\nhands: [mixer.mute-all]", HOME + MUTE
    )
    assert findings(show) == [
        "rigs/a-rig.yaml:7:9: error mute-unsound: a mute holds `mixer.mute-all`, and the player holds it in "
        "`verse` of `lantern`"
    ]


def test_a_choice_that_resets_something_holds_nothing() -> None:
    choice = "kind: choice, cc: 90, values: {a: 0, b: 1}, resets: [level]"
    home = HOME.replace("mute-all: off", "mute-all: a")
    mute = MUTE.replace(": on", ": b")
    assert refused(mute, home=home, definitions=mixer(choice)) == [
        "37: error mute-unsound: `mixer.mute-all` resets other controls when it is set"
    ]


def test_a_control_that_is_reset_holds_nothing() -> None:
    more = "  scene: {kind: choice, cc: 92, values: {a: 0, b: 1}, resets: [mute-all]}\n"
    home = HOME.replace("mute-all: off", "mute-all: off, scene: a")
    assert refused(MUTE, home=home, definitions=mixer("kind: switch, cc: 90", more)) == [
        "37: error mute-unsound: `mixer.mute-all` is moved whenever `scene` is set"
    ]


def test_a_switch_that_a_repeated_program_flips_holds_nothing() -> None:
    more = "programs: {count: 8, first: 1, repeat: toggles mute-all}"
    assert refused(MUTE, definitions=mixer("kind: switch, cc: 90", more)) == [
        "37: error mute-unsound: a repeated program flips `mixer.mute-all`"
    ]


@pytest.mark.parametrize("covers", ["mixer.patch", "mixer.eq"])
def test_a_control_that_the_covered_recall_stores_holds_nothing(covers: str) -> None:
    more = (
        "  eq: {kind: level, cc: 93, range: [0, 127], stored: yes}\n"
        "programs: {count: 8, first: 1, repeat: recalls}"
    )
    definitions = mixer("kind: switch, cc: 90, stored: yes", more)
    home = HOME.replace("mute-all: off", "mute-all: off, eq: 3")
    mute = f"mutes: [{{while: [{covers}], hold: {{mixer.mute-all: on}}}}]"
    assert refused(mute, home=home, definitions=definitions) == [
        f"{28 + len(covers)}: error mute-unsound: the recall that the mute covers moves "
        "`mixer.mute-all` itself"
    ]


def test_a_control_whose_recall_waits_for_what_the_mute_covers_holds_nothing() -> None:
    """The choice goes before the recall, the recall before the mute, the mute before the choice."""
    more = (
        "  eq: {kind: choice, cc: 93, values: {a: 0, b: 1}, resets: [level]}\n"
        "programs: {count: 8, first: 1, repeat: recalls}"
    )
    definitions = mixer("kind: switch, cc: 90, stored: yes", more)
    home = HOME.replace("mute-all: off", "mute-all: off, eq: a")
    mute = "mutes: [{while: [mixer.eq], hold: {mixer.mute-all: on}}]"
    assert refused(mute, home=home, definitions=definitions) == [
        "36: error mute-unsound: the mute covers what goes before the recall that moves `mixer.mute-all`"
    ]


def test_a_control_whose_recall_another_mute_covers_holds_nothing() -> None:
    definitions = {**STORING}
    mutes = (
        "mutes:\n  - {while: [amp.voice], hold: {mixer.mute-all: on}}\n"
        "  - {while: [mixer.patch], hold: {amp.bright: 0}}\n"
    )
    patches = "{dry: {at: 1, stores: {mute-all: off}}}"
    home = "home: {amp: {patch: low, voice: clean, line: one, bright: 3}, mixer.patch: dry}\n"
    definitions["amp-box"] = DEFINITIONS["amp-box"].replace(", resets: [bright]", "")
    show = rig_show(STORED % patches, definitions, "  verse: {}\n", home + mutes)
    assert findings(show) == [
        "rigs/a-rig.yaml:8:5: error mute-unsound: one mute holds `mixer.mute-all`, which a recall moves, and "
        "another covers that recall"
    ]


def test_a_mute_covers_nothing_that_it_holds() -> None:
    mute = "mutes: [{while: [amp.voice, mixer.mute-all], hold: {mixer.mute-all: on}}]"
    assert refused(mute) == ["53: error mute-unsound: a mute cannot cover `mixer.mute-all` while it holds it"]


def test_a_mute_covers_nothing_that_another_holds() -> None:
    mutes = (
        "mutes:\n  - {while: [amp.voice], hold: {mixer.mute-all: on}}\n"
        "  - {while: [mixer.mute-all], hold: {mixer.level: 0}}"
    )
    assert findings(rig(mutes)) == [
        "rigs/a-rig.yaml:8:5: error mute-unsound: one mute holds `mixer.mute-all`, and another covers it"
    ]


def test_a_mute_covers_no_trigger() -> None:
    definitions = {**DEFINITIONS, "amp-box": DEFINITIONS["amp-box"] + "  bell: {kind: trigger, cc: 40}\n"}
    assert refused("mutes: [{while: [amp.bell], hold: {mixer.mute-all: on}}]", definitions=definitions) == [
        "18: error mute-unsound: `amp.bell` is a trigger: it goes off when no mute holds any more"
    ]


def test_a_scene_that_gives_the_held_control_no_value_is_named() -> None:
    home = HOME.replace("mute-all: off, ", "")
    assert findings(rig(home=home, scenes="  verse: {amp.voice: lead}\n  coda: {mixer.mute-all: off}\n")) == [
        "rigs/a-rig.yaml:7:9: error mute-unsound: a mute holds `mixer.mute-all`, and `verse` of `lantern` "
        "gives it no value to go back to",
    ]


def test_beside_a_box_of_the_same_channel_a_missing_value_is_still_all_that_is_said() -> None:
    devices = DEVICES.replace("mixer: {port: rack, channel: 2", "mixer: {port: rack, channel: 1")
    show = rig(
        home=HOME.replace("mute-all: off, ", ""), devices=devices, scenes="  verse: {amp.voice: lead}\n"
    )
    assert names(show) == [
        "channel-shared rigs/a-rig.yaml:5",
        "mute-unsound rigs/a-rig.yaml:7",
    ]


def test_a_mute_holds_no_hazard() -> None:
    hazard = "kind: switch, cc: 90, hazard: flame"
    home = HOME.replace("mute-all: off, ", "")
    assert refused(MUTE, home=home, definitions=mixer(hazard)) == [
        "53: error hazard: `mixer.mute-all` is a hazard (flame): nothing is compiled for it or sent to it"
    ]


def test_a_mute_holds_nothing_that_writes_memory() -> None:
    home = HOME.replace("mute-all: off, ", "")
    assert refused(MUTE, home=home, definitions=mixer("kind: switch, cc: 90, writes: yes"))[:1] == [
        "53: error writes-memory: `mixer.mute-all` writes the device's memory: no scene sends it"
    ]


@pytest.mark.parametrize("value", ["home", "1/8"])
def test_a_mute_holds_an_outright_value(value: str) -> None:
    definitions = mixer("kind: time, cc: 90, range: [0 ms, 127 ms]")
    home = HOME.replace("mute-all: off", "mute-all: 3 ms")
    assert refused(MUTE.replace(": on", f": {value}"), home=home, definitions=definitions) == [
        f"53: error mute-unsound: `{value}` is no value that a mute can hold"
    ]


def test_a_mute_holds_nothing_of_an_absent_device() -> None:
    extra = "absent: {desk: mixer-box}\nvocabulary: {desk.mute-all: nothing}"
    assert refused(MUTE.replace("mixer.mute-all", "desk.mute-all"), extra) == [
        "37: error mute-unsound: `desk.mute-all` is absent from this rig"
    ]


def test_a_mute_holds_no_program_change_in_a_bank() -> None:
    more = "programs: {count: 400, first: 1, bank: cc0, bank-when: always}"
    mute = "kind: switch, program: yes, bank: 3, codes: {on: 1, off: 2}"
    assert refused(MUTE, definitions=mixer(mute, more)) == [
        "37: error mute-unsound: `mixer.mute-all` travels as a program change in a bank"
    ]


def test_a_trigger_goes_off_after_the_mutes_are_off() -> None:
    devices = DEVICES + "bell: {port: loft, channel: 3, definition: bell-box}\n"
    definitions = {**DEFINITIONS, "bell-box": "controls: {ring: {kind: trigger, cc: 50}}"}
    scenes = "  verse: {amp.voice: clean}\n  chorus: {amp.voice: lead, bell.ring: now}\n"
    show = rig_show(devices, definitions, scenes, HOME + MUTE)
    assert visits(show)[1] == [ON, "amp B0 1E 01", OFF, "bell B2 32 7F"]


def test_visits_that_follow_each_other_at_once_each_hold_the_mute_for_themselves() -> None:
    scenes = """
  verse: {at: [bar 1, bar 3], amp.voice: clean}
  chorus: {at: bar 2, amp.voice: lead}
tempo: 240
"""
    assert visits(rig(scenes=scenes))[1:] == [[ON, "amp B0 1E 01", OFF], [ON, "amp B0 1E 00", OFF]]


def test_the_rig_of_these_tests_has_nothing_wrong_with_it() -> None:
    assert names(rig()) == []


def test_a_choice_that_moves_what_is_covered_down_a_chain_of_resets_waits_for_the_mute() -> None:
    chain = """
controls:
  third: {kind: level, cc: 23, range: [0, 127]}
  second: {kind: choice, cc: 31, values: {x: 0, y: 1}, resets: [third]}
  first: {kind: choice, cc: 30, values: {a: 0, b: 1}, resets: [second]}
"""
    show = rig_show(
        "echo: {port: rack, channel: 3, definition: echo-box}\n"
        "mixer: {port: loft, channel: 2, definition: mixer-box}",
        {**DEFINITIONS, "echo-box": chain},
        "  verse: {echo: {first: a, third: 5}}\n  chorus: {echo: {first: b, third: 5}}\n",
        "home: {mixer: {mute-all: off, level: 1}}\n"
        "mutes: [{while: [echo.third], hold: {mixer.mute-all: on}, before: 5 ms}]",
    )
    assert moments(show, "chorus", after="verse") == [
        (0, ON),
        (5960, "echo B2 1E 01"),
        (6920, "echo B2 17 05"),
        (7880, OFF),
    ]
