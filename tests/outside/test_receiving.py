"""What a receiver hears, against the MIDI 1.0 Detailed Specification 4.2.1, its addenda, and mido.

Page numbers are those of the Detailed Specification.
"""

from __future__ import annotations

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.midi.numbers import Address, WireBank, WireProgram
from switchmatrix.simulate.standing import UNKNOWN, Halves
from switchmatrix.simulate.stream import Common, Event, Exclusive, Reader, RealTime, Voice, heard
from tests.simulate.boxes import box, controls, now, start


def as_bytes(event: Event) -> list[int]:
    """The event written out, its status included."""
    match event:
        case Voice(nibble, channel, data):
            return [nibble << 4 | channel, *data]
        case Exclusive(body, closed):
            return [0xF0, *body, 0xF7] if closed else [0xF0, *body]
        case Common(status, data):
            return [status, *data]
        case RealTime(status):
            return [status]


def read(text: str) -> list[str]:
    """Each message heard, as hex."""
    return [bytes(as_bytes(event)).hex(" ").upper() for event in heard(bytes.fromhex(text))]


# Running status


# The vectors are printed on pages.
@pytest.mark.parametrize(
    ("sent", "messages"),
    [
        ("90 3C 27 40 2B 43 25", ["90 3C 27", "90 40 2B", "90 43 25"]),
        ("90 3C 27 3C 00 3E 29", ["90 3C 27", "90 3C 00", "90 3E 29"]),
        ("B0 7C 00 01 37", ["B0 7C 00", "B0 01 37"]),
    ],
)
def test_printed_running_status_is_the_full_form(sent: str, messages: list[str]) -> None:
    assert read(sent) == messages


# Page 5 and: system exclusive and system common clear it, F4 and F5 too, which are undefined.
@pytest.mark.parametrize("between", ["F0 7D F7", "F1 00", "F2 00 00", "F3 00", "F4", "F5", "F6", "F7"])
def test_running_status_is_cleared_by_system_exclusive_and_common(between: str) -> None:
    assert [m for m in read(f"B0 07 10 {between} 08 20") if m.startswith("B0")] == ["B0 07 10"]


# Page 5 and: real time leaves it alone, F9 and FD too, which are undefined.
@pytest.mark.parametrize("between", ["F8", "F9", "FA", "FB", "FC", "FD", "FE", "FF"])
def test_running_status_is_kept_through_real_time(between: str) -> None:
    assert [m for m in read(f"B0 07 10 {between} 08 20") if m.startswith("B0")] == ["B0 07 10", "B0 08 20"]


# Page A-2: who is plugged in late understands nothing until the next status.
def test_data_before_any_status_is_ignored() -> None:
    assert read("07 10 3C B0 07 10") == ["B0 07 10"]


# Page 5: a running status is for voice and mode messages only.
def test_system_common_has_no_running_status() -> None:
    assert read("F3 05 06 F2 10 20 11 21") == ["F3 05", "F2 10 20"]


# Real time


# Pages 5 and 30: between any two bytes.
@pytest.mark.parametrize(
    ("sent", "messages"),
    [
        ("90 F8 3C F8 27", ["F8", "F8", "90 3C 27"]),
        ("90 3C F8 27 40 FE 2B", ["F8", "90 3C 27", "FE", "90 40 2B"]),
        ("F2 10 FA 20", ["FA", "F2 10 20"]),
        ("B0 07 FD 10", ["B0 07 10"]),
    ],
)
def test_real_time_stands_inside_a_message(sent: str, messages: list[str]) -> None:
    assert read(sent) == messages


# Page T-8, note 2.
def test_real_time_stands_inside_system_exclusive() -> None:
    assert read("F0 7D 01 F8 02 F9 F7") == ["F8", "F0 7D 01 02 F7"]


# System exclusive


# Pages 5, 29 and T-8: any status but real time ends it.
@pytest.mark.parametrize("status", ["B0 07 10", "F1 00", "F4", "F5", "F6", "F0 01 F7"])
def test_any_other_status_ends_system_exclusive(status: str) -> None:
    assert heard(bytes.fromhex(f"F0 7D 01 {status}"))[0] == Exclusive((0x7D, 1), closed=False)


# RFC 6295, section 3.2: F7 by itself means nothing on a cable.
def test_end_of_exclusive_without_a_beginning_is_nothing() -> None:
    assert read("F7 B0 07 10") == ["B0 07 10"]


# Table I (p. T-1): how many data bytes each status takes.
@pytest.mark.parametrize(
    "message", ["80 3C 40", "90 3C 40", "A0 3C 40", "BF 07 40", "CF 7F", "D0 40", "E0 00 40"]
)
def test_each_status_takes_its_data_bytes(message: str) -> None:
    assert read(f"{message} FE") == [message, "FE"]


# Pitch bend


BENT = "controls: {cutoff: {kind: level, pitch-bend: yes, range: [0, 16383]}}"


