"""Each kind on each carrier that can hold it: from the YAML to bytes, and from the bytes to the value."""

from __future__ import annotations

import pytest

from switchmatrix.controls import decode, encode, read
from switchmatrix.definition.controls import Control
from switchmatrix.definition.values import Misread, Value
from tests.definition.kit import control, sent, told
from tests.definition.matrix import CARRIERS, MATRIX, NO_CELL, SEVEN, WIDE, Cell
from tests.definition.wire import ON_THE_WIRE, codes_of

SAID = {
    "switch": ("on", "off"),
    "switch, toggle": ("on", "off"),
    "choice": ("tape", "clean", "grain"),
    "level": ("0 %", "33.3 %", "50 %", "100 %"),
    "time": ("0 ms", "333 ms", "0.5 s", "10 Hz", "1260 ms"),
    "trigger": ("now",),
}
"""What a person says to each kind."""

SENT_7 = {
    "switch": [100, 20],
    "switch, toggle": [127, 1, 127, 1],
    "choice": [21, 41, 127],
    "level": [1, 34, 51, 101],
    "time": [1, 34, 51, 11, 127],
    "trigger": [90],
}
"""The codes sent for that on seven bits: a level's is 1 and its percents, a time's 1 and its hundredths."""

SENT_14 = {
    "switch": [12345, 20],
    "switch, toggle": [16383, 0, 16383, 0],
    "choice": [64, 128, 16383],
    "level": [8192, 10920, 12288, 16383],
    "time": [0, 2664, 4000, 800, 10080],
    "trigger": [8193],
}
"""The same on fourteen: 8192 + 8191 * 0.333 = 10919.603; 8192 + 4095.5, halves up; eight codes a ms."""


def name(cell: Cell) -> str:
    return f"{cell.kind} on {cell.carrier}"


def values(made: Control, kind: str) -> list[Value]:
    """What a person says to the kind, as the control reads it."""
    said = [read(made, text) for text in SAID[kind]]
    return [value for value in said if not isinstance(value, Misread)]


@pytest.mark.parametrize("cell", MATRIX, ids=name)
def test_cell_is_that_kind_with_nothing_wrong(cell: Cell) -> None:
    assert control(cell.yaml).kind == cell.kind.partition(",")[0]


@pytest.mark.parametrize("cell", MATRIX, ids=name)
def test_all_that_is_said_to_a_cell_is_on_the_wire_as_worked_out(cell: Cell) -> None:
    made = control(cell.yaml)
    sends = [sent(made, encode(made, value), id=5) for value in values(made, cell.kind)]
    expected = SENT_14 if cell.carrier in WIDE else SENT_7
    assert codes_of(cell.carrier, " ".join(sends)) == expected[cell.kind]


@pytest.mark.parametrize("cell", [c for c in MATRIX if c.kind != "switch, toggle"], ids=name)
def test_code_read_from_the_bytes_means_what_the_sent_code_means(cell: Cell) -> None:
    made = control(cell.yaml)
    codes = [encode(made, value) for value in values(made, cell.kind)]
    heard = [codes_of(cell.carrier, sent(made, code, id=5)) for code in codes]
    assert [[decode(made, code) for code in one] for one in heard] == [[decode(made, code)] for code in codes]


@pytest.mark.parametrize("cell", [c for c in MATRIX if c.kind in ("switch", "choice", "trigger")], ids=name)
def test_word_comes_back_from_the_bytes(cell: Cell) -> None:
    made = control(cell.yaml)
    said = values(made, cell.kind)
    heard = [codes_of(cell.carrier, sent(made, encode(made, value), id=5)) for value in said]
    assert [[decode(made, code) for code in one] for one in heard] == [[value] for value in said]


@pytest.mark.parametrize("carrier", CARRIERS)
def test_every_code_that_a_carrier_holds_comes_back_from_the_bytes(carrier: str) -> None:
    most = 16383 if carrier in WIDE else 127
    codes = [*range(1, 128), *range(128, most + 1, 61), most]
    made = control(f"kind: trigger, codes: {{fire: {most}}}, {CARRIERS[carrier]}")
    assert [codes_of(carrier, sent(made, code, id=5)) for code in codes] == [[code] for code in codes]


@pytest.mark.parametrize(("kind", "carrier"), NO_CELL)
def test_pair_that_is_no_cell_is_refused(kind: str, carrier: str) -> None:
    assert told(f"{SEVEN[kind]}, {CARRIERS[carrier]}") == [
        f"2:12: error carrier-wrong: `it` is a {kind}: it would take every program number of the device"
    ]


def test_matrix_holds_every_other_pair_once() -> None:
    pairs = [(cell.kind, cell.carrier) for cell in MATRIX]
    assert sorted([*pairs, *NO_CELL]) == sorted((kind, carrier) for kind in SEVEN for carrier in CARRIERS)


def test_reader_of_these_tests_knows_every_carrier() -> None:
    assert list(ON_THE_WIRE) == list(CARRIERS)
