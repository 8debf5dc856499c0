"""A fault in the bytes that does harm to any box that may stand there is caught by the proof.

Whether it does harm is not for the proof to say: boxes as they may really stand (`stage.py`) hear what
arrives, and those that do not come to the scene's state have been harmed. What leaves them all where the
scene wants them is equivalent, and is no fault that could be caught by where a device stands.
"""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from switchmatrix.proof.parts import parts_of
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


def harmless_drops(name: str) -> list[str]:
    """Messages that can be left out of a part without harm, each after those before it."""
    every = planted(every_carrier(), name, whole=False)
    left = [f for f, ways in every.items() if f.kind == "drop" and not harms(f, ways)]
    return sorted({" ".join(m.hex().upper() for m in f.sent[: f.at]) + " - " + f.sent[f.at].hex().upper() for f in left})
