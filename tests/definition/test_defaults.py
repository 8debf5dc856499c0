"""What a control is where its definition leaves something out."""

from __future__ import annotations

from fractions import Fraction

import pytest

from switchmatrix.definition.carriers import ParameterCarrier
from switchmatrix.definition.controls import Codes, Linear, Named, Scale, Toggle
from tests.definition.kit import control


def line(*points: tuple[int, int], unit: str, bottom: int | None = None) -> Linear:
    return Linear(tuple((code, Fraction(number)) for code, number in points), unit, bottom)


def one(code: int) -> Codes:
    return Codes(code, code, code)


@pytest.mark.parametrize(
    ("text", "scale"),
    [
        ("kind: level, cc: 20, range: [0 %, 100 %]", line((0, 0), (127, 100), unit="%")),
        ("kind: level, note: 60, range: [0 %, 100 %]", line((1, 0), (127, 100), unit="%")),
        ("kind: level, cc14: [12, 44], range: [0 %, 100 %]", line((0, 0), (16383, 100), unit="%")),
        (
            "kind: level, cc: 20, range: [-60 dB, 6 dB], bottom: 0",
            line((1, -60), (127, 6), unit="dB", bottom=0),
        ),
        (
            "kind: level, cc: 20, range: [-60 dB, 6 dB], bottom: 127",
            line((0, -60), (126, 6), unit="dB", bottom=127),
        ),
        (
            "kind: level, pitch-bend: yes, range: [-60 dB, 6 dB], bottom: 16383",
            line((0, -60), (16382, 6), unit="dB", bottom=16383),
        ),
        (
            "kind: level, cc: 20, range: [-60 dB, 6 dB], codes: [120, 10], bottom: 127",
            line((10, 6), (120, -60), unit="dB", bottom=127),
        ),
        ("kind: time, cc: 20, range: [0 ms, 2 s]", line((0, 0), (127, 2000), unit="ms")),
        ("kind: switch, cc: 20", Named((("on", one(127)), ("off", one(0))))),
        ("kind: switch, note: 60", Named((("on", one(127)), ("off", one(1))))),
        ("kind: switch, nrpn: [1, 8], data: 14", Named((("on", one(16383)), ("off", one(0))))),
        ("kind: switch, cc: 20, toggle: {press: 5, release: none}", Named((("on", one(1)), ("off", one(0))))),
        ("kind: trigger, cc: 20", Named((("now", one(127)),))),
        ("kind: trigger, sysex: {body: [0x7D, 1]}", Named((("now", one(127)),))),
        (
            "kind: choice, cc: 20, values: {a: 0-63, b: 127}",
            Named((("a", Codes(0, 63, 32)), ("b", one(127)))),
        ),
    ],
)
def test_codes_that_are_not_written_are_all_that_the_carrier_holds(text: str, scale: Scale) -> None:
    assert control(text).scale == scale


@pytest.mark.parametrize(
    ("text", "toggle"),
    [
        ("toggle: {press: 127, release: 0}", Toggle(127, 0, None)),
        ("toggle: {press: 127, release: none}, powers-up: off", Toggle(127, None, False)),
        ("toggle: {press: 1, release: 0}, powers-up: on", Toggle(1, 0, True)),
    ],
)
def test_toggle_stands_nowhere_known_unless_it_says_how_it_powers_up(text: str, toggle: Toggle) -> None:
    assert control(f"kind: switch, cc: 20, {text}").toggle == toggle


@pytest.mark.parametrize(
    ("text", "closes"),
    [
        ("nrpn: [1, 8], data: 7", False),
        ("nrpn: [1, 8], data: 7, close: yes", True),
        ("rpn: [1, 8], data: 7", True),
        ("rpn: [1, 8], data: 7, close: no", False),
    ],
)
def test_parameter_is_closed_by_default_where_it_is_registered(text: str, closes: bool) -> None:
    made = control(f"kind: trigger, {text}").carrier
    assert made == ParameterCarrier("rpn" in text.replace("nrpn", ""), 1, 8, 7, closes)
