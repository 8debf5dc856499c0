"""Programs and banks on the wire, from a definition's YAML.

MIDI 1.0 Detailed Specification 4.2.1, p. 13-14 and 18; MIDI-CI ProgramList 1.01 (M2-107-UM), 2.3.
"""

from __future__ import annotations

import pytest

from switchmatrix.controls.program import messages
from switchmatrix.definition.programs import Programs
from switchmatrix.midi.messages import encode
from switchmatrix.midi.numbers import ChannelNumber, wire_channel
from tests.definition.kit import programs
from tests.support import judged, timed


def called(made: Programs, label: str) -> str:
    """The bytes that call a program on channel 1, bank select before it."""
    position = made.position(label)
    assert position is not None
    address = made.address(position)
    assert address is not None
    channel = wire_channel(ChannelNumber(1))
    return b"".join(encode(m) for m in messages(address, channel, made.bank)).hex(" ").upper()


# p. 18: programs are numbered from 00 on the wire. p. 14: bank 1 is 00 00, bank 128 is 00 7F, bank 129
# is 01 00, bank 16,384 is 7F 7F; CC 0 then CC 32 (p. 13). Program N of bank B is (B - 1) * 128 + N.
@pytest.mark.parametrize(
    ("label", "listed"),
    [
        ("1", "B0 00 00 B0 20 00 C0 00"),
        ("128", "B0 00 00 B0 20 00 C0 7F"),
        ("129", "B0 00 00 B0 20 01 C0 00"),
        ("16257", "B0 00 00 B0 20 7F C0 00"),  # bank 128
        ("16385", "B0 00 01 B0 20 00 C0 00"),  # bank 129
        ("2097025", "B0 00 7F B0 20 7F C0 00"),  # bank 16,384
        ("2097152", "B0 00 7F B0 20 7F C0 7F"),
    ],
)
def test_banks_are_the_bytes_that_the_standard_prints(label: str, listed: str) -> None:
    assert called(programs("count: 2097152, first: 1, bank: both, bank-when: always"), label) == listed


# M2-107-UM 2.3 calls MSB 121, LSB 2, program 49; the bytes on channel 1 are worked out from Table I (p. T-1).
# 121 * 128 + 2 = 15490 banks, 15490 * 128 + 49 = 1982769 programs before it.
def test_worked_message_is_reached_from_the_panel() -> None:
    made = programs("count: 2097152, first: 0, bank: both, bank-when: always")
    assert called(made, "1982769") == "B0 00 79 B0 20 02 C0 31"


@pytest.mark.parametrize(
    ("scheme", "label", "listed"),
    [
        ("bank: cc0, bank-when: always", "129", "B0 00 01 C0 00"),
        ("bank: cc0, bank-when: always", "16384", "B0 00 7F C0 7F"),
        ("bank: cc32, bank-when: always", "129", "B0 20 01 C0 00"),
        ("bank: cc32, bank-when: always", "16384", "B0 20 7F C0 7F"),
        ("bank: both, bank-when: always", "129", "B0 00 00 B0 20 01 C0 00"),
    ],
)
def test_device_with_one_half_of_bank_select_is_sent_that_half_alone(
    scheme: str, label: str, listed: str
) -> None:
    assert called(programs(f"count: 16384, first: 1, {scheme}"), label) == listed


# Banks of 100 are common practice: 1-100 lie in bank 1, 101 begins bank 2.
@pytest.mark.parametrize(
    ("label", "listed"),
    [
        ("100", "B0 00 00 C0 63"),
        ("101", "B0 00 01 C0 00"),
        ("200", "B0 00 01 C0 63"),
        ("201", "B0 00 02 C0 00"),
    ],
)
def test_banks_of_a_hundred_begin_again_at_program_00(label: str, listed: str) -> None:
    made = programs("count: 300, first: 1, bank: cc0, bank-when: always, bank-size: 100")
    assert called(made, label) == listed


@pytest.mark.parametrize(("first", "label"), [(1, "1"), (0, "0")])
def test_what_the_panel_calls_its_first_program_is_00(first: int, label: str) -> None:
    assert called(programs(f"count: 128, first: {first}"), label) == "C0 00"


ECHO = """\
definition: two-tap echo
programs: {count: 2097152, first: 1, bank: both, bank-when: always, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
"""
RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  echo:
    port: rack
    channel: 1
    definition: two-tap-echo
    patches: {near: 1, far: 16385, last: {bank: 16384, program: 1}, worked: {bank: 15491, program: 50}}
home: {echo: {engage: off, patch: near}}
"""
SONG = """\
song: Lantern
scenes: {near: {}, far: {echo: far}, last: {echo: last}, worked: {echo: worked}}
"""
SHOW = {"definitions/two-tap-echo.yaml": ECHO, "rigs/a-rig.yaml": RIG, "lantern.yaml": SONG}


# p. 14; M2-107-UM 2.3. `bank` and `program` outright are counted from 1, as p. 14 prints banks.
@pytest.mark.parametrize(
    ("scene", "listed"),
    [
        ("near", ["B0 00 00", "B0 20 00", "C0 00", "B0 50 00"]),
        ("far", ["B0 00 01", "B0 20 00", "C0 00", "B0 50 7F"]),
        ("last", ["B0 00 7F", "B0 20 7F", "C0 00", "B0 50 7F"]),
        ("worked", ["B0 00 79", "B0 20 02", "C0 31", "B0 50 7F"]),
    ],
)
def test_patch_in_a_rig_reaches_its_bank_and_program(scene: str, listed: list[str]) -> None:
    assert [m.step.data.hex(" ").upper() for m in timed(judged(SHOW), "lantern", scene)] == listed
