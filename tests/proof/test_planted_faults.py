"""A fault in the bytes that does harm to any box that may stand there is caught by the proof.

Whether it does harm is not for the proof to say: boxes as they may really stand (`stage.py`) hear what
arrives, and those that do not come to the scene's state have been harmed. What leaves them all where the
scene wants them is equivalent, and is no fault that could be caught by where a device stands.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from random import Random

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from switchmatrix.proof.parts import parts_of
from switchmatrix.proof.run import prove
from switchmatrix.states.show import Run
from tests.proof.drawn import shows
from tests.proof.faults import Fault, Pair, faults, pairs, states_of
from tests.proof.shown import device_fails, every_carrier
from tests.support import judged

DEVICES = ("echo", "reverb", "amp", "synth")
KINDS = ("drop", "double", "value", "channel", "swap", "first")


def planted(run: Run, name: str, *, whole: bool) -> dict[Fault, list[Pair]]:
    """Every fault in all that the proof has a device sent, with the ways that it befalls.

    The proof sends part by part, or all of the device where it is proved whole.
    """
    device = next(d for d in run.rig.devices if d.name == name)
    by_data: dict[tuple[bytes, ...], list[Pair]] = {}
    for part in (None,) if whole else parts_of(device):
        for pair in pairs(run.rig, device, states_of(run, device), part):
            by_data.setdefault(pair.sent, []).append(pair)
    return {fault: ways for sent, ways in by_data.items() for fault in faults(sent)}


def harms(fault: Fault, ways: list[Pair]) -> bool:
    """Whether some box does not come to the scene's state, on some of the ways."""
    return any(not pair.lands(fault.arrived) for pair in ways)


@cache
def harmful(name: str, whole: bool) -> tuple[Fault, ...]:
    """The faults of the show over every carrier that do harm."""
    every = planted(every_carrier(), name, whole=whole)
    return tuple(fault for fault, ways in every.items() if harms(fault, ways))


@pytest.mark.parametrize("whole", [False, True], ids=["in parts", "whole"])
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", DEVICES)
def test_every_harmful_fault_is_caught(name: str, kind: str, whole: bool) -> None:
    here = [fault for fault in harmful(name, whole) if fault.kind == kind]
    missed = [f for f in here if not device_fails(every_carrier(), name, f.wire, every_pair=whole)]
    assert missed == []


@pytest.mark.parametrize("name", DEVICES)
def test_the_messages_as_they_are_harm_no_box(name: str) -> None:
    device = next(d for d in every_carrier().rig.devices if d.name == name)
    every = pairs(every_carrier().rig, device, states_of(every_carrier(), device))
    assert [pair for pair in every if not pair.lands(pair.sent)] == []


def counted(found: list[Fault]) -> dict[str, int]:
    """How many faults of each kind."""
    return dict(sorted(Counter(fault.kind for fault in found).items()))


# What is planted, and how much of it does harm: a test that plants nothing would catch everything.
@pytest.mark.parametrize(
    ("name", "every", "harmful_ones"),
    [
        (
            "echo",
            {"channel": 20, "double": 20, "drop": 20, "first": 9, "swap": 13, "value": 20},
            {"channel": 20, "drop": 20, "first": 9, "swap": 9, "value": 20},
        ),
        (
            "reverb",
            {"channel": 17, "double": 17, "drop": 17, "first": 3, "swap": 8, "value": 17},
            {"channel": 17, "drop": 17, "first": 1, "swap": 6, "value": 17},
        ),
        (
            "amp",
            {"channel": 44, "double": 44, "drop": 44, "first": 32, "swap": 38, "value": 44},
            {"channel": 31, "double": 1, "drop": 31, "first": 11, "swap": 16, "value": 33},
        ),
        (
            "synth",
            {"channel": 10, "double": 14, "drop": 14, "swap": 2, "value": 14},
            {"channel": 8, "drop": 12, "value": 12},
        ),
    ],
)
def test_faults_planted_and_those_that_do_harm(
    name: str, every: dict[str, int], harmful_ones: dict[str, int]
) -> None:
    assert counted(list(planted(every_carrier(), name, whole=False))) == every
    assert counted(list(harmful(name, False))) == harmful_ones


# Messages that can be left out, each with those before it. The null parameter (7F 7F) only keeps others from
# the parameter: it moves nothing (MIDI 1.0 Detailed Specification 4.2.1, p. 18). CC 6 sends the upper half
# that stands already, for the number's sake. The toggle's release does nothing; nor does a Note Off to a
# switch that a key sets (common practice).
@pytest.mark.parametrize(
    ("name", "left_out"),
    [
        ("echo", []),
        ("reverb", []),
        (
            "amp",
            [
                "B21E00 B26301 B26208 B20601 B22648 - B2637F",
                "B21E00 B26301 B26208 B20601 B22648 B2637F - B2627F",
                "B21E00 B26301 B26208 B20601 B22649 - B2637F",
                "B21E00 B26301 B26208 B20601 B22649 B2637F - B2627F",
                "B21E01 B26301 B26208 B20601 B22648 - B2637F",
                "B21E01 B26301 B26208 B20601 B22648 B2637F - B2627F",
                "B25A7F - B25A00",
                "B26301 B26208 - B20601",
                "B26301 B26208 B20601 B22648 - B2637F",
                "B26301 B26208 B20601 B22648 B2637F - B2627F",
                "B26301 B26208 B20601 B22649 - B2637F",
                "B26301 B26208 B20601 B22649 B2637F - B2627F",
            ],
        ),
        ("synth", ["933C21 - 833C40", "933C60 - 833C40"]),
    ],
)
def test_messages_that_can_be_left_out_without_harm(name: str, left_out: list[str]) -> None:
    every = planted(every_carrier(), name, whole=False)
    harmless = [f for f, ways in every.items() if f.kind == "drop" and not harms(f, ways)]
    assert sorted({shown(fault) for fault in harmless}) == left_out


def shown(fault: Fault) -> str:
    """The messages before a place, and the one that stands there."""
    before = " ".join(message.hex().upper() for message in fault.sent[: fault.at])
    return f"{before} - {fault.sent[fault.at].hex().upper()}"


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(shows(devices=1), st.randoms(use_true_random=False), st.booleans())
def test_harmful_faults_in_any_show_are_caught(files: dict[str, str], chance: Random, whole: bool) -> None:
    show = judged(files, base=None)
    assume(show.sound)
    run = show.worked_out.runs[0]
    every = list(planted(run, "alder", whole=whole).items())
    some = chance.sample(every, min(12, len(every)))
    found = [fault for fault, ways in some if harms(fault, ways)]
    assert [f for f in found if not device_fails(run, "alder", f.wire, every_pair=whole)] == []


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(shows(devices=1))
def test_messages_of_any_show_harm_no_box_and_are_proved(files: dict[str, str]) -> None:
    show = judged(files, base=None)
    assume(show.sound)
    run = show.worked_out.runs[0]
    device = run.rig.devices[0]
    every = pairs(run.rig, device, states_of(run, device))
    assert [pair for pair in every if not pair.lands(pair.sent)] == []
    assert prove(run).failed == ()
