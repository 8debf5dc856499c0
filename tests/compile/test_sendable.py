"""All that a show can send to a device: each unit once, with the first scene that sends it."""

from __future__ import annotations

from switchmatrix.compile.sendable import sendable
from switchmatrix.pipeline import Judged
from tests.compile.rigs import files_of
from tests.support import judged

AMP = """
programs: {count: 8, first: 1, repeat: recalls}
controls:
  gain: {kind: level, cc: 31, range: [0, 127], stored: yes}
  engage: {kind: switch, cc: 80, toggle: {press: 127, release: 0}, powers-up: off}
  bright: {kind: level, cc14: [12, 44], range: [0, 16383]}
  bell: {kind: trigger, cc: 50, codes: {fire: 90}}
"""
MIXER = """
controls:
  level: {kind: level, cc: 91, range: [0, 127]}
  out: {kind: switch, cc: 90}
"""
DEVICES = """
desk: {port: rack, channel: 3, definition: mixer}
amp: {port: rack, channel: 1, definition: amp, patches: {b: 2, a: {at: 1, stores: {gain: 20}}}}
mixer: {port: rack, channel: 2, definition: mixer}
"""
EXTRA = """
home: {amp: {patch: a, engage: off, bright: 300}, mixer.out: on, desk: {level: 9, out: off}}
mutes: [{while: [amp.patch], hold: {mixer.out: off}}]
"""
LANTERN = """
  verse: {amp: {patch: a, engage: on}}
  chorus: {amp: {patch: a, gain: 30, bright: 1, bell: now}, mixer.level: 5}
"""
GULL = "song: Gull\nscenes:\n  verse: {amp: {patch: b, gain: 7, bright: 301}}\n  coda: {amp.patch: a}\n"


def show(legs: str) -> Judged:
    """Two songs on a rig of two mixers with an amp between them."""
    files = files_of(DEVICES, {"amp": AMP, "mixer": MIXER}, LANTERN, EXTRA)
    files["show.yaml"] = f"show: Tidewrack\nrigs: [a-rig]\nlegs: {{{legs}}}\n"
    return judged({**files, "gull.yaml": GULL}, base=None)


ONE_LEG = "tour: {rigs: [a-rig], setlist: [lantern, gull]}"


def units(show: Judged, *devices: str) -> dict[str, list[str]]:
    """What the show can send to the devices, as `HEX, HEX from SCENE`."""
    assert show.states is not None
    rig = show.states.rigs[0]
    return {
        device: [
            f"{', '.join(step.data.hex(' ').upper() for step in unit.steps)} from {unit.scene}"
            for unit in sent.values()
        ]
        for device, sent in sendable(rig, show.states.runs, set(devices)).items()
    }


def test_units_are_those_from_unknown_to_each_scene_then_those_that_only_a_change_sends() -> None:
    assert units(show(ONE_LEG), "amp") == {
        "amp": [
            "C0 00 from `verse` of `lantern`",
            "B0 50 7F, B0 50 00 from `verse` of `lantern`",
            "B0 0C 02, B0 2C 2C from `verse` of `lantern`",
            "B0 1F 1E from `chorus` of `lantern`",
            "B0 0C 00, B0 2C 01 from `chorus` of `lantern`",
            "B0 32 5A from `chorus` of `lantern`",
            "C0 01 from `verse` of `gull`",
            "B0 1F 07 from `verse` of `gull`",
            "B0 0C 02, B0 2C 2D from `verse` of `gull`",
            "B0 1F 14 from `verse` of `lantern`",
            "B0 2C 2C from `verse` of `lantern`",
            "B0 2C 2D from `verse` of `gull`",
        ]
    }


def test_no_change_goes_from_one_leg_to_another() -> None:
    two = show("one: {rigs: [a-rig], setlist: [lantern]}, two: {rigs: [a-rig], setlist: [gull]}")
    assert units(two, "desk", "amp") == {
        "desk": ["B2 5B 09 from `verse` of `lantern`", "B2 5A 00 from `verse` of `lantern`"],
        "amp": [
            "C0 00 from `verse` of `lantern`",
            "B0 50 7F, B0 50 00 from `verse` of `lantern`",
            "B0 0C 02, B0 2C 2C from `verse` of `lantern`",
            "B0 1F 1E from `chorus` of `lantern`",
            "B0 0C 00, B0 2C 01 from `chorus` of `lantern`",
            "B0 32 5A from `chorus` of `lantern`",
            "B0 1F 14 from `verse` of `lantern`",
            "C0 01 from `verse` of `gull`",
            "B0 1F 07 from `verse` of `gull`",
            "B0 0C 02, B0 2C 2D from `verse` of `gull`",
            "B0 2C 2D from `verse` of `gull`",
            "B0 2C 2C from `coda` of `gull`",
        ],
    }


def test_units_are_known_by_all_their_bytes() -> None:
    states = show(ONE_LEG).states
    assert states is not None
    assert list(sendable(states.rigs[0], states.runs, {"mixer", "amp"})["amp"])[1:3] == [
        bytes.fromhex("B0 50 7F B0 50 00"),
        bytes.fromhex("B0 0C 02 B0 2C 2C"),
    ]


def test_what_a_mute_sends_is_among_the_units() -> None:
    assert units(show(ONE_LEG), "mixer") == {
        "mixer": [
            "B1 5A 00 from `verse` of `lantern`",
            "B1 5A 7F from `verse` of `lantern`",
            "B1 5B 05 from `chorus` of `lantern`",
        ]
    }
