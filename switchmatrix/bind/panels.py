"""What a device's panel shows for its programs: numbers, or banks and slots."""

from __future__ import annotations

from switchmatrix.bind.fields import Fields, scalars
from switchmatrix.definition.programs import BanksAndSlots, Numbers
from switchmatrix.diagnostics import names
from switchmatrix.midi.numbers import MOST_BANKS
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Scalar

MOST_PROGRAMS = 128 * MOST_BANKS
"""As many as bank select and program change tell apart."""


def panel_of(block: Fields, count: int | None) -> Numbers | BanksAndSlots | None:
    """The panel under `programs`, where it shows `count` programs; None and a finding where it cannot."""
    if block.broken("panel") or block.broken("first"):
        return None
    panel = block.block("panel")
    if block.has("first") == (panel is not None):
        message = "the panel counts from `first`, or in `banks` and `slots`: one of the two"
        help = (
            "write `first: 1` (what the panel shows for MIDI program 0), "
            "or `panel: {banks: A-G, slots: 1-60}`"
        )
        _wrong(block, block.span, message, help)
        return None
    if panel is None:
        first = block.whole("first", 0, 1)
        return None if first is None else Numbers(first)
    shown = _banks_and_slots(panel)
    return shown if shown is not None and _reaches(block, shown, count) else None


def _banks_and_slots(panel: Fields) -> BanksAndSlots | None:
    banks, slots = _labels(panel, "banks"), _labels(panel, "slots")
    between = panel.text("between") or ""
    if banks is None or slots is None or panel.broken("between"):
        return None
    if len(banks) * len(slots) > MOST_PROGRAMS:
        message = f"{len(banks)} banks of {len(slots)} slots are more programs than MIDI tells apart"
        _wrong(panel, panel.span, message, f"there are {MOST_PROGRAMS} at most: mend `banks` or `slots`")
        return None
    shown = {f"{bank}{between}{slot}" for bank in banks for slot in slots}
    if len(shown) < len(banks) * len(slots):
        help = "write what stands `between` bank and slot, or mend the lists"
        _wrong(panel, panel.span, "two programs have one label on this panel", help)
        return None
    return BanksAndSlots(banks, slots, between)


def _labels(panel: Fields, key: str) -> tuple[str, ...] | None:
    """`A-G`, `1-60`, `01-32` (as wide as its ends), or a list of labels."""
    node = panel.node.get(key)
    if not isinstance(node, Scalar):
        given = scalars(node)
        return tuple(scalar.text for scalar in given) if len(given) == len(panel.items(key)) > 0 else None
    low, _, high = (part.strip() for part in node.text.partition("-"))
    labels = _digits(low, high) if low.isdecimal() else _letters(low, high)
    if not 1 <= len(labels) <= MOST_BANKS:
        message = f"`{node.text}` counts nothing"
        _wrong(panel, node.span, message, "write the first, a dash, and the last, such as `A-G` or `1-60`")
        return None
    return labels


def _digits(low: str, high: str) -> tuple[str, ...]:
    if len(low) > 5 or len(high) > 5:
        return ()
    width = len(low) if low.startswith("0") else 0
    return tuple(str(n).zfill(width) for n in range(int(low), int(high) + 1))


def _letters(low: str, high: str) -> tuple[str, ...]:
    if low.isupper() != high.isupper():
        return ()
    return tuple(chr(n) for n in range(ord(low), ord(high) + 1))


def _reaches(block: Fields, panel: BanksAndSlots, count: int | None) -> bool:
    shown = len(panel.banks) * len(panel.slots)
    scalar = block.scalar("count")
    if count is None or scalar is None or shown >= count:
        return True
    ends = f"{panel.label(0)} to {panel.label(shown - 1)}"
    message = f"the panel shows {shown} programs, {ends}, and `count` is {count}"
    _wrong(block, scalar.span, message, "mend `banks`, `slots` or `count`")
    return False


def _wrong(block: Fields, span: Span, message: str, help: str) -> None:
    block.found.append(names.PANEL_WRONG.at(span, message, help))
