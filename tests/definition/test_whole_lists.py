"""Whole control lists of the shapes that makers publish: loaded, encoded, decoded."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from switchmatrix.controls import decode, encode, read
from switchmatrix.definition.controls import Control
from switchmatrix.definition.values import Misread, Value
from tests.definition.kit import defined, findings, sent
from tests.definition.lists import SHAPES, Listed, listed, lists, written

some = settings(max_examples=40)


def values(controls: tuple[Control, ...], given: list[Listed]) -> list[Value | Misread]:
    """What each control reads where a person says its value."""
    return list(map(read, controls, [one.said for one in given]))


def codes(controls: tuple[Control, ...], given: list[Listed]) -> list[int]:
    """The code of each control's value."""
    read_all = [v for v in values(controls, given) if not isinstance(v, Misread)]
    return list(map(encode, controls, read_all))


@some
@given(lists())
def test_every_control_of_a_list_keeps_its_name_and_its_place(given: list[Listed]) -> None:
    assert [control.name for control in defined(written(given)).controls] == [one.name for one in given]


@some
@given(lists())
def test_every_control_of_a_list_sends_its_own_bytes(given: list[Listed]) -> None:
    controls = defined(written(given)).controls
    assert list(map(sent, controls, codes(controls, given))) == [one.wire for one in given]


@some
@given(lists())
def test_every_control_of_a_list_means_what_was_said(given: list[Listed]) -> None:
    controls = defined(written(given)).controls
    assert list(map(decode, controls, [one.code for one in given])) == values(controls, given)


THREE_HUNDRED = listed(
    [f"parameter {n}" for n in range(300)],
    ["nrpn"] * 200 + [SHAPES[n % 6] for n in range(80)] + ["both", "pair"] * 10,
    Random(300),
)


def test_three_hundred_controls_on_one_device_send_their_own_bytes() -> None:
    controls = defined(written(THREE_HUNDRED)).controls
    assert list(map(sent, controls, codes(controls, THREE_HUNDRED))) == [one.wire for one in THREE_HUNDRED]


# 3-127: (3 + 127) / 2 = 65; 0-63 is sent as 32, halves up.
@pytest.mark.parametrize(
    ("values", "meant"),
    [
        ("{off: 0-63, on: 64-127}", ["off"] * 64 + ["on"] * 64),
        ("{dry: 0, room: 1, hall: 2, morph: 3-127}", ["dry", "room", "hall"] + ["morph"] * 125),
        ("{low: 0 - 9, high: 10 - 127}", ["low"] * 10 + ["high"] * 118),
    ],
)
def test_every_code_of_an_enumeration_means_its_word(values: str, meant: list[str]) -> None:
    made = defined(f"definition: box\ncontrols: {{it: {{kind: choice, cc: 20, values: {values}}}}}\n")
    assert [str(decode(made.controls[0], code)) for code in range(128)] == meant


@settings(max_examples=20)
@given(st.permutations(["Depth", "Speed", "Tone", "Tap / Div"]))
def test_several_names_on_one_cc_are_refused_each_beside_the_first(order: list[str]) -> None:
    text = "definition: box\ncontrols:\n" + "".join(
        f"  {name}: {{kind: level, cc: 20, range: [0, 127]}}\n" for name in order
    )
    assert findings(text) == [
        f"{line}:3: error carrier-twice: `{order[line - 3]}` and `{order[0]}` both have CC 20"
        for line in (4, 5, 6)
    ]


@pytest.mark.parametrize(
    ("one", "other", "what"),
    [
        ("cc: 12", "cc14: [12, 44]", "CC 12"),
        ("cc: 44", "cc14: [12, 44]", "CC 44"),
        ("cc14: [12, 44]", "cc14: [13, 44]", "CC 44"),
        ("cc14: [12, 44]", "cc14: [44, 13]", "CC 44"),
        ("cc: 20", "nrpn: [1, 8], data: 7, also-cc: [20]", "CC 20"),
        ("nrpn: [1, 8], data: 7", "nrpn: [1, 8], data: 14", "NRPN 1, 8"),
        ("rpn: [0, 2], data: 7", "rpn: [0, 2], data: 7", "RPN 0, 2"),
        ("note: 60", "note: 60, release: yes", "note 60"),
        ("pitch-bend: yes", "pitch-bend: yes", "pitch bend"),
        ("channel-pressure: yes", "channel-pressure: yes", "channel pressure"),
        (
            "sysex: {body: [0x7D, 1, value]}",
            "sysex: {body: [0x7D, 0x01, value]}",
            "one system exclusive message",
        ),
    ],
)
def test_two_controls_that_one_message_moves_are_refused(one: str, other: str, what: str) -> None:
    text = f"definition: box\ncontrols:\n  a: {{kind: trigger, {one}}}\n  b: {{kind: trigger, {other}}}\n"
    assert findings(text) == [f"4:3: error carrier-twice: `b` and `a` both have {what}"]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("nrpn: [1, 8], data: 7", "rpn: [1, 8], data: 7"),
        ("nrpn: [1, 8], data: 7", "nrpn: [8, 1], data: 7"),
        ("note: 60", "cc: 60"),
        ("cc: 20", "cc: 20, channel: loops"),
        ("sysex: {body: [0x7D, 1, value]}", "sysex: {body: [0x7D, 2, value]}"),
    ],
)
def test_two_controls_on_messages_of_their_own_are_not_refused(one: str, other: str) -> None:
    text = f"definition: box\ncontrols:\n  a: {{kind: trigger, {one}}}\n  b: {{kind: trigger, {other}}}\n"
    assert findings(text) == []


@pytest.mark.parametrize("strange", [".", "@"])
def test_name_with_a_mark_that_lines_use_is_refused_with_help(strange: str) -> None:
    text = f"definition: box\ncontrols:\n  'a{strange}b': {{kind: switch, cc: 20}}\n"
    assert findings(text) == [
        f"3:3: error bad-name: `a{strange}b` cannot name a control: it has a `{strange}` in it"
    ]
