"""Scales that hypothesis draws, as a person writes them in YAML, and what each of their codes means."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from hypothesis import strategies as st

from tests.controls.making import Points
from tests.definition.matrix import CARRIERS, WIDE

decimals = st.decimals("-9999", "9999", places=2, allow_nan=False)


@dataclass(frozen=True, slots=True)
class Drawn:
    """A control on one of the carriers: its YAML, its unit, and the points that its codes run through."""

    yaml: str
    carrier: str
    unit: str
    points: Points
    bottom: int | None = None


def reach(carrier: str) -> tuple[int, int]:
    """The codes that a carrier holds: a velocity begins at 1."""
    return (1 if carrier == "note" else 0), (16383 if carrier in WIDE else 127)


carriers = st.sampled_from([carrier for carrier in CARRIERS if carrier != "program"])


@st.composite
def lines(draw: st.DrawFn) -> Drawn:
    """A straight line: all the carrier's codes, or some of them, forwards or backwards."""
    carrier = draw(carriers)
    least, most = reach(carrier)
    low, high = sorted(draw(st.sets(decimals, min_size=2, max_size=2)))
    unit = draw(st.sampled_from(["%", "dB", "Hz", "semitones", "cents", "bpm"]))
    codes = draw(st.none() | st.lists(st.integers(least, most), min_size=2, max_size=2, unique=True))
    written = "" if codes is None else f", codes: [{codes[0]}, {codes[1]}]"
    first, last = codes if codes is not None else (least, most)
    yaml = f"kind: level, range: [{low} {unit}, {high} {unit}]{written}, {CARRIERS[carrier]}"
    points = sorted([(first, Fraction(low)), (last, Fraction(high))])
    return Drawn(yaml, carrier, unit, tuple(points))


@st.composite
def centred(draw: st.DrawFn) -> Drawn:
    """Two lines that meet in 0 at the centre, forwards or backwards, the halves of any two lengths."""
    carrier = draw(carriers)
    least, most = reach(carrier)
    low = -draw(st.decimals("0.01", 500, places=2))
    high = draw(st.decimals("0.01", 500, places=2))
    first, centre, last = sorted(draw(st.sets(st.integers(least, most), min_size=3, max_size=3)))
    codes = (last, first) if draw(st.booleans()) else (first, last)
    yaml = (
        f"kind: level, range: [{low} %, {high} %], codes: [{codes[0]}, {codes[1]}], centre: {centre}, "
        f"{CARRIERS[carrier]}"
    )
    points = sorted([(codes[0], Fraction(low)), (centre, Fraction(0)), (codes[1], Fraction(high))])
    return Drawn(yaml, carrier, "%", tuple(points))


@st.composite
def bent(draw: st.DrawFn) -> Drawn:
    """Points, rising or falling, with a bottom below or above them where there is room."""
    carrier = draw(carriers)
    least, most = reach(carrier)
    count = draw(st.integers(2, 6))
    codes = sorted(draw(st.sets(st.integers(least, most), min_size=count, max_size=count)))
    heights = sorted(draw(st.sets(decimals, min_size=count, max_size=count)), reverse=draw(st.booleans()))
    rooms = [code for code in (codes[0] - 1, codes[-1] + 1) if least <= code <= most]
    bottom = draw(st.none() | st.sampled_from(rooms)) if rooms else None
    pairs = ", ".join(f"[{code}, {height} dB]" for code, height in zip(codes, heights, strict=True))
    written = "" if bottom is None else f", bottom: {bottom}"
    yaml = f"kind: level, points: [{pairs}]{written}, {CARRIERS[carrier]}"
    points = [(code, Fraction(height)) for code, height in zip(codes, heights, strict=True)]
    return Drawn(yaml, carrier, "dB", tuple(points), bottom)


@st.composite
def timed(draw: st.DrawFn) -> Drawn:
    """Times in milliseconds or rates in Hz, forwards or backwards."""
    carrier = draw(carriers)
    least, most = reach(carrier)
    unit = draw(st.sampled_from(["ms", "Hz"]))
    ends = st.sets(st.decimals("0.01", 5000, places=2), min_size=2, max_size=2)
    low, high = sorted(draw(ends))
    codes = draw(st.lists(st.integers(least, most), min_size=2, max_size=2, unique=True))
    yaml = (
        f"kind: time, range: [{low} {unit}, {high} {unit}], codes: [{codes[0]}, {codes[1]}], "
        f"{CARRIERS[carrier]}"
    )
    points = sorted([(codes[0], Fraction(low)), (codes[1], Fraction(high))])
    return Drawn(yaml, carrier, unit, tuple(points))


scales = lines() | centred() | bent() | timed()
