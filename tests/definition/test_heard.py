"""Bytes back to codes, through the reader that shares no code with the encoder."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from switchmatrix.controls import decode, encode, read
from switchmatrix.definition.definition import Definition
from switchmatrix.definition.values import Misread
from switchmatrix.midi.numbers import ChannelNumber, wire_channel
from switchmatrix.simulate.reader import codes_heard
from tests.definition.drawn import Drawn, scales
from tests.definition.kit import control, defined, sent
from tests.definition.lists import Listed, lists, written
from tests.definition.matrix import CARRIERS, MATRIX, WIDE, Cell
from tests.definition.test_whole_lists import THREE_HUNDRED

CHANNEL = wire_channel(ChannelNumber(2))


def box(text: str) -> Definition:
    """A definition with a control `it`."""
    return defined(f"definition: box\ncontrols: {{it: {{{text}}}}}\n")


def heard(definition: Definition, hex_bytes: str) -> tuple[tuple[str, int], ...]:
    """The codes that the bytes bring to the definition's controls on channel 2, device id 5."""
    return codes_heard(definition, CHANNEL, bytes.fromhex(hex_bytes), id=5)


CODES = {
    "switch": (20, 100),
    "choice": (21, 41, 127),
    "level": (1, 50, 101),
    "time": (1, 127),
    "trigger": (90,),
}
WIDE_CODES = {
    "switch": (20, 12345),
    "choice": (64, 128, 16383),
    "level": (0, 8192, 16383),
    "time": (0, 1, 16000),
    "trigger": (8193,),
}


@pytest.mark.parametrize(
    "cell", [c for c in MATRIX if c.kind in CODES], ids=lambda c: f"{c.kind} on {c.carrier}"
)
def test_every_code_of_a_cell_is_heard_from_its_bytes(cell: Cell) -> None:
    definition, made = box(cell.yaml), control(cell.yaml)
    codes = (WIDE_CODES if cell.carrier in WIDE else CODES)[cell.kind]
    assert [heard(definition, sent(made, code, id=5)) for code in codes] == [
        (("it", code),) for code in codes
    ]


@pytest.mark.parametrize(
    "cell", [c for c in MATRIX if c.kind == "switch, toggle"], ids=lambda c: f"toggle on {c.carrier}"
)
def test_press_of_a_toggle_is_heard_as_one_flip_and_two_as_none(cell: Cell) -> None:
    definition, press = box(cell.yaml), sent(control(cell.yaml), 1, id=5)
    assert (heard(definition, press), heard(definition, f"{press} {press}")) == ((("it", 1),), (("it", 0),))


@pytest.mark.parametrize("carrier", CARRIERS)
def test_every_code_that_a_carrier_holds_is_heard_from_its_bytes(carrier: str) -> None:
    most = 16383 if carrier in WIDE else 127
    text = f"kind: choice, values: {{low: 1-{most // 2}, high: {most // 2 + 1}-{most}}}, {CARRIERS[carrier]}"
    definition, made = box(text), control(text)
    codes = [*range(1, 128), *range(128, most + 1, 331), most]
    assert [heard(definition, sent(made, code, id=5)) for code in codes] == [
        (("it", code),) for code in codes
    ]


def test_lsb_alone_is_heard_beside_the_msb_that_stands() -> None:
    definition = box("kind: level, range: [0, 16383], cc14: [12, 44]")
    assert heard(definition, "B1 0C 40 B1 2C 00 B1 2C 05") == (("it", 8197),)


def test_cc_that_moves_a_parameter_too_is_never_sent() -> None:
    text = "kind: level, nrpn: [1, 8], data: 14, range: [0, 16383], also-cc: [20]"
    assert sent(control(text), 128) == "B1 63 01 B1 62 08 B1 06 01 B1 26 00"


@settings(max_examples=30)
@given(lists())
def test_all_controls_of_a_list_are_heard_from_one_stream(given: list[Listed]) -> None:
    stream = " ".join(one.wire for one in given)
    assert sorted(heard(defined(written(given)), stream)) == sorted((one.name, one.code) for one in given)


def test_three_hundred_controls_are_heard_from_one_stream() -> None:
    stream = " ".join(one.wire for one in THREE_HUNDRED)
    assert heard(defined(written(THREE_HUNDRED)), stream) == tuple(
        (one.name, one.code) for one in THREE_HUNDRED
    )


@settings(max_examples=25)
@given(scales)
def test_ends_of_any_scale_are_heard_as_the_values_that_were_said(drawn: Drawn) -> None:
    definition, made = box(drawn.yaml), control(drawn.yaml)
    said = [read(made, f"{float(number):.2f} {drawn.unit}") for _, number in drawn.points]
    values = [value for value in said if not isinstance(value, Misread)]
    codes = [heard(definition, sent(made, encode(made, value), id=5)) for value in values]
    assert [[decode(made, code) for _, code in one] for one in codes] == [[value] for value in said]
