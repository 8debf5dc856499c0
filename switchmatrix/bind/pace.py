"""Waits: settle, gap, and what a mute holds before and after."""

from __future__ import annotations

from fractions import Fraction

from switchmatrix.bind.fields import Fields
from switchmatrix.controls import numbers, times
from switchmatrix.definition.values import Misread, Quantity
from switchmatrix.diagnostics import names
from switchmatrix.model.song import Budget

LONGEST_MS = 60_000
"""The longest that a device may take: past that no change comes in time."""


def wait_us(fields: Fields, key: str) -> int | None:
    """The key's wait in microseconds, rounded up; 0 where there is none, None where it is wrong."""
    scalar = fields.scalar(key)
    if scalar is None:
        return None if fields.broken(key) else 0
    value = times.read(scalar.text, numbers.parse(scalar.text))
    within = isinstance(value, Quantity) and value.unit == "ms" and value.number <= LONGEST_MS
    if isinstance(value, Misread) or not isinstance(value, Quantity) or not within:
        what = {"settle": "no time to settle in", "gap": "no gap"}.get(key, f"no time for `{key}`")
        message = f"`{scalar.text}` is {what}"
        fields.found.append(names.BAD_VALUE.at(scalar.span, message, "write it like `35 ms`"))
        return None
    return -((-Fraction(value.number) * 1000).__floor__())


def budget(fields: Fields) -> Budget | None:
    """The key `budget`: the longest that a change may take."""
    us, scalar = wait_us(fields, "budget"), fields.scalar("budget")
    return None if us is None or scalar is None else Budget(us, scalar.span)


def on_time(fields: Fields) -> bool | None:
    """The key `land`: whether a visit is to have landed at its place; None where nothing is said."""
    text = fields.text("land")
    return None if text is None else text == "on time"
