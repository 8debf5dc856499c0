"""The matrix of kinds and carriers on the page `carriers`: each of its cells is tried as a definition."""

from __future__ import annotations

import re
from dataclasses import dataclass

import pytest

from switchmatrix.definition.controls import Codes, Linear, Named
from tests.definition.kit import control, told
from tests.definition.matrix import CARRIERS, MATRIX
from tests.manual.kit import OTHER, blocks

KINDS = {
    "switch": "kind: switch",
    "choice": "kind: choice, values: {low: 1, high: 2}",
    "level": "kind: level, range: [0 %, 100 %]",
    "time": "kind: time, range: [0 ms, 1000 ms]",
    "trigger": "kind: trigger",
}


@dataclass(frozen=True, slots=True)
class Cell:
    """A kind on a carrier: what the page says of it, `yes` or `no`, and of the carrier's codes."""

    carrier: str
    codes: str
    kind: str
    said: str

    @property
    def yaml(self) -> str:
        """What stands in the braces of such a control."""
        return f"{KINDS[self.kind]}, {self.carrier}"

    def __str__(self) -> str:
        return f"{self.kind} on {self.carrier}"


def rows() -> list[list[str]]:
    """The matrix, its heading first, cut where two spaces or more stand."""
    text = next(block.text for block in blocks("carriers") if block.kind == OTHER)
    return [re.split(r" {2,}", line) for line in text.splitlines()]


HEAD, *ROWS = rows()
CELLS = [
    Cell(carrier, codes, HEAD[2 + n], said) for carrier, codes, *cells in ROWS for n, said in enumerate(cells)
]
HELD = [cell for cell in CELLS if cell.said == "yes"]


def test_the_columns_are_the_kinds() -> None:
    assert ["CARRIER", "CODES", *KINDS] == HEAD


def test_the_rows_are_the_carriers_that_the_tests_of_definitions_run_through() -> None:
    keys = [re.findall(r"^[\w-]+|data: \d+|value-msb", carrier) for carrier, *_ in ROWS]
    assert keys == [
        [part.replace("value-lsb", "value-msb") for part in re.findall(r"^[\w-]+|data: \d+|value-lsb", yaml)]
        for yaml in CARRIERS.values()
    ]


def test_as_many_cells_say_yes_as_those_tests_run_through() -> None:
    without_toggles = [cell for cell in MATRIX if cell.kind != "switch, toggle"]
    assert len(HELD) == len(without_toggles)


@pytest.mark.parametrize("cell", HELD, ids=str)
def test_cell_that_says_yes_is_a_sound_control(cell: Cell) -> None:
    assert control(cell.yaml).kind == cell.kind


@pytest.mark.parametrize("cell", [cell for cell in CELLS if cell.said != "yes"], ids=str)
def test_cell_that_says_no_is_refused(cell: Cell) -> None:
    assert [finding.split()[2] for finding in told(cell.yaml)] == ["carrier-wrong:"]


@pytest.mark.parametrize("cell", [cell for cell in HELD if cell.kind == "level"], ids=str)
def test_level_reaches_over_the_codes_that_its_row_says(cell: Cell) -> None:
    scale = control(cell.yaml).scale
    assert isinstance(scale, Linear)
    assert "-".join(str(code) for code, _ in scale.points) == cell.codes


@pytest.mark.parametrize("cell", [cell for cell in HELD if cell.kind == "switch"], ids=str)
def test_switch_is_sent_the_ends_of_the_codes_that_its_row_says(cell: Cell) -> None:
    low, high = (int(code) for code in cell.codes.split("-"))
    assert control(cell.yaml).scale == Named((("on", Codes(high, high, high)), ("off", Codes(low, low, low))))
