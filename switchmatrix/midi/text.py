"""Text in MIDI files: Latin-1, one line (the standard advises printable ASCII: RP-001 p. 8)."""

from __future__ import annotations

import unicodedata

_INSTEAD = str.maketrans(
    {
        "\u2018": "'",
        "\u2019": "'",
        "\u201c": '"',
        "\u201d": '"',
        "\u2013": "-",
        "\u2014": "-",
        "\u2026": "...",
    }
    | {
        "\u0141": "L",
        "\u0142": "l",
        "\u0152": "OE",
        "\u0153": "oe",
        "\u0110": "D",
        "\u0111": "d",
        "\u1e9e": "SS",
    }
)


def holds(text: str) -> bool:
    """Whether Latin-1 holds the text as it is."""
    return all(ord(c) < 256 for c in text)


def latin(text: str) -> bytes:
    """The text in Latin-1: other letters without their marks, else `?`; control characters as spaces."""
    plain = "".join(c if c.isprintable() else " " for c in unicodedata.normalize("NFC", text))
    if holds(plain):
        return plain.encode("latin-1")
    kept = []
    for c in plain.translate(_INSTEAD):
        bare = "".join(d for d in unicodedata.normalize("NFKD", c) if not unicodedata.combining(d))
        kept.append(c if holds(c) else bare)
    return "".join(kept).encode("latin-1", errors="replace")
