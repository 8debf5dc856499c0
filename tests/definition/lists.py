"""Control lists of the shapes that makers publish, as hypothesis draws them, and what their bytes must be."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from hypothesis import strategies as st

from switchmatrix.bind.naming import CONTROL_WORDS, RESERVED
from tests.outside.test_controller_numbers import FREE


@dataclass(frozen=True, slots=True)
class Listed:
    """A control of a list: its name, what stands in its braces, a value of it, and that value's bytes.

    The bytes are on channel 2, in hex.
    """

    name: str
    yaml: str
    said: str
    code: int
    wire: str


def written(controls: list[Listed]) -> str:
    """The definition with the whole list, each name quoted as YAML may hold any."""
    lines = [f"  {json.dumps(one.name, ensure_ascii=False)}: {{{one.yaml}}}\n" for one in controls]
    return f"definition: box\ncontrols:\n{''.join(lines)}"


strange = st.text(
    st.characters(exclude_categories=["C", "Z"], exclude_characters=".@"), min_size=1, max_size=12
)
names = st.one_of(
    st.from_regex(r"[a-z]{2,9}(-[a-z0-9]{1,5})?", fullmatch=True),
    st.from_regex(r"[A-Z][a-z]{1,7} (Mix|Level|#[0-9]|[0-9]/[0-9]|\(L\)|: on)", fullmatch=True),
    strange.filter(str.isprintable),
).filter(lambda name: name not in RESERVED | CONTROL_WORDS)

SHAPES = ("plain", "switch", "halves", "morph", "singles", "centred", "pair", "nrpn", "both")


@st.composite
def lists(draw: st.DrawFn) -> list[Listed]:
    """Up to thirty controls, no two on one message; the numbers in any order."""
    shapes = draw(st.lists(st.sampled_from(SHAPES), min_size=1, max_size=30))
    labels = draw(st.lists(names, min_size=len(shapes), max_size=len(shapes), unique=True))
    dice = draw(st.randoms(use_true_random=False))
    return listed(labels, shapes, dice)


def listed(labels: list[str], shapes: list[str], dice: Random) -> list[Listed]:
    """A control of each shape, with numbers of its own."""
    ccs, parameters = iter(dice.sample(FREE, len(FREE))), iter(dice.sample(range(127 * 128), 400))
    return [_one(name, shape, ccs, parameters, dice) for name, shape in zip(labels, shapes, strict=True)]


def _one(name: str, shape: str, ccs: Iterator[int], parameters: Iterator[int], dice: Random) -> Listed:
    if shape in ("nrpn", "both"):
        return _nrpn(name, next(parameters), next(ccs) if shape == "both" else None, dice)
    cc = next(ccs)
    if shape == "pair":
        lsb, value = next(ccs), dice.randint(0, 16383)
        keys = f"kind: time, cc14: [{cc}, {lsb}], range: [0 ms, 16383 ms]"
        wire = f"B1 {cc:02X} {value // 128:02X} B1 {lsb:02X} {value % 128:02X}"
        return Listed(name, keys, f"{value} ms", value, wire)
    keys, said, code = _seven(shape, dice)
    return Listed(name, f"{keys}, cc: {cc}", said, code, f"B1 {cc:02X} {code:02X}")


def _seven(shape: str, dice: Random) -> tuple[str, str, int]:
    """The keys, a value and its code of a control on one CC."""
    number = dice.randint(0, 100)
    return {
        "plain": ("kind: level, range: [0 %, 100 %], codes: [0, 100]", f"{number} %", number),
        "switch": ("kind: switch", "on", 127),
        "halves": ("kind: choice, values: {off: 0-63, on: 64-127}, send: {on: 127}", "on", 127),
        "morph": ("kind: choice, values: {dry: 0, room: 1, hall: 2, morph: 3-127}", "morph", 65),
        "singles": ("kind: choice, values: {sine: 0, saw: 1, 'square #2': 5, S/H: 126}", "square #2", 5),
        "centred": (
            "kind: level, range: [-50, 50], codes: [14, 114], centre: 64",
            f"{number - 50}",
            number + 14,
        ),
    }[shape]


def _nrpn(name: str, parameter: int, cc: int | None, dice: Random) -> Listed:
    """A parameter whose range ends somewhere up to 16,383, and perhaps a CC that moves it too."""
    msb, lsb, most = parameter // 128, parameter % 128, dice.choice((127, 128, 1000, 9999, 16383))
    value = dice.randint(0, most)
    also = "" if cc is None else f", also-cc: [{cc}]"
    keys = f"kind: level, nrpn: [{msb}, {lsb}], data: 14, range: [0, {most}], codes: [0, {most}]{also}"
    wire = f"B1 63 {msb:02X} B1 62 {lsb:02X} B1 06 {value // 128:02X} B1 26 {value % 128:02X}"
    return Listed(name, keys, f"{value}", value, wire)
