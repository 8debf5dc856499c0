"""Channel messages against the MIDI 1.0 Detailed Specification 4.2.1 and against mido."""

from __future__ import annotations

import mido
import pytest
from mido.messages.decode import decode_message

from switchmatrix.definition.carriers import CcCarrier, ProgramCarrier, most_code
from switchmatrix.midi.messages import ControlChange, Message, ProgramChange, encode
from switchmatrix.midi.numbers import ChannelNumber, WireChannel, wire_channel
from switchmatrix.midi.wire import DIN_BYTE_US, wire_time_us

CHANNELS = range(1, 17)
SEVEN_BITS = range(128)


# Table I, p. T-1: Bn is Control Change with two data bytes, Cn is Program Change with one; n is the
# channel less one, 0000 for channel 1 and 1111 for channel 16.
@pytest.mark.parametrize(
    ("message", "listed"),
    [
        (ControlChange(WireChannel(0), 0, 1), "B0 00 01"),
        (ControlChange(WireChannel(2), 80, 127), "B2 50 7F"),
        (ControlChange(WireChannel(15), 119, 0), "BF 77 00"),
        (ProgramChange(WireChannel(0), 0), "C0 00"),
        (ProgramChange(WireChannel(15), 127), "CF 7F"),
    ],
)
def test_status_byte_is_the_message_and_the_channel_nibble(message: Message, listed: str) -> None:
    assert encode(message) == bytes.fromhex(listed)


# Table I, notes (p. T-1).
def test_channel_1_is_nibble_0_and_channel_16_is_nibble_15() -> None:
    assert [wire_channel(ChannelNumber(channel)) for channel in CHANNELS] == list(range(16))


# RP-001 p. 12: channel 1 calls program 5, channel 2 program 46, channel 3 program 70.
def test_program_changes_of_the_worked_file_come_out_alike() -> None:
    programs = [ProgramChange(wire_channel(ChannelNumber(c)), p) for c, p in ((1, 5), (2, 46), (3, 70))]
    assert [encode(message).hex(" ").upper() for message in programs] == ["C0 05", "C1 2E", "C2 46"]


# M2-107-UM 2.3 calls MSB 121, LSB 2, program 49; the bytes on channel 1 are worked out from Table I.
def test_bank_pair_and_program_are_the_bytes_of_the_worked_message() -> None:
    channel = wire_channel(ChannelNumber(1))
    sent: list[Message] = [
        ControlChange(channel, 0, 121),
        ControlChange(channel, 32, 2),
        ProgramChange(channel, 49),
    ]
    assert b"".join(encode(message) for message in sent) == bytes.fromhex("B0 00 79 B0 20 02 C0 31")


# A second encoder: mido 1.3.3.
@pytest.mark.parametrize("channel", range(16))
def test_mido_reads_every_control_change_as_we_meant_it(channel: int) -> None:
    wire = WireChannel(channel)
    sent = [ControlChange(wire, controller, value) for controller in SEVEN_BITS for value in SEVEN_BITS]
    assert [decode_message(encode(message)) for message in sent] == [
        {"type": "control_change", "channel": channel, "control": m.controller, "value": m.value, "time": 0}
        for m in sent
    ]


@pytest.mark.parametrize("channel", range(16))
def test_mido_writes_every_program_change_as_we_do(channel: int) -> None:
    assert [encode(ProgramChange(WireChannel(channel), p)) for p in SEVEN_BITS] == [
        bytes(mido.Message("program_change", channel=channel, program=p).bytes()) for p in SEVEN_BITS
    ]


@pytest.mark.parametrize("channel", range(16))
def test_mido_writes_every_controller_at_its_ends_as_we_do(channel: int) -> None:
    assert [encode(ControlChange(WireChannel(channel), c, v)) for c in SEVEN_BITS for v in (0, 64, 127)] == [
        bytes(mido.Message("control_change", channel=channel, control=c, value=v).bytes())
        for c in SEVEN_BITS
        for v in (0, 64, 127)
    ]


# Bit 7 of a data byte is always 0, so 128 can never be sent (p. 6); there is no channel 17 (Table I).
@pytest.mark.parametrize(
    "message",
    [
        ControlChange(WireChannel(0), 128, 0),
        ControlChange(WireChannel(0), 0, 128),
        ControlChange(WireChannel(0), -1, 0),
        ControlChange(WireChannel(0), 0, -1),
        ControlChange(WireChannel(16), 0, 0),
        ControlChange(WireChannel(-1), 0, 0),
        ProgramChange(WireChannel(0), 128),
        ProgramChange(WireChannel(0), -1),
        ProgramChange(WireChannel(16), 0),
    ],
)
def test_number_that_no_message_holds_is_refused(message: Message) -> None:
    with pytest.raises(ValueError, match=r"is not 0-1"):
        encode(message)


# A data byte has seven bits (p. 6): both carriers hold codes up to 127.
def test_both_carriers_hold_seven_bits() -> None:
    assert (most_code(CcCarrier(20)), most_code(ProgramCarrier(None))) == (0x7F, 0x7F)


# 31,250 baud and ten bits a byte (p. 1): 320 microseconds; p. 9 states 960 for a message of three bytes.
# The other products are worked out from that.
@pytest.mark.parametrize(
    ("count", "microseconds"), [(0, 0), (1, 320), (2, 640), (3, 960), (5, 1600), (7, 2240), (8, 2560)]
)
def test_bytes_take_their_time_on_a_din_line(count: int, microseconds: int) -> None:
    assert wire_time_us(count, DIN_BYTE_US) == microseconds


# Eight bytes each, every message with its status byte: worked out from p. 1.
def test_sixteen_bank_pairs_with_their_programs_take_40_960_microseconds() -> None:
    assert wire_time_us(16 * (3 + 3 + 2), DIN_BYTE_US) == 40_960


def test_din_byte_is_ten_bits_at_31_250_baud() -> None:
    assert DIN_BYTE_US * 31_250 == 10 * 1_000_000
