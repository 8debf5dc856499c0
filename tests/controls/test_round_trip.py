"""A value becomes the nearest code, exactly, halves up; and what the code means comes back."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from switchmatrix.controls import decode, encode, in_scale
from switchmatrix.definition.controls import CHOICE, LEVEL, TIME, Codes, Control, Linear, Named
from switchmatrix.definition.values import MINUS_INFINITY, Quantity, Word
from switchmatrix.pipeline import judge
from tests.controls.making import control, meanings, nearest

few = settings(max_examples=40)
numbers = st.decimals(-2000, 2000, places=3, allow_nan=False).map(Fraction)


@st.composite
def scales(draw: st.DrawFn) -> Linear:
    """Straight, bent or backwards; codes within 1-126, so that a bottom may stand at either end."""
    count = draw(st.integers(2, 5))
    codes = sorted(draw(st.sets(st.integers(1, 126), min_size=count, max_size=count)))
    heights = sorted(draw(st.sets(numbers, min_size=count, max_size=count)), reverse=draw(st.booleans()))
    bottom = draw(st.sampled_from([None, 0, 127]))
    return Linear(tuple((code, heights[n]) for n, code in enumerate(codes)), "dB", bottom)


@few
@given(scales(), st.data())
def test_any_number_in_range_becomes_the_nearest_code(scale: Linear, data: st.DataObject) -> None:
    ends = sorted((scale.points[0][1], scale.points[-1][1]))
    asked = data.draw(st.fractions(ends[0], ends[1]) | st.sampled_from([n for _, n in scale.points]))
    assert encode(control(LEVEL, scale), Quantity(asked, "dB")) == nearest(meanings(scale.points), asked)


@few
@given(scales(), st.data())
def test_what_comes_back_is_the_nearest_number_that_the_codes_hold(
    scale: Linear, data: st.DataObject
) -> None:
    ends = sorted((scale.points[0][1], scale.points[-1][1]))
    asked = data.draw(st.fractions(ends[0], ends[1]))
    level, held = control(LEVEL, scale), meanings(scale.points)
    assert decode(level, encode(level, Quantity(asked, "dB"))) == Quantity(held[nearest(held, asked)], "dB")


@few
@given(scales())
def test_every_code_means_its_number_and_no_other_code_means_one(scale: Linear) -> None:
    held: dict[int, Fraction | float] = {**meanings(scale.points)}
    if scale.bottom is not None:
        held[scale.bottom] = MINUS_INFINITY
    assert {code: decode(control(LEVEL, scale), code) for code in range(128)} == {
        code: Quantity(held[code], "dB") if code in held else None for code in range(128)
    }


@few
@given(scales())
def test_every_number_that_a_code_means_becomes_that_code(scale: Linear) -> None:
    held = meanings(scale.points)
    assert [encode(control(LEVEL, scale), Quantity(number, "dB")) for number in held.values()] == list(held)


@few
@given(scales(), st.data())
def test_number_midway_between_two_codes_becomes_the_higher(scale: Linear, data: st.DataObject) -> None:
    held = meanings(scale.points)
    code = data.draw(st.integers(scale.points[0][0], scale.points[-1][0] - 1))
    midway = (held[code] + held[code + 1]) / 2
    assert encode(control(LEVEL, scale), Quantity(midway, "dB")) == code + 1


@few
@given(scales().filter(lambda scale: scale.bottom is not None))
def test_minus_infinity_becomes_the_bottom_and_comes_back(scale: Linear) -> None:
    down = Quantity(MINUS_INFINITY, "dB")
    level = control(LEVEL, scale)
    assert (encode(level, down), decode(level, encode(level, down))) == (scale.bottom, down)


rising = st.sets(st.decimals("0.01", 5000, places=2).map(Fraction), min_size=2, max_size=2).map(sorted)


@few
@given(rising, st.booleans(), st.data())
def test_time_asked_as_a_rate_becomes_the_code_nearest_to_its_length(
    ends: list[Fraction], backwards: bool, data: st.DataObject
) -> None:
    low, high = ends[::-1] if backwards else ends
    scale = Linear(((0, low), (127, high)), "ms")
    length = data.draw(st.fractions(ends[0], ends[1]))
    rate = Quantity(1000 / length, "Hz")
    assert encode(control(TIME, scale), rate) == nearest(meanings(scale.points), length)


@few
@given(rising, st.data())
def test_rate_asked_as_a_time_becomes_the_code_nearest_to_its_rate(
    ends: list[Fraction], data: st.DataObject
) -> None:
    scale = Linear(((0, ends[0]), (127, ends[1])), "Hz")
    rate = data.draw(st.fractions(ends[0], ends[1]))
    length = Quantity(1000 / rate, "ms")
    assert encode(control(TIME, scale), length) == nearest(meanings(scale.points), rate)


@st.composite
def choices(draw: st.DrawFn) -> Named:
    """Words with codes or ranges of codes, some codes meaning nothing, each word sent as one of its own."""
    cuts = sorted(draw(st.sets(st.integers(0, 127), min_size=2, max_size=12)))
    pairs = [(cuts[n], cuts[n + 1]) for n in range(0, len(cuts) - 1, 2)]
    return Named(
        tuple(
            (f"word-{n}", Codes(low, high, draw(st.integers(low, high))))
            for n, (low, high) in enumerate(pairs)
        )
    )


@few
@given(choices())
def test_every_word_comes_back_from_the_code_that_is_sent(scale: Named) -> None:
    it = control(CHOICE, scale)
    assert [decode(it, encode(it, Word(word))) for word, _ in scale.words] == [
        Word(w) for w, _ in scale.words
    ]


@few
@given(choices())
def test_any_code_of_a_range_means_its_word_and_other_codes_mean_none(scale: Named) -> None:
    means = {code: Word(word) for word, codes in scale.words for code in range(codes.low, codes.high + 1)}
    assert [decode(control(CHOICE, scale), code) for code in range(128)] == [means.get(n) for n in range(128)]


def example_controls() -> list[Control]:
    """Every control of the example show's definitions."""
    show = judge(Path(__file__).parents[2] / "songs")
    return [c for d in show.model.definitions.values() if d is not None for c in d.controls]


LINEAR = [c for c in example_controls() if isinstance(c.scale, Linear)]


@pytest.mark.parametrize("one", LINEAR, ids=lambda c: c.name)
def test_every_code_of_an_example_control_comes_back_from_what_it_means(one: Control) -> None:
    meant = {code: value for code in range(128) if (value := decode(one, code)) is not None}
    assert [encode(one, value) for value in meant.values()] == list(meant)


@pytest.mark.parametrize("one", LINEAR, ids=lambda c: c.name)
def test_every_tenth_of_the_range_of_an_example_control_becomes_the_nearest_code(one: Control) -> None:
    assert isinstance(one.scale, Linear)
    held = meanings(one.scale.points)
    low, high = min(held.values()), max(held.values())
    asked = [low + (high - low) * Fraction(n, 10) for n in range(11)]
    assert [encode(one, Quantity(number, one.scale.unit)) for number in asked] == [
        nearest(held, number) for number in asked
    ]


def test_quantity_in_the_scales_own_unit_stays_as_it_is() -> None:
    ms = control(TIME, Linear(((0, Fraction(0)), (127, Fraction(1270))), "ms"))
    assert in_scale(ms, Quantity(Fraction(480), "ms")) == Quantity(Fraction(480), "ms")
