"""Parameter numbers, their data, and what is uncertain of them."""

from __future__ import annotations

import pytest

from switchmatrix.simulate.standing import UNKNOWN, Half, Halves, Moved
from tests.simulate.boxes import box, controls, now, told

TWO = """\
controls:
  time: {kind: level, nrpn: [1, 8], data: 14, range: [0, 16383]}
  mix: {kind: level, nrpn: [1, 9], data: 7, range: [0, 127]}
  tune: {kind: level, rpn: [0, 2], data: 14, range: [0, 16383]}"""


@pytest.mark.parametrize("halves", [Halves.ZEROED, Halves.KEPT])
def test_whole_group_is_right_on_any_box(halves: Halves) -> None:
    assert controls(box(TWO, halves=halves), "B0 63 01 62 08 06 03 26 54", 1, 2, 3) == (468, 2, 3)


def test_each_parameter_keeps_its_own_lower_half() -> None:
    one = box(TWO, halves=Halves.KEPT)
    assert controls(one, "B0 63 01 62 08 06 03 65 00 64 02 06 05", 4, 5, 6) == (3 * 128 + 4, 5, 5 * 128 + 6)


def test_seven_bit_parameter_ignores_the_lower_half() -> None:
    assert controls(box(TWO), "B0 63 01 62 09 06 40 26 05", 1, 2, 3) == (1, 0x40, 3)


def test_parameter_that_the_box_has_not_got_takes_nothing() -> None:
    assert controls(box(TWO), "B0 63 01 62 0A 06 40 26 05", 1, 2, 3) == (1, 2, 3)


def test_numbers_on_another_channel_address_nothing() -> None:
    assert controls(box(TWO), "B0 63 01 62 08 B1 63 01 62 09 06 40 B0 06 03", 1, 2, 3) == (384, 2, 3)


def test_data_without_a_number_may_have_gone_anywhere() -> None:
    assert controls(box(TWO), "B0 06 03", 1, 2, 3) == (UNKNOWN, UNKNOWN, UNKNOWN)


def test_data_after_half_a_number_may_have_gone_to_what_it_fits() -> None:
    assert controls(box(TWO), "B0 62 08 06 03", 1, 2, 3) == (UNKNOWN, 2, 3)


def test_lower_half_of_data_after_half_a_number_may_have_gone_to_what_it_fits() -> None:
    assert controls(box(TWO), "B0 62 08 26 03", 1, 2, 3) == (UNKNOWN, 2, 3)


@pytest.mark.parametrize("null", ["B0 65 7F 64 7F", "B0 63 7F 62 7F"])
def test_null_of_either_kind_closes_the_group(null: str) -> None:
    assert controls(box(TWO), f"B0 63 01 62 08 {null} 06 03", 1, 2, 3) == (1, 2, 3)


@pytest.mark.parametrize(
    ("sent", "open"),
    [("", ()), ("B0 63 01 62 08", ("time",)), ("B0 63 01 62 08 65 7F 64 7F", ()), ("B0 63 01 62 0A", ())],
)
def test_parameter_whose_group_is_not_closed_is_told(sent: str, open: tuple[str, ...]) -> None:
    one = box(TWO)
    assert one.addressed(now(one, sent)) == open


def test_seven_bit_parameter_steps_by_one_and_stops_at_its_end() -> None:
    assert controls(box(TWO), "B0 63 01 62 09 61 00 61 00 61 7F", 1, 2, 3) == (1, 0, 3)


def test_coarse_tuning_steps_by_its_upper_half() -> None:
    assert controls(box(TWO), "B0 65 00 64 02 60 00", 1, 2, 3) == (1, 2, 131)


def test_step_from_what_is_not_known_leads_somewhere() -> None:
    assert controls(box(TWO), "B0 63 01 62 09 60 00", 1, Half(3, None), 3) == (1, Moved(96), 3)


def test_numbers_wait_and_data_moves() -> None:
    said = told(box(TWO), "B0 63 01 62 08 06 03 26 54")
    assert [(t.moved, t.noted) for t in said] == [
        ((), True),
        ((), True),
        (("time",), False),
        (("time",), False),
    ]


def test_parameter_of_a_choice_reloads_what_it_resets() -> None:
    one = box(
        "controls: {mode: {kind: choice, nrpn: [1, 1], data: 7, values: {a: 0, b: 1}, resets: [mix]},"
        " mix: {kind: level, cc: 21, range: [0, 1]}}"
    )
    assert controls(one, "B0 06 01", 0, 5) == (UNKNOWN, UNKNOWN)
