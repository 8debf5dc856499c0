"""System exclusive templates: ids, halves, two's complement, checksums."""

from __future__ import annotations

import pytest

from switchmatrix.simulate.standing import UNKNOWN
from tests.simulate.boxes import box, controls, now


def template(body: str, rest: str = "", range: str = "[0, 127]") -> str:
    """A definition of one level that travels as system exclusive."""
    return f"controls: {{it: {{kind: level, range: {range}, sysex: {{body: [{body}]{rest}}}}}}}"


def test_body_carries_the_code() -> None:
    assert controls(box(template("0x7D, 0x12, value")), "F0 7D 12 40 F7", 5) == (0x40,)


@pytest.mark.parametrize("sent", ["F0 7D 13 40 F7", "F0 7D 12 F7", "F0 7D 12 40 00 F7", "F0 F7"])
def test_other_body_is_ignored(sent: str) -> None:
    assert controls(box(template("0x7D, 0x12, value")), sent, 5) == (5,)


def test_real_time_inside_the_body_does_no_harm() -> None:
    assert controls(box(template("0x7D, 0x12, value")), "F0 7D F8 12 40 FE F7", 5) == (0x40,)


@pytest.mark.parametrize(("id", "code"), [("02", 0x40), ("03", 5), ("7F", 0x40)])
def test_box_answers_to_its_own_id_and_to_that_of_all(id: str, code: int) -> None:
    assert controls(box(template("0x7D, id, value"), "channel: 1, id: 2"), f"F0 7D {id} 40 F7", 5) == (code,)


@pytest.mark.parametrize(
    ("slots", "sent"), [("value-msb, value-lsb", "03 54"), ("value-lsb, value-msb", "54 03")]
)
def test_halves_stand_where_the_template_has_them(slots: str, sent: str) -> None:
    one = box(template(f"0x7D, {slots}", range="[0, 16383]"))
    assert controls(one, f"F0 7D {sent} F7") == (468,)


# Seven bits of two's complement: 40 is -64, 7F is -1, 00 is 0, 3F is 63.
@pytest.mark.parametrize(("byte", "code"), [("40", 0), ("7F", 63), ("00", 64), ("3F", 127)])
def test_signed_byte_is_twos_complement_about_the_middle_code(byte: str, code: int) -> None:
    assert controls(box(template("0x7D, value", ", signed: yes")), f"F0 7D {byte} F7") == (code,)


# Fourteen bits: 40 00 is -8192, 7F 7F is -1, 00 00 is 0, 3F 7F is 8191.
@pytest.mark.parametrize(
    ("bytes_", "code"), [("40 00", 0), ("7F 7F", 8191), ("00 00", 8192), ("3F 7F", 16383)]
)
def test_signed_pair_is_twos_complement_about_the_middle_code(bytes_: str, code: int) -> None:
    one = box(template("0x7D, value-msb, value-lsb", ", signed: yes", "[0, 16383]"))
    assert controls(one, f"F0 7D {bytes_} F7") == (code,)


@pytest.mark.parametrize(("sum", "code"), [("38", 0x40), ("39", 5), ("48", 5)])
def test_wrong_checksum_is_ignored(sum: str, code: int) -> None:
    one = box(template("0x7D, 0x08, value, checksum", ", checksum: [2, 3]"))
    assert controls(one, f"F0 7D 08 40 {sum} F7", 5) == (code,)


def test_exclusive_cut_off_by_a_status_may_have_counted_or_not() -> None:
    assert controls(box(template("0x7D, 0x12, value")), "F0 7D 12 40 B0 07 10", 5) == (UNKNOWN,)


def test_trigger_without_a_value_goes_off() -> None:
    one = box("controls: {bell: {kind: trigger, sysex: {body: [0x7D, 0x01]}}}")
    assert now(one, "F0 7D 01 F7").fired == ((0, 127),)
