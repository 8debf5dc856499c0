"""The bytes of every carrier, worked out by hand from the standards, from a definition's YAML.

MIDI 1.0 Detailed Specification 4.2.1 unless a line says otherwise; all on channel 2, whose status bytes
end in 1 (Table I, p. T-1).
"""

from __future__ import annotations

import pytest

from switchmatrix.controls import encode, read
from switchmatrix.definition.carriers import Carrier, least_code, most_code
from switchmatrix.definition.values import Misread
from tests.definition.kit import control, programs, sent
from tests.definition.matrix import CARRIERS

WHOLE = "kind: level, range: [0, 16383]"
SEVEN = "kind: level, range: [0, 127]"


def carried(text: str, code: int, **wire: int) -> str:
    """The bytes of a code of a control."""
    return sent(control(text), code, id=wire.get("id"), was=wire.get("was"))


def said(text: str, value: str, id: int | None = None) -> str:
    """The bytes of what a person says to a control."""
    made = control(text)
    reading = read(made, value)
    assert not isinstance(reading, Misread)
    return sent(made, encode(made, reading), id=id)


# p. 11-12: a controller of fourteen bits is its MSB, then its LSB, whose number is usually 32 higher;
# 8192 is 40 00 and 16383 is 7F 7F. Other pairs are common practice.
@pytest.mark.parametrize(
    ("pair", "code", "listed"),
    [
        ("[7, 39]", 8192, "B1 07 40 B1 27 00"),
        ("[7, 39]", 16383, "B1 07 7F B1 27 7F"),
        ("[7, 39]", 0, "B1 07 00 B1 27 00"),
        ("[7, 39]", 127, "B1 07 00 B1 27 7F"),
        ("[7, 39]", 128, "B1 07 01 B1 27 00"),
        ("[39, 7]", 129, "B1 27 01 B1 07 01"),
        ("[102, 70]", 10000, "B1 66 4E B1 46 10"),
        ("[20, 21]", 300, "B1 14 02 B1 15 2C"),
    ],
)
def test_fourteen_bits_travel_as_msb_then_lsb(pair: str, code: int, listed: str) -> None:
    assert carried(f"{WHOLE}, cc14: {pair}", code) == listed


# p. 12: for a fine change the LSB may be sent alone.
@pytest.mark.parametrize(
    ("was", "code", "listed"),
    [
        (8192, 8193, "B1 27 01"),
        (8319, 8192, "B1 27 00"),
        (8191, 8192, "B1 07 40 B1 27 00"),
        (8192, 8320, "B1 07 41 B1 27 00"),
    ],
)
def test_lsb_travels_alone_where_the_msb_stands(was: int, code: int, listed: str) -> None:
    assert carried(f"{WHOLE}, cc14: [7, 39]", code, was=was) == listed


# p. 17-18 and Table III (p. T-3): an NRPN's number is CC 99 and 98, its data CC 6 and 38; the null
# number is 7F 7F.
@pytest.mark.parametrize(
    ("keys", "code", "listed"),
    [
        ("data: 7", 64, "B1 63 01 B1 62 08 B1 06 40"),
        ("data: 7, close: no", 0, "B1 63 01 B1 62 08 B1 06 00"),
        ("data: 7, close: yes", 127, "B1 63 01 B1 62 08 B1 06 7F B1 63 7F B1 62 7F"),
        ("data: 14", 8192, "B1 63 01 B1 62 08 B1 06 40 B1 26 00"),
        ("data: 14", 16383, "B1 63 01 B1 62 08 B1 06 7F B1 26 7F"),
        ("data: 14, close: yes", 200, "B1 63 01 B1 62 08 B1 06 01 B1 26 48 B1 63 7F B1 62 7F"),
    ],
)
def test_nrpn_is_its_number_and_its_data(keys: str, code: int, listed: str) -> None:
    reach = "[0, 16383]" if "14" in keys else "[0, 127]"
    assert carried(f"kind: level, range: {reach}, nrpn: [1, 8], {keys}", code) == listed


# The number is sent every time: another control may have set it (p. 17, rule 4).
def test_nrpn_sends_its_number_also_where_the_value_is_known() -> None:
    text = f"{WHOLE}, nrpn: [1, 8], data: 14"
    assert carried(text, 8193, was=8192) == "B1 63 01 B1 62 08 B1 06 40 B1 26 01"


# Table IIIa (p. T-4): RPN 00 00 is pitch bend sensitivity, its MSB semitones and its LSB cents. A range
# of 12 semitones, closed by the null number (p. 18).
def test_rpn_sets_the_pitch_bend_range() -> None:
    text = "kind: level, rpn: [0, 0], data: 14, range: [0 semitones, 24 semitones], codes: [0, 3072]"
    assert said(text, "12 semitones") == "B1 65 00 B1 64 00 B1 06 0C B1 26 00 B1 65 7F B1 64 7F"


