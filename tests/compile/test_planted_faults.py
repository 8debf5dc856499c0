"""Faults planted in the messages of a sound show: the receiver must catch every one of them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from random import Random

import pytest

from switchmatrix.pipeline import Judged
from tests.compile.drawn import SWITCH
from tests.compile.receiver import Sent, found_stage, wrong_after
from tests.compile.shown import on_the_wire
from tests.compile.shows import Control, Device, Patch, Show
from tests.support import judged


def box(name: str, channel: int, repeat: str, settle_ms: int) -> Device:
    """A box of two patches that list all but the time of the first."""
    controls = (
        Control("engage", "switch", 80, SWITCH, stored=False),
        Control("mix", "level", 21, (), stored=True),
        Control("time", "level", 22, (), stored=True),
        Control("relay", "choice", None, (("left", 5), ("right", 6)), stored=False),
    )
    patches = (Patch("p1", 0, (("mix", "1"),)), Patch("p2", 1, (("mix", "2"), ("time", "64"))))
    return Device(name, "rack", channel, 8, 1, settle_ms, repeat, controls, patches)


ALDER, BIRCH = box("alder", 1, "recalls", 35), box("birch", 2, "toggles engage", 0)
FIXED = Show(
    speeds=(("rack", "din"),),
    devices=(ALDER, BIRCH),
    controllers=(),
    hands=(),
    home={(d.name, c): t for d in (ALDER, BIRCH) for c, t in (("engage", "on"), ("relay", "left"))},
    scenes=(
        ("s1", {("alder", "patch"): "p1", ("alder", "mix"): "9", ("birch", "patch"): "p2"}),
        ("s2", {("alder", "patch"): "p1", ("alder", "time"): "9", ("birch", "patch"): "p2"}),
    ),
)


@cache
def compiled() -> Judged:
    """The show above."""
    return judged(FIXED.files(), base=None)


@cache
def from_unknown() -> tuple[Sent, ...]:
    """The messages of its first scene from unknown."""
    return tuple(on_the_wire(compiled(), "s1", None))


def caught(messages: Sequence[Sent]) -> bool:
    """Whether some of 40 rigs as they may be found ends otherwise than `s1` means."""
    return any(wrong_after(found_stage(FIXED, Random(seed)), "s1", messages) for seed in range(40))


def test_the_messages_as_they_are_bring_every_rig_to_the_scene() -> None:
    assert [data.hex(" ").upper() for _, data, _ in from_unknown()] == [
        *("C0 00", "C1 01"),
        *("B1 50 7F", "B1 15 02", "B1 16 40", "C1 05"),
        *("B0 50 7F", "B0 15 09", "C0 05"),
    ]
    assert not caught(from_unknown())


def test_a_message_left_out_is_caught() -> None:
    left_out = [from_unknown()[:n] + from_unknown()[n + 1 :] for n in range(len(from_unknown()))]
    assert [caught(messages) for messages in left_out] == [True] * len(from_unknown())


def test_a_value_that_is_off_by_one_is_caught() -> None:
    off = [
        [*from_unknown()[:n], (port, bytes((*data[:-1], data[-1] ^ 1)), at), *from_unknown()[n + 1 :]]
        for n, (port, data, at) in enumerate(from_unknown())
    ]
    assert [caught(messages) for messages in off] == [True] * len(from_unknown())


def test_a_message_on_another_channel_is_caught() -> None:
    off = [
        [*from_unknown()[:n], (port, bytes((data[0] ^ 8, *data[1:])), at), *from_unknown()[n + 1 :]]
        for n, (port, data, at) in enumerate(from_unknown())
    ]
    assert [caught(messages) for messages in off] == [True] * len(from_unknown())


def spaced(messages: list[bytes]) -> list[Sent]:
    """The messages in that order with a tenth of a second between: no settle hides what the order does."""
    return [("rack", data, n * 100_000) for n, data in enumerate(messages)]


def test_a_stored_control_before_its_recall_is_caught() -> None:
    recall, mix = bytes.fromhex("C0 00"), bytes.fromhex("B0 15 09")
    rest = [data for _, data, _ in from_unknown() if data not in (recall, mix)]
    assert not caught(spaced([recall, mix, *rest]))
    assert caught(spaced([mix, recall, *rest]))


def test_a_flipped_switch_before_the_program_that_may_flip_it_is_caught() -> None:
    recall, engage = bytes.fromhex("C1 01"), bytes.fromhex("B1 50 7F")
    rest = [data for _, data, _ in from_unknown() if data not in (recall, engage)]
    assert not caught(spaced([recall, engage, *rest]))
    assert caught(spaced([engage, recall, *rest]))


def test_a_message_to_a_box_that_settles_is_caught() -> None:
    close = [(port, data, n * 1000) for n, (port, data, _) in enumerate(from_unknown())]
    assert caught(close)


def test_two_messages_at_once_on_a_wire_are_refused() -> None:
    close = [(port, data, n * 500) for n, (port, data, _) in enumerate(from_unknown())]
    with pytest.raises(ValueError, match="two messages at once on rack"):
        caught(close)


def test_a_message_without_its_status_byte_is_refused() -> None:
    port, data, at = from_unknown()[-1]
    with pytest.raises(ValueError, match="no message"):
        caught([*from_unknown()[:-1], (port, data[1:], at)])


def test_a_recall_left_out_between_scenes_is_caught() -> None:
    assert [data.hex(" ") for _, data, _ in on_the_wire(compiled(), "s1", "s2")] == ["c0 00", "b0 15 09"]
    stage = found_stage(FIXED, Random(1))
    wrong_after(stage, "s2", on_the_wire(compiled(), "s2", None))
    assert wrong_after(stage, "s1", on_the_wire(compiled(), "s1", "s2")[1:]) != []
