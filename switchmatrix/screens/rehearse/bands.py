"""The bands of the screen laid out: rows of text for a width and a height, one column, no boxes."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from switchmatrix.screens.rehearse.letters import HIGH, block
from switchmatrix.screens.rehearse.view import View

LOW = 3
"""Rows of the block letters where there is little room."""


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
    keys = [Row(line) for text in view.keys for line in wrap(text, width)]
    asked = [Row(line.ljust(width), reverse=True) for text in view.asked for line in wrap(text, width)]
    top = [Row(view.mark, bold=True)] if view.mark is not None else []
    where = Row(shortened(f"HERE  {view.where}", width), bold=True)
    bands = (
        _Band("", view.here, 1),
        _Band("CHANGED", view.changed, 2),
        _Band("THEN", view.then, 3),
        _Band("WIRE", view.wire, 3),
    )
    fixed = len(top) + 1 + len(asked) + len(keys)
    letters = _letters_rows(height - fixed, bands)
    scene = [Row(line, bold=True) for line in block(view.scene, width, letters)]
    room = height - fixed - len(scene)
    shown = _shown(bands, room, width)
    out = [*top, where, *scene, *shown]
    out = out[: max(0, height - len(asked) - len(keys))]
    blank = [Row("")] * max(0, height - len(out) - len(asked) - len(keys))
    return [*out, *blank, *asked, *keys][:height]


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
    kept[-1] = Row(shortened(last.text, width - len(more)) + more, last.bold, last.reverse)
    return kept


def _laid_out(band: _Band, width: int) -> list[Row]:
    """A band's rows; its name stands before its first sentence."""
    lines = [line for text in band.lines for line in wrap(text, width - 9 if band.name else width)]
    if not band.name:
        return [Row(line) for line in lines]
    if not lines:
        return []
    return [Row(f"{band.name if n == 0 else '':<9}{line}") for n, line in enumerate(lines)]


def wrap(text: str, width: int, hang: str = "") -> list[str]:
    """The text in rows that are no wider; all but the first begin with `hang`."""
    return textwrap.wrap(text, max(width, 10), subsequent_indent=hang) or [""]


def shortened(text: str, width: int) -> str:
    """The text, visibly shortened where it is too long."""
    return text if len(text) <= width else text[: max(0, width - 3)].rstrip() + "..."
