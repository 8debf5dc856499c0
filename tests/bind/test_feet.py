"""Feet in a rig's file: what they become, and what is wrong with them."""

from __future__ import annotations

import pytest

from switchmatrix.midi.numbers import ChannelNumber
from switchmatrix.model.rig import Feet, Pedal, PedalStep, Tread
from tests.support import BASE_SHOW, findings, judged

RIG = (BASE_SHOW / "rigs/a-rig.yaml").read_text(encoding="utf-8")
PORTS = "  rack: {out: rack, in: rack return, speed: din}\n  loft: {out: loft, speed: din}\n"


def rig_with(feet: str, like: str | None = None) -> dict[str, str]:
    """The base show's rig with an input, a port without one, and feet."""
    text = RIG.replace("  rack: {out: rack, speed: din}\n", PORTS) + f"feet: {feet}\n"
    files = {"rigs/a-rig.yaml": text}
    if like is not None:
        files["rigs/b-rig.yaml"] = f"rig: B rig\nlike: a-rig\nfeet: {like}\n"
        files["show.yaml"] = (
            "show: Tidewrack\nrigs: [b-rig]\nlegs: {tour: {rigs: [b-rig], setlist: [lantern]}}\n"
        )
    return files


def feet_of(feet: str, like: str | None = None) -> Feet | None:
    """The feet of the rig."""
    show = judged(rig_with(feet, like))
    assert show.sound, findings(show)
    return show.worked_out.runs[0].rig.feet


def pedal(does: PedalStep | int, kind: Tread, number: int, least: int, releases: bool = True) -> Pedal:
    """A pedal on channel 16 of the rack."""
    show = judged()
    assert show.states is not None
    return Pedal(does, "rack", ChannelNumber(16), kind, number, least, releases, show.states.runs[0].rig.span)


def test_each_kind_of_message_is_read_with_what_stands_where_nothing_is_said() -> None:
    feet = feet_of(
        "{next: {port: rack, channel: 16, cc: 64}, back: {port: rack, channel: 16, note: 36}, "
        "again: {port: rack, channel: 16, program: 5}, "
        "home: {port: rack, channel: 16, cc: 65, from: 127, release: none}, "
        "scene 12: {port: rack, channel: 16, note: 37, from: 10}}"
    )
    assert feet is not None
    assert feet.rest_us == 250_000
    assert feet.pedals == (
        pedal(PedalStep.NEXT, Tread.CC, 64, 64),
        pedal(PedalStep.BACK, Tread.NOTE, 36, 1),
        pedal(PedalStep.AGAIN, Tread.PROGRAM, 4, 1, releases=False),
        pedal(PedalStep.HOME, Tread.CC, 65, 127, releases=False),
        pedal(12, Tread.NOTE, 37, 10),
    )


def test_the_rest_is_read() -> None:
    feet = feet_of("{rest: 0.4 s}")
    assert feet is not None
    assert feet.rest_us == 400_000


def test_a_rig_without_feet_has_none() -> None:
    show = judged()
    assert show.worked_out.runs[0].rig.feet is None


def test_a_rig_that_is_like_another_has_its_feet_and_its_own_over_them() -> None:
    feet = feet_of(
        "{next: {port: rack, channel: 16, cc: 64}, rest: 400 ms}", "{next: {port: rack, channel: 16, cc: 66}}"
    )
    assert feet is not None
    assert (feet.pedals, feet.rest_us) == ((pedal(PedalStep.NEXT, Tread.CC, 66, 64),), 400_000)


@pytest.mark.parametrize(
    ("feet", "expected"),
    [
        (
            "{nxt: {port: rack, channel: 16, cc: 64}}",
            "error unknown-key: `nxt` is nothing that a pedal can do",
        ),
        (
            "{scene 0: {port: rack, channel: 16, cc: 64}}",
            "error unknown-key: `scene 0` is nothing that a pedal can do",
        ),
        (
            "{next: {port: rack, channel: 16}}",
            "error bad-value: `next` has none of `cc`, `note` and `program`",
        ),
        (
            "{next: {port: rack, channel: 16, cc: 64, note: 3}}",
            "error bad-value: `next` has more than one of `cc`, `note` and `program`",
        ),
        (
            "{next: {port: rack, channel: 17, cc: 64}}",
            "error number-outside: `channel` is 17; it goes from 1 to 16",
        ),
        (
            "{next: {port: rack, channel: 16, cc: 120}}",
            "error number-outside: `cc` is 120; it goes from 0 to 119",
        ),
        (
            "{next: {port: rack, channel: 16, program: 0}}",
            "error number-outside: `program` is 0; it goes from 1 to 128",
        ),
        (
            "{next: {port: rack, channel: 16, cc: 64, from: 0}}",
            "error number-outside: `from` is 0; it goes from 1 to 127",
        ),
        (
            "{next: {port: rack, channel: 16, program: 3, from: 5}}",
            "error bad-value: a program change carries no value, so there is no `from`",
        ),
        (
            "{next: {port: loft, channel: 16, cc: 64}}",
            "error bad-value: the port `loft` has no `in`, so no pedal is heard on it",
        ),
        ("{next: {port: rick, channel: 16, cc: 64}}", "error unknown-name: no port is called `rick`"),
        (
            "{next: {port: rack, channel: 16, cc: 64}, back: {port: rack, channel: 16, cc: 64}}",
            "error bad-value: `back` is stepped on by a message that does something else already",
        ),
        ("{rest: soon}", "error bad-value: `soon` is no time for `rest`"),
        ("{next: {channel: 16, cc: 64}}", "error missing-key: `next` lacks `port`"),
    ],
)
def test_a_slip_is_one_finding(feet: str, expected: str) -> None:
    found = [line.partition(": ")[2] for line in findings(judged(rig_with(feet)))]
    assert found == [expected]
