"""A message as one line that a person can read."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.compile.known import set_by_hand
from switchmatrix.compile.schedule import Timed
from switchmatrix.model.rig import Rig


def hex_text(data: bytes) -> str:
    """`C2 10`."""
    return data.hex(" ").upper()


def by_hand(rig: Rig) -> list[str]:
    """What a person sets before the first transition: switches that can only be flipped."""
    return [f"set by hand before this: {device}.{control} {on}" for device, control, on in set_by_hand(rig)]


def sentences(messages: Iterable[Timed]) -> list[str]:
    """A line each: from its first byte until it has landed, who does what, where, its bytes, who says so."""
    rows = [
        (
            f"{m.starts_us / 1000:+.1f} to {m.lands_us / 1000:+.1f} ms",
            f"{m.step.device} {m.step.meaning}",
            f"{m.step.port} ch {m.step.channel}",
            hex_text(m.step.data),
            f"{m.step.span.path}:{m.step.span.line}",
        )
        for m in messages
    ]
    widths = [max((len(row[n]) for row in rows), default=0) for n in range(5)]
    return ["  ".join(text.ljust(w) for text, w in zip(row, widths, strict=True)).rstrip() for row in rows]
