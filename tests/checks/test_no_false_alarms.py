"""Shows that are written as they should be raise nothing at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.diagnostics.names import NAMES
from switchmatrix.pipeline import judge
from tests.cli.kit import TWO_LEGS
from tests.support import findings, judged

SONGS = Path(__file__).parents[2] / "songs"


def test_the_base_show_raises_nothing() -> None:
    assert findings(judged()) == []


def test_the_example_show_raises_nothing() -> None:
    assert findings(judge(SONGS)) == []


def test_a_show_of_two_legs_and_a_spare_rig_raises_nothing() -> None:
    assert findings(judged(TWO_LEGS)) == []


CATALOGUE = {
    "syntax": "yaml-syntax",
    "keys": "unknown-key",
    "types": "wrong-shape",
    "units": "bad-value",
    "devices on one port that hear each other's messages": "channel-clash",
    "the controllers too": "controller-reaches",
    "a shared channel with nothing in common": "channel-shared",
    "one CC for two controls": "carrier-twice",
    "a channel-mode, bank or parameter CC used as a control": "cc-reserved",
    "a patch outside the device's programs": "patch-outside",
    "two names for one patch": "patch-twice",
    "a missing port": "missing-key",
    "a port that there is not": "unknown-name",
    "a hazard": "hazard",
    "missing patch": "missing-patch",
    "unknown device, control or value": "unknown-name",
    "unknown word; a word that the B rig lacks": "unknown-word",
    "a name that the B rig does not translate": "not-translated",
    "value out of range": "out-of-range",
    "over a limit": "over-limit",
    "undetermined": "undetermined",
    "note value with no tempo": "no-tempo",
    "a scene that only repeats another one's state": "repeats-scene",
    "a patch or a control set on a device left bypassed": "set-while-bypassed",
    "places out of order": "places-out-of-order",
    "an instrument unknown": "unknown-name",
    "an instrument lacking what a scene turns on": "pickup-missing",
    "a song that is not there": "unknown-name",
    "one instrument in two tunings too close together": "retune-too-close",
    "a change longer than its budget": "over-budget",
    "a clock and a change that do not fit on one port": "clock-crowded",
    "an acceptance that matches nothing": "accepted-nothing",
}
"""What a show is checked for, signal paths apart, and the finding that says it."""


@pytest.mark.parametrize("what", CATALOGUE)
def test_all_that_a_show_is_checked_for_has_a_page(what: str) -> None:
    assert CATALOGUE[what] in {name.name for name in NAMES}
