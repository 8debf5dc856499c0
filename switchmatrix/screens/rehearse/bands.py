"""The bands of the screen laid out: rows of text for a width and a height, one column, no boxes."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from switchmatrix.screens.rehearse.letters import HIGH, block
from switchmatrix.screens.rehearse.view import View

LOW = 3
"""Rows of the block letters where there is little room."""

LEAST_ABOVE = 6
"""Rows that a question leaves for where we are."""


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the screen; `bold` and `reverse` are all that it may be besides plain."""

    text: str
    bold: bool = False
    reverse: bool = False


@dataclass(frozen=True, slots=True)
class _Band:
    """A band's sentences; at least `least` rows of it are shown, and `share` of what room is left."""

    name: str
    lines: tuple[str, ...]
    least: int
    reverse: bool = False


def rows(view: View, width: int, height: int) -> list[Row]:
    """The screen, from top to bottom, exactly `height` rows."""
    low = foot(view, view.keys, width, height)
    top = [Row(view.mark, bold=True)] if view.mark is not None else []
    where = Row(shortened(f"HERE  {view.where}", width), bold=True)
    bands = (
        _Band("", view.here, 1),
        _Band("CHANGED", view.changed, 2),
        _Band("THEN", view.then, 3),
        _Band("WIRE", view.wire, 3),
    )
    fixed = len(top) + 1 + len(low)
    scene = [Row(line, bold=True) for line in block(view.scene, width, _letters_rows(height - fixed, bands))]
    shown = _shown(bands, height - fixed - len(scene), width)
    out = [*top, where, *scene, *shown][: max(0, height - len(low))]
    return [*out, *[Row("")] * (height - len(out) - len(low)), *low]


def foot(view: View, keys: Iterable[str], width: int, height: int) -> list[Row]:
    """What is asked, in reverse, and the keys; on a screen too low for all, what is left out is said."""
    keys_rows = [Row(line) for text in keys for line in wrap(text, width)][: max(1, height // 5)]
    asked = [line for text in view.asked for line in wrap(text, width)]
    most = max(2, height - len(keys_rows) - LEAST_ABOVE)
    if len(asked) > most:
        asked = [
            f"({len(asked) - most + 1} more rows: make the window higher)",
            *asked[len(asked) - most + 1 :],
        ]
    return [*(Row(shortened(line, width).ljust(width), reverse=True) for line in asked), *keys_rows][-height:]


def _letters_rows(room: int, bands: Iterable[_Band]) -> int:
    """How tall the letters may be: so that each band has at least the rows that it needs."""
    needed = sum(min(band.least, len(band.lines)) for band in bands)
    for tall in (2 * HIGH, HIGH):
        if room - tall >= needed + (LOW if tall > HIGH else 0):
            return tall
    return LOW


def _shown(bands: Sequence[_Band], room: int, width: int) -> list[Row]:
    """The bands' rows: each first what it needs, then, in turn, what it would like."""
    wrapped = [_laid_out(band, width) for band in bands]
    given = [min(band.least, len(lines)) for band, lines in zip(bands, wrapped, strict=True)]
    while sum(given) > room and any(given):
        given[max(range(len(given)), key=lambda n: given[n])] -= 1
    left = room - sum(given)
    # Where all of it fits with air between, it is given air.
    airy = left - sum(len(lines) - n for lines, n in zip(wrapped, given, strict=True)) >= len(bands)
    while left > 0 and any(given[n] < len(lines) for n, lines in enumerate(wrapped)):
        for n, lines in enumerate(wrapped):
            if left > 0 and given[n] < len(lines):
                given[n] += 1
                left -= 1
    out: list[Row] = []
    for n, lines in enumerate(wrapped):
        out += [Row("")] if airy and lines else []
        out += _cut(lines, given[n], width)
    return out


def _cut(lines: Sequence[Row], count: int, width: int) -> list[Row]:
    """So many rows; where some are left out, the last one says how many."""
    if count >= len(lines) or count == 0:
        return list(lines[:count])
    kept = list(lines[:count])
    more = f" (and {len(lines) - count} more)"
    last = kept[-1]
    text = shortened(last.text, width - len(more)) + more
    kept[-1] = Row(shortened(text, width), last.bold, last.reverse)
    return kept


def _laid_out(band: _Band, width: int) -> list[Row]:
    """A band's rows; its name stands before its first sentence."""
    lines = [line for text in band.lines for line in wrap(text, width - 9 if band.name else width)]
    if not band.name:
        return [Row(line) for line in lines]
    if not lines:
        return []
    named = (f"{band.name if n == 0 else '':<9}{line}" for n, line in enumerate(lines))
    return [Row(shortened(line, width)) for line in named]


def wrap(text: str, width: int, hang: str = "") -> list[str]:
    """The text in rows that are no wider; all but the first begin with `hang`."""
    return textwrap.wrap(text, max(width, 10), subsequent_indent=hang) or [""]


def shortened(text: str, width: int) -> str:
    """The text, visibly shortened where it is too long."""
    return text if len(text) <= width else (text[: max(0, width - 3)].rstrip() + "...")[: max(width, 0)]