# Table IIIa (p. T-4): RPN 00 02 is coarse tuning, MSB only; 40 is no change.
@pytest.mark.parametrize(
    ("keys", "listed"),
    [
        ("data: 7", "B1 65 00 B1 64 02 B1 06 41 B1 65 7F B1 64 7F"),
        ("data: 7, close: yes", "B1 65 00 B1 64 02 B1 06 41 B1 65 7F B1 64 7F"),
        ("data: 7, close: no", "B1 65 00 B1 64 02 B1 06 41"),
    ],
)
def test_rpn_is_closed_unless_it_says_otherwise(keys: str, listed: str) -> None:
    text = f"kind: level, rpn: [0, 2], {keys}, range: [-64 semitones, 63 semitones]"
    assert said(text, "1 semitones") == listed


# Table II (p. T-2) and p. 13: bank select goes before the program change it is for.
@pytest.mark.parametrize(
    ("select", "bank", "listed"),
    [
        ("cc0", 3, "B1 00 02 C1 05"),
        ("cc32", 3, "B1 20 02 C1 05"),
        ("both", 3, "B1 00 00 B1 20 02 C1 05"),
        ("both", 129, "B1 00 01 B1 20 00 C1 05"),
    ],
)
def test_program_of_a_control_goes_with_its_bank(select: str, bank: int, listed: str) -> None:
    scheme = f"count: 128, first: 1, bank: {select}, bank-when: always"
    made = control(f"kind: choice, program: yes, bank: {bank}, values: {{left: 5, right: 6}}", scheme)
    assert sent(made, 5, bank=programs(scheme).bank) == listed


def test_program_of_a_control_without_banks_is_the_program_change_alone() -> None:
    assert said("kind: choice, program: yes, values: {left: 5, right: 6}", "right") == "C1 06"


# p. 10: 9n key velocity; 8n lets it go, and 64 is what a sender without release velocity sends.
@pytest.mark.parametrize(
    ("keys", "listed"),
    [("", "91 3C 64"), (", release: yes", "91 3C 64 81 3C 40"), (", codes: {fire: 1}", "91 3C 01")],
)
def test_note_is_struck_and_let_go_where_it_says_so(keys: str, listed: str) -> None:
    fire = "" if "codes" in keys else ", codes: {fire: 100}"
    assert said(f"kind: trigger, note: 60{keys}{fire}", "now") == listed


# p. 19: LSB first; 00 00 is the lowest, 00 40 the centre, 7F 7F the highest.
@pytest.mark.parametrize(
    ("value", "listed"),
    [("-100 %", "E1 00 00"), ("0 %", "E1 00 40"), ("100 %", "E1 7F 7F"), ("50 %", "E1 00 60")],
)
def test_pitch_bend_stands_where_it_is_told(value: str, listed: str) -> None:
    assert said("kind: level, pitch-bend: yes, range: [-100 %, 100 %], centre: 8192", value) == listed


# Table II (p. T-2): Dn and one byte.
@pytest.mark.parametrize(("code", "listed"), [(0, "D1 00"), (127, "D1 7F")])
def test_channel_pressure_is_one_byte(code: int, listed: str) -> None:
    assert carried(f"{SEVEN}, channel-pressure: yes", code) == listed


# p. 57: Master Volume is F0 7F id 04 01, LSB, MSB, F7; 00 00 is off and 7F 7F full.
@pytest.mark.parametrize(
    ("value", "listed"),
    [
        ("0", "F0 7F 05 04 01 00 00 F7"),
        ("8192", "F0 7F 05 04 01 00 40 F7"),
        ("8193", "F0 7F 05 04 01 01 40 F7"),
        ("16383", "F0 7F 05 04 01 7F 7F F7"),
    ],
)
def test_master_volume_is_a_template(value: str, listed: str) -> None:
    text = f"{WHOLE}, sysex: {{body: [0x7F, id, 0x04, 0x01, value-lsb, value-msb]}}"
    assert said(text, value, id=5) == listed


# p. 54: the bar number of a bar marker is a signed number of fourteen bits, LSB first; 00 40 is the
# lowest and 7F 3F the highest.
@pytest.mark.parametrize(
    ("value", "listed"),
    [
        ("-8192", "F0 7F 05 03 01 00 40 F7"),
        ("-1", "F0 7F 05 03 01 7F 7F F7"),
        ("0", "F0 7F 05 03 01 00 00 F7"),
        ("1", "F0 7F 05 03 01 01 00 F7"),
        ("8191", "F0 7F 05 03 01 7F 3F F7"),
    ],
)
def test_signed_number_travels_as_twos_complement(value: str, listed: str) -> None:
    template = "{body: [0x7F, id, 0x03, 0x01, value-lsb, value-msb], signed: yes}"
    text = f"kind: level, range: [-8192, 8191], sysex: {template}"
    assert said(text, value, id=5) == listed


