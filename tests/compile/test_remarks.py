"""What a control is, in plain words: its values with their codes, and all else that its definition says."""

from __future__ import annotations

import pytest

from switchmatrix.compile.remarks import milliseconds, of_control
from tests.definition.kit import control, defined


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]", "it: 0 % at 0, 100 % at 100"),
        (
            "kind: level, cc: 21, bottom: 0, points: [[1, -60 dB], [64, -6 dB], [127, 6 dB]]",
            "it: -inf dB at 0, -60 dB at 1, -6 dB at 64, 6 dB at 127",
        ),
        ("kind: level, cc: 21, range: [0, 127], settle: 2.5 ms", "it: 0 at 0, 127 at 127; takes 2.5 ms"),
        (
            "kind: choice, cc: 21, values: {tape: 0-42, clean: 43, dry: 90-127}, send: {dry: 127}",
            "it: tape 0-42 (sent as 21), clean 43, dry 90-127 (sent as 127)",
        ),
        ("kind: switch, cc: 80, main: yes", "it: on 127, off 0; main switch"),
        ("kind: trigger, cc: 50, codes: {fire: 90}", "it: fires at 90"),
        (
            "kind: trigger, cc: 50, writes: yes, hazard: mains relay",
            "it: fires at 127; writes memory: refused in scenes; HAZARD, mains relay: never sent",
        ),
        ("kind: switch, cc: 80, toggle: {press: 100, release: none}", "it: each press flips it: 100"),
        (
            "kind: switch, cc: 80, toggle: {press: 127, release: 0}, powers-up: on, moved-by: player",
            "it: each press flips it: 127, then 0, powers up on; the player moves it",
        ),
        (
            "kind: switch, cc: 80, toggle: {press: 1, release: 2}, powers-up: off",
            "it: each press flips it: 1, then 2, powers up off",
        ),
        (
            "kind: level, range: [-64, 63], sysex: {body: [0x7D, id, 0x0C, value, checksum], "
            "checksum: [2, 4], signed: yes}",
            "it: -64 at 0, 63 at 127; F0 7D <id> 0C <value> <checksum> F7; "
            "the value is signed (two's complement); checksum over bytes 2 to 4 between F0 and F7",
        ),
        (
            "kind: level, range: [0, 16383], sysex: {body: [0x7D, value-msb, value-lsb]}",
            "it: 0 at 0, 16383 at 16383; F0 7D <value-msb> <value-lsb> F7",
        ),
    ],
)
def test_all_of_a_control_is_said(text: str, said: str) -> None:
    assert of_control(control(text), on_channel=False) == said


def test_the_channel_is_said_where_it_is_asked_for_and_what_the_choice_reloads() -> None:
    text = """definition: box
controls:
  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, resets: [mix, time], channel: loops}
  mix: {kind: level, cc: 21, range: [0, 127]}
  time: {kind: level, cc: 22, range: [0, 127]}
"""
    mode, mix, _ = defined(text).controls
    assert [of_control(mode, on_channel=True), of_control(mix, on_channel=True)] == [
        "mode: tape 0, clean 1; on the channel loops; reloads mix, time",
        "mix: 0 at 0, 127 at 127; on the channel main",
    ]


def test_what_patches_store_is_said() -> None:
    it = control("kind: level, cc: 21, range: [0, 127], stored: yes", "count: 8, first: 1, repeat: recalls")
    assert of_control(it, on_channel=False) == "it: 0 at 0, 127 at 127; stored in patches"


@pytest.mark.parametrize(("us", "said"), [(35000, "35 ms"), (2500, "2.5 ms"), (1, "0.001 ms"), (0, "0 ms")])
def test_microseconds_are_said_in_milliseconds(us: int, said: str) -> None:
    assert milliseconds(us) == said
