"""Faults by their names, as a tech would read of them: the show over every carrier, one thing gone wrong."""

from __future__ import annotations

from dataclasses import replace

import pytest

from switchmatrix.definition.programs import Repeat
from switchmatrix.model.rig import Device
from switchmatrix.simulate.receiver import Receiver, receiver
from switchmatrix.simulate.standing import Halves
from tests.proof.shown import every_carrier, failed

ROWS: dict[str, tuple[str, str, list[str]]] = {
    "a message is dropped": (
        "B1 50 7F",
        "",
        [
            "from unknown (and from 1 more) to lantern chorus: reverb.engage; "
            "wanted on (code 127); got    nobody knows what"
        ],
    ),
    "two messages are swapped": (
        "B0 15 1E,B0 0C 05,B0 2C 3D",
        "B0 15 1E,B0 2C 3D,B0 0C 05",
        [
            "from lantern verse to lantern bridge: echo.time; "
            "wanted 701 ms (code 701); got    640 ms (code 640)"
        ],
    ),
    "a value is changed": (
        "B1 16 32",
        "B1 16 33",
        ["from lantern verse to lantern chorus: reverb.decay; wanted 50 (code 50); got    51 (code 51)"],
    ),
    "a wrong channel": (
        "C3 5B",
        "C4 5B",
        [
            "from unknown (and from 1 more) to lantern bridge: synth.relay; "
            "wanted right (code 91); got    nobody knows what"
        ],
    ),
    "an edit before its recall": (
        "B0 00 00,B0 20 01,C0 48,B0 0C 05,B0 2C 3C",
        "B0 0C 05,B0 2C 3C,B0 00 00,B0 20 01,C0 48",
        [
            "from unknown (and from 2 more) to lantern chorus: echo.time; "
            "wanted 700 ms (code 700); got    as cliff (panel 200) stores it"
        ],
    ),
    "a missing LSB": (
        "B0 15 1E,B0 0C 05,B0 2C 3D",
        "B0 15 1E,B0 0C 05",
        [
            "from lantern verse to lantern bridge: echo.time; "
            "wanted 701 ms (code 701); got    640 ms (code 640)"
        ],
    ),
    "a stale bank": (
        "B0 00 00,B0 20 01,C0 48,B0 0C 05,B0 2C 3C",
        "C0 48,B0 0C 05,B0 2C 3C",
        [
            "from unknown (and from 2 more) to lantern chorus: echo.patch; "
            "wanted cliff (panel 200); got    nobody knows what",
            "from unknown (and from 2 more) to lantern chorus: echo.mix; "
            "wanted as cliff (panel 200) stores it; got    nobody knows what",
        ],
    ),
    "half of the bank": (
        "B0 00 00,B0 20 01,C0 48,B0 0C 05,B0 2C 3C",
        "B0 00 00,C0 48,B0 0C 05,B0 2C 3C",
        [
            "from unknown (and from 2 more) to lantern chorus: echo.patch; "
            "wanted cliff (panel 200); got    the patch at program 73 of bank 1",
            "from unknown (and from 2 more) to lantern chorus: echo.mix; "
            "wanted as cliff (panel 200) stores it; got    as the patch at program 73 of bank 1 stores it",
        ],
    ),
    "a press is dropped": (
        "B2 5A 7F,B2 5A 00",
        "B2 5A 00",
        [
            "from lantern bridge to lantern verse: amp.boost; wanted off (code 0); got    on (code 1)",
            "from unknown to lantern bridge: amp.boost; wanted on (code 1); got    off (code 0)",
        ],
    ),
    "a press is doubled": (
        "B2 5A 7F,B2 5A 00",
        "B2 5A 7F,B2 5A 7F,B2 5A 00",
        [
            "from lantern bridge to lantern verse: amp.boost; wanted off (code 0); got    on (code 1)",
            "from unknown to lantern bridge: amp.boost; wanted on (code 1); got    off (code 0)",
        ],
    ),
    "a parameter number is dropped": (
        "B2 1E 01,B2 63 01,B2 62 08,B2 06 01,B2 26 48,B2 63 7F,B2 62 7F,B2 65 00,B2 64 02,B2 06 02",
        "B2 1E 01,B2 63 01,B2 62 08,B2 06 01,B2 26 48,B2 63 7F,B2 62 7F,B2 65 00,B2 06 02",
        [
            "from unknown (and from 2 more) to lantern chorus: amp.tone; "
            "wanted 2 (code 2); got    nobody knows what"
        ],
    ),
    "data before its number": (
        "B2 63 01,B2 62 08,B2 06 01,B2 26 49,B2 63 7F,B2 62 7F",
        "B2 06 01,B2 26 49,B2 63 01,B2 62 08,B2 63 7F,B2 62 7F",
        [
            "from lantern verse to lantern bridge: amp.gain; wanted 201 (code 201); got    nobody knows what",
            "from lantern verse to lantern bridge: amp.tone; wanted 1 (code 1); got    nobody knows what",
        ],
    ),
    "a wrong checksum": (
        "F0 7D 05 01 05 7A F7",
        "F0 7D 05 01 05 7B F7",
        [
            "from unknown (and from 1 more) to lantern bridge: synth.body; "
            "wanted 5 (code 5); got    nobody knows what"
        ],
    ),
    "another box's id": (
        "F0 7D 05 01 05 7A F7",
        "F0 7D 06 01 05 79 F7",
        [
            "from unknown (and from 1 more) to lantern bridge: synth.body; "
            "wanted 5 (code 5); got    nobody knows what"
        ],
    ),
    "a key too high": (
        "93 3C 60,83 3C 40",
        "93 3D 60,83 3D 40",
        [
            "from unknown (and from 1 more) to lantern chorus: synth.wave; "
            "wanted high (code 96); got    nobody knows what"
        ],
    ),
    "bend with its halves changed": (
        "E3 00 60",
        "E3 60 00",
        [
            "from unknown (and from 1 more) to lantern bridge: synth.bend; "
            "wanted 50.006 % (code 12288); got    -98.828 % (code 96)"
        ],
    ),
}
"""What a device is sent, what arrives instead, and what the proof says, but for the bytes."""