# Page 19: least, centre and most; Table I: least significant byte first.
@pytest.mark.parametrize(("sent", "code"), [("E0 00 00", 0), ("E0 00 40", 8192), ("E0 7F 7F", 16383)])
def test_pitch_bend_is_least_significant_byte_first(sent: str, code: int) -> None:
    assert controls(box(BENT), sent) == (code,)


# Bank select


BANKED = """\
programs: {count: 16384, first: 0, bank: both, bank-when: change, settle: 1 ms, repeat: recalls}
controls: {mix: {kind: level, cc: 21, range: [0, 127]}}"""


def called(bank: int, number: int) -> Address:
    """A patch as the wire has it."""
    return Address(WireBank(bank), WireProgram(number))


# Page 13: bank select alone does not change the sound.
def test_bank_select_waits_for_the_program_change() -> None:
    one = box(BANKED)
    assert now(one, "B0 00 00 B0 20 02", start(one, patch=called(1, 5), bank=1)).patch == called(1, 5)


# Page 13: it takes effect at the program change.
def test_program_change_calls_from_the_bank_selected_before_it() -> None:
    assert now(box(BANKED), "B0 00 00 B0 20 02 C0 05").patch == called(2, 5)


# Page 13: program changes that follow stay in the bank.
def test_lone_program_changes_stay_in_the_bank() -> None:
    assert now(box(BANKED), "B0 00 00 B0 20 02 C0 05 C0 06").patch == called(2, 6)


# Page 14 counts from 1: bank 1 is 00 00, 128 is 00 7F, 129 is 01 00, 16,384 is 7F 7F. A unit of as
# many programs as a panel can be said to have holds all of them.
@pytest.mark.parametrize(
    ("upper", "lower", "bank"), [("00", "00", 1), ("00", "7F", 128), ("01", "00", 129), ("7F", "7F", 16384)]
)
def test_bank_is_128_times_the_msb_and_the_lsb(upper: str, lower: str, bank: int) -> None:
    whole = BANKED.replace("count: 16384", f"count: {128 * 16384}")
    assert now(box(whole), f"B0 00 {upper} B0 20 {lower} C0 00").patch == called(bank - 1, 0)


# M2-107-UM 2.3, worked out from Table I: MSB 121, LSB 2, program 49, with running status.
def test_worked_bank_message_calls_its_patch() -> None:
    whole = BANKED.replace("count: 16384", f"count: {128 * 16384}")
    assert now(box(whole), "B0 00 79 20 02 C0 31").patch == called(121 * 128 + 2, 49)


# 14-bit controllers


PAIR = "controls: {time: {kind: level, cc14: [12, 44], range: [0, 16383]}}"


# Page 12: volume 8192 is MSB 40, LSB 00; value = 128 MSB + LSB.
@pytest.mark.parametrize(
    ("sent", "code"), [("B0 0C 40 B0 2C 00", 8192), ("B0 0C 7F 2C 7F", 16383), ("B0 0C 03 2C 54", 468)]
)
def test_14_bits_are_msb_then_lsb(sent: str, code: int) -> None:
    assert controls(box(PAIR), sent) == (code,)


# Page 12: the LSB alone is a fine change.
def test_lsb_alone_leaves_the_msb() -> None:
    assert controls(box(PAIR), "B0 2C 05", 468) == (3 * 128 + 5,)


# Page 12: a receiver takes the LSB as 0 when the MSB comes.
def test_msb_zeroes_the_lsb_by_the_standard() -> None:
    assert controls(box(PAIR, halves=Halves.ZEROED), "B0 0C 07", 468) == (7 * 128,)


# Common practice: not every box does so.
def test_msb_keeps_the_lsb_in_a_box_that_keeps_it() -> None:
    assert controls(box(PAIR, halves=Halves.KEPT), "B0 0C 07", 468) == (7 * 128 + 84,)


# Parameter numbers


BEND_RANGE = """\
controls:
  range: {kind: level, rpn: [0, 0], data: 14, range: [0, 16383]}
  tune: {kind: level, rpn: [0, 2], data: 7, range: [0, 127]}
  depth: {kind: level, nrpn: [1, 8], data: 7, range: [0, 127]}"""


# Table IIIa (p. T-4): bend range of 12 semitones is RPN 00 00, data entry 0C 00; worked out from it.
def test_registered_parameter_takes_data_entry() -> None:
    assert controls(box(BEND_RANGE), "B0 65 00 64 00 06 0C 26 00") == (12 * 128, UNKNOWN, UNKNOWN)


# Page 50 sends the halves of the number the other way round: `Bn 64 03 65 00 06 tt`.
def test_halves_of_the_number_come_in_either_order() -> None:
    assert controls(box(BEND_RANGE), "B0 64 02 65 00 06 41") == (UNKNOWN, 0x41, UNKNOWN)


# Page 17: NRPN is the same with CC 99 and 98.
def test_non_registered_parameter_takes_data_entry() -> None:
    assert controls(box(BEND_RANGE), "B0 63 01 62 08 06 40") == (UNKNOWN, UNKNOWN, 0x40)