# Two's complement and offset binary of seven bits, worked out: 64 is 40, -1 is 7F signed and 3F offset.
@pytest.mark.parametrize(
    ("value", "signed", "offset"),
    [("-64", "40", "00"), ("-1", "7F", "3F"), ("0", "00", "40"), ("63", "3F", "7F")],
)
def test_one_byte_is_offset_binary_unless_it_is_signed(value: str, signed: str, offset: str) -> None:
    text = "kind: level, range: [-64, 63], sysex: {body: [0x7D, 1, value]"
    assert (said(f"{text}, signed: yes}}", value), said(f"{text}}}", value)) == (
        f"F0 7D 01 {signed} F7",
        f"F0 7D 01 {offset} F7",
    )


# MMA RP-050 (MIDI Visual Control 1.0), 2.3.2: SUM makes the low seven bits of address, data and SUM
# zero. The addresses and data of the first four rows are printed in 2.3.3 and 2.3.5; the sums are worked
# out from 2.3.2. The last rows come to 128, whose sum is 00 and never 80.
@pytest.mark.parametrize(
    ("address", "data", "listed"),
    [
        ("0x10, 0x00, 0x00", 0x01, "10 00 00 01 6F"),
        ("0x10, 0x00, 0x00", 0x00, "10 00 00 00 70"),
        ("0x10, 0x30, 0x01", 0x02, "10 30 01 02 3D"),
        ("0x40, 0x00, 0x7F", 0x00, "40 00 7F 00 41"),
        ("0x40, 0x00, 0x00", 0x40, "40 00 00 40 00"),
        ("0x00, 0x00, 0x7F", 0x01, "00 00 7F 01 00"),
    ],
)
def test_checksum_makes_the_low_seven_bits_zero(address: str, data: int, listed: str) -> None:
    text = f"{SEVEN}, sysex: {{body: [0x7E, id, 0x0C, 0x01, {address}, value, checksum], checksum: [5, 8]}}"
    assert carried(text, data, id=0x11) == f"F0 7E 11 0C 01 {listed} F7"


# The same, 2.3.3: two data bytes after one address; 0E 0E is 14 * 128 + 14.
def test_checksum_is_over_both_bytes_of_a_value() -> None:
    body = "0x7E, id, 0x0C, 0x01, 0x10, 0x00, 0x01, value-msb, value-lsb, checksum"
    text = f"{WHOLE}, sysex: {{body: [{body}], checksum: [5, 9]}}"
    assert carried(text, 1806, id=0) == "F0 7E 00 0C 01 10 00 01 0E 0E 53 F7"


# 2.3.2 over the device's id too, and with the checksum in the middle: 05 + 12 + 69 is 80, so 00.
def test_checksum_may_be_over_the_id_and_stand_before_what_follows() -> None:
    text = f"{SEVEN}, sysex: {{body: [0x7D, id, 0x12, value, checksum, 0x01], checksum: [2, 4]}}"
    assert carried(text, 0x69, id=5) == "F0 7D 05 12 69 00 01 F7"


def test_template_without_a_value_is_sent_as_it_stands() -> None:
    assert said("kind: trigger, sysex: {body: [0x7D, id, 0x01]}", "now", id=126) == "F0 7D 7E 01 F7"


def test_template_with_an_id_is_not_sent_to_a_device_without_one() -> None:
    made = control(f"{SEVEN}, sysex: {{body: [0x7D, id, value]}}")
    with pytest.raises(ValueError, match="the device has none"):
        sent(made, 1)


# A data byte has seven bits (p. 6); a velocity of 0 is a Note Off (p. 10); the rest hold two bytes.
@pytest.mark.parametrize(
    ("carrier", "codes"),
    [
        ("cc", (0, 127)),
        ("cc14", (0, 16383)),
        ("nrpn, 7 bits", (0, 127)),
        ("nrpn, 14 bits", (0, 16383)),
        ("rpn, 7 bits", (0, 127)),
        ("rpn, 14 bits", (0, 16383)),
        ("program", (0, 127)),
        ("note", (1, 127)),
        ("pitch-bend", (0, 16383)),
        ("channel-pressure", (0, 127)),
        ("sysex, one byte", (0, 127)),
        ("sysex, two bytes", (0, 16383)),
    ],
)
def test_carrier_holds_the_codes_of_its_bytes(carrier: str, codes: tuple[int, int]) -> None:
    made: Carrier = control(f"kind: trigger, {CARRIERS[carrier]}").carrier
    assert (least_code(made), most_code(made)) == codes