def messages(text: str) -> tuple[bytes, ...]:
    """Messages written as hex, with commas between."""
    return tuple(bytes.fromhex(message) for message in text.split(",") if message)


@pytest.mark.parametrize("name", ROWS)
def test_what_has_gone_wrong_is_told(name: str) -> None:
    sent, arrives, said = ROWS[name]

    def wire(_: Device, data: tuple[bytes, ...]) -> tuple[bytes, ...]:
        return messages(arrives) if data == messages(sent) else data

    assert [one.partition("; bytes")[0] for one in failed(every_carrier(), wire)] == said


# The echo is said to recall; one that ignores the program that it is in keeps what was edited.
def test_a_repeat_that_does_nothing_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    def ignores(device: Device, halves: Halves) -> Receiver:
        definition, programs = device.definition, device.definition.programs
        if programs is not None:
            programs = replace(programs, repeat=Repeat.NOTHING)
        return receiver(replace(device, definition=replace(definition, programs=programs)), halves)

    monkeypatch.setattr("switchmatrix.proof.bench.receiver", ignores)
    assert [one.partition("; bytes")[0] for one in failed(every_carrier())] == [
        "from unknown (and from 1 more) to lantern verse: echo.mix; "
        "wanted 9 (code 9); got    nobody knows what",
        "from unknown (and from 1 more) to lantern verse: echo.time; "
        "wanted as slap (panel 4) stores it; got    nobody knows what",
        "from unknown to lantern chorus: echo.mix; "
        "wanted as cliff (panel 200) stores it; got    nobody knows what",
    ]


# MIDI 1.0 Detailed Specification 4.2.1, p. 13: a bank holds for the programs that follow it.
def test_a_bank_that_is_never_chosen_is_caught() -> None:
    def bankless(_: Device, data: tuple[bytes, ...]) -> tuple[bytes, ...]:
        return tuple(m for m in data if m[0] & 0xF0 != 0xB0 or m[1] not in (0, 32))

    assert sorted(
        {one.partition("; ")[0].rpartition(" ")[2] for one in failed(every_carrier(), bankless)}
    ) == ["echo.mix", "echo.patch", "echo.time", "reverb.decay", "reverb.patch"]