# Table IIIa (p. T-4): 7F 7F addresses nothing until a new number comes.
def test_null_parameter_takes_no_data() -> None:
    assert controls(box(BEND_RANGE), "B0 65 7F 64 7F 06 0C 26 01 60 00", 5, 6, 7) == (5, 6, 7)


# Page 17: the number stays chosen, and whichever of the two kinds came last is the one.
def test_one_kind_of_number_displaces_the_other() -> None:
    sent = "B0 65 00 64 02 63 01 62 08 06 40 65 00 64 02 06 41"
    assert controls(box(BEND_RANGE), sent) == (UNKNOWN, 0x41, 0x40)


# RP-018 prints `B0 65 00 B0 64 00 B0 60 00 B0 60 00 B0 65 7F B0 64 7F`: the bend range grows by 2 cents,
# its lower half.
def test_printed_increments_move_the_bend_range_by_two_cents() -> None:
    sent = "B0 65 00 B0 64 00 B0 60 00 B0 60 00 B0 65 7F B0 64 7F"
    assert controls(box(BEND_RANGE), sent, 256, 64, 0) == (258, 64, 0)


# RP-015: Reset All Controllers leaves the null parameter.
def test_reset_all_controllers_leaves_no_parameter_addressed() -> None:
    assert controls(box(BEND_RANGE), "B0 65 00 64 02 79 00 06 41", 5, 6, 7) == (5, 6, 7)


def test_reset_all_controllers_sets_both_halves_of_the_null_parameter() -> None:
    one = box("controls: {it: {kind: level, rpn: [127, 2], data: 7, range: [0, 127]}}")
    assert controls(one, "B0 65 7F 64 02 79 00 06 41", 5) == (5,)


# Notes


# Page 10 and Table I: velocity 0 is a Note Off.
def test_note_on_at_velocity_0_strikes_nothing() -> None:
    one = box("controls: {sample: {kind: level, note: 60, range: [1, 127]}}")
    assert controls(one, "90 3C 00 80 3C 40", 50) == (50,)


# Checksums


SUMMED = """\
controls:
  level:
    kind: level
    range: [0, 127]
    sysex: {body: [0x7D, 0x10, 0x30, 0x01, value, checksum], checksum: [2, 5]}"""


# RP-050, section 2.3.2 (low seven bits of address, data and sum are zero): 10 30 01 and 02 of example 2 in
# 2.3.3 add up to 67, so 3D; 3F makes the sum 128, and the checksum is 00, not 80. Worked out from it.
@pytest.mark.parametrize(
    ("data", "sum", "code"), [("02", "3D", 2), ("02", "3E", 7), ("3F", "00", 63), ("3F", "01", 7)]
)
def test_exclusive_counts_where_its_checksum_is_right(data: str, sum: str, code: int) -> None:
    assert controls(box(SUMMED), f"F0 7D 10 30 01 {data} {sum} F7", 7) == (code,)


# mido 1.3.3, on what its parser reads rightly: no running status, and real time between messages or inside
# system exclusive only. It passes over F4 and F5 inside system exclusive, which the standard says end it.


seven = st.integers(0, 127)


def full(status: int) -> st.SearchStrategy[bytes]:
    """A whole channel or system common message."""
    size = {0xC0: 1, 0xD0: 1}.get(status & 0xF0, 2)
    size = {0xF1: 1, 0xF2: 2, 0xF3: 1, 0xF6: 0}.get(status, size)
    return st.lists(seven, min_size=size, max_size=size).map(lambda data: bytes([status, *data]))


voices = st.integers(0x80, 0xEF).flatmap(full)
commons = st.sampled_from((0xF1, 0xF2, 0xF3, 0xF6)).flatmap(full)
real_times = st.integers(0xF8, 0xFF).map(lambda status: bytes([status]))
bodies = st.lists(seven.map(lambda byte: bytes([byte])) | real_times, max_size=8).map(b"".join)
exclusives = bodies.map(lambda body: b"\xf0" + body + b"\xf7")
cut_short = bodies.map(lambda body: b"\xf0" + body + b"\xb0\x07\x10")
broken_off = voices.map(lambda message: message[:-1] + b"\xc0\x05")
undefined = st.sampled_from((b"\xf4", b"\xf5", b"\xf7"))
wires = st.lists(
    voices | commons | real_times | exclusives | cut_short | broken_off | undefined, max_size=30
).map(b"".join)


@given(wires)
def test_random_streams_are_heard_as_mido_hears_them(wire: bytes) -> None:
    parser = mido.Parser()
    parser.feed(wire)
    ours = [as_bytes(e) for e in heard(wire) if not isinstance(e, Exclusive) or e.closed]
    assert ours == [message.bytes() for message in parser]


@given(wires | st.binary(max_size=200), st.lists(st.integers(0, 200), max_size=10))
def test_stream_is_heard_alike_however_it_is_split(wire: bytes, cuts: list[int]) -> None:
    reader = Reader()
    ends = [0, *sorted(cuts), len(wire)]
    pieces = [wire[ends[n] : ends[n + 1]] for n in range(len(ends) - 1)]
    assert tuple(event for piece in pieces for event in reader.feed(piece)) == heard(wire)
