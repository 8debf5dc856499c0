"""What a change changes, what is lost with a device, and what someone else may have moved."""

from __future__ import annotations

import pytest

from switchmatrix.live.stepping.changes import changed, lost
from switchmatrix.live.stepping.doubts import doubts
from switchmatrix.live.stepping.inputs import Doubt
from switchmatrix.live.stepping.stops import Key
from switchmatrix.simulate.rig import receivers
from switchmatrix.simulate.stream import heard
from tests.live.stepping.kit import BRIDGE, CHANGEOVER, CHORUS, MARKET, SHOW, VERSE, VERSE_2, ready
from tests.support import BASE_SHOW, judged

A_RIG = SHOW.rigs["a-rig"]


def between(before: Key, after: Key) -> list[str]:
    """The sentences of a change on the A rig."""
    return list(changed(A_RIG.states[before], A_RIG.states[after]))


def test_patches_and_controls_are_named_with_what_they_were_and_are() -> None:
    assert between(VERSE, CHORUS) == [
        "echo: slap to cliff",
        "echo.engage: off to on",
        "echo.time: as slap stores it to 700",
        "amp.lead: on to off",
        "sampler.surf: off to on",
        "wah.sweep: in the player's hands to 40",
    ]


def test_nothing_is_said_where_nothing_changes() -> None:
    assert between(VERSE, VERSE_2) == []


def test_a_control_by_its_entry_is_named_as_the_song_names_it() -> None:
    assert between(CHANGEOVER, MARKET) == [
        "echo.mix: as slap stores it to 99",
        "amp.boost: on to off",
        "amp.channel: clean to lead",
        "multi: one to two",
        "mixer.mute-all: on to off",
        "mixer.in-1: 0 to 64",
    ]


def test_a_word_is_said_once_whatever_it_stands_for() -> None:
    files = {
        "lantern.yaml": "song: Lantern\ntempo: 120\nscenes:\n  verse: {gate: tight}\n"
        "  chorus: {gate: loose, echo: cliff}\n",
        "rigs/a-rig.yaml": (BASE_SHOW / "rigs/a-rig.yaml")
        .read_text(encoding="utf-8")
        .replace("-38 dB}", "-38 dB, echo.mix: 10 %}")
        .replace("-55 dB}", "-55 dB, echo.mix: 20 %}"),
    }
    show = ready(judged(files), rigs=("a-rig",))
    verse, chorus = (show.rigs["a-rig"].states[stop.key] for stop in show.stops)
    assert changed(verse, chorus) == ("gate: tight to loose", "echo: slap to cliff", "echo.engage: off to on")


def test_a_scene_says_what_it_loses_with_a_device() -> None:
    assert lost(A_RIG.states[CHORUS], {"echo", "wah"}) == (
        "without echo: cliff, engage on",
        "without wah: nothing of note",
    )


HEARD = receivers(A_RIG.rig)


@pytest.mark.parametrize(
    ("port", "data", "expected"),
    [
        ("rack", "B0 15 07", Doubt("a-rig", "echo", frozenset({"mix"}), patch=False, bank=False)),
        ("rack", "C0 09", Doubt("a-rig", "echo", frozenset({"mix", "time"}), patch=True, bank=False)),
        ("rack", "B2 14 01", Doubt("a-rig", "multi", frozenset({"mode", "depth"}), patch=False, bank=False)),
        ("rack", "B2 06 01", Doubt("a-rig", "multi", frozenset({"depth"}), patch=False, bank=False)),
        ("rack", "B4 20 01", Doubt("a-rig", "reverb", frozenset(), patch=False, bank=True)),
        ("floor", "B1 5A 7F", Doubt("a-rig", "amp", frozenset({"lead"}), patch=False, bank=False)),
    ],
)
def test_a_message_from_elsewhere_puts_in_doubt_what_it_moves(port: str, data: str, expected: Doubt) -> None:
    assert doubts("a-rig", HEARD, port, heard(bytes.fromhex(data))) == (expected,)


@pytest.mark.parametrize(
    ("port", "data"), [("rack", "BF 15 07"), ("floor", "B0 15 07"), ("floor", "B3 21 7F"), ("rack", "F8")]
)
def test_a_message_that_moves_nothing_is_no_doubt(port: str, data: str) -> None:
    assert doubts("a-rig", HEARD, port, heard(bytes.fromhex(data))) == ()


def test_the_bridge_says_what_it_resets_and_banks() -> None:
    assert between(VERSE_2, BRIDGE) == [
        "amp.lead: on to off",
        "multi.mode: a to b",
        "multi.depth: 3 to 9",
        "reverb: room to cave",
    ]
