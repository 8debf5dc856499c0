"""Any level or time on any carrier, from YAML: a value is sent as the nearest code and comes back as it."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from switchmatrix.controls import decode, encode
from switchmatrix.definition.controls import Linear
from switchmatrix.definition.values import MINUS_INFINITY, Quantity
from tests.controls.making import meanings, nearest
from tests.definition.drawn import Drawn, scales
from tests.definition.kit import control, sent
from tests.definition.wire import codes_of

some = settings(max_examples=25)


def asked_of(drawn: Drawn, data: st.DataObject) -> Fraction:
    """A number in range: any, one that a code means, or one midway between two."""
    held = meanings(drawn.points)
    low, high = min(held.values()), max(held.values())
    code = data.draw(st.integers(drawn.points[0][0], drawn.points[-1][0] - 1))
    midway = (held[code] + held[code + 1]) / 2
    return data.draw(st.sampled_from([midway, held[code]]) | st.fractions(low, high))


@some
@given(scales)
def test_scale_runs_through_the_points_that_were_written(drawn: Drawn) -> None:
    assert control(drawn.yaml).scale == Linear(drawn.points, drawn.unit, drawn.bottom)


@some
@given(scales, st.data())
def test_any_value_is_sent_as_the_nearest_code_and_halves_as_the_higher(
    drawn: Drawn, data: st.DataObject
) -> None:
    made, asked = control(drawn.yaml), asked_of(drawn, data)
    code = encode(made, Quantity(asked, drawn.unit))
    assert codes_of(drawn.carrier, sent(made, code, id=5)) == [nearest(meanings(drawn.points), asked)]


@some
@given(scales, st.data())
def test_what_comes_back_from_the_bytes_is_the_nearest_value_that_codes_hold(
    drawn: Drawn, data: st.DataObject
) -> None:
    made, asked = control(drawn.yaml), asked_of(drawn, data)
    heard = codes_of(drawn.carrier, sent(made, encode(made, Quantity(asked, drawn.unit)), id=5))
    held = meanings(drawn.points)
    assert [decode(made, code) for code in heard] == [Quantity(held[nearest(held, asked)], drawn.unit)]


@some
@given(scales, st.data())
def test_code_past_the_ends_means_nothing_but_the_bottom(drawn: Drawn, data: st.DataObject) -> None:
    made = control(drawn.yaml)
    past = data.draw(st.integers(drawn.points[-1][0] + 1, 20000) | st.integers(-20, drawn.points[0][0] - 1))
    expected = Quantity(MINUS_INFINITY, "dB") if past == drawn.bottom else None
    assert decode(made, past) == expected
