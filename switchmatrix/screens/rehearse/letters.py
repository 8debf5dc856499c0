"""Names in block letters, to be read from across a stage."""

from __future__ import annotations

import unicodedata

HIGH = 5
"""Rows of a letter; squeezed, three."""

SHORTENED = "..."
"""How a name ends that was too long."""

_GAP = " "
_UNKNOWN = "#####/#   #/#   #/#   #/#####"
"""A letter that the table has not got: an empty box, as fonts show it."""

_LETTERS = {
    " ": "  /  /  /  /  ",
    "A": " ### /#   #/#####/#   #/#   #",
    "B": "#### /#   #/#### /#   #/#### ",
    "C": " ####/#    /#    /#    / ####",
    "D": "#### /#   #/#   #/#   #/#### ",
    "E": "####/#   /### /#   /####",
    "F": "####/#   /### /#   /#   ",
    "G": " ####/#    /#  ##/#   #/ ####",
    "H": "#   #/#   #/#####/#   #/#   #",
    "I": "###/ # / # / # /###",
    "J": "  ###/   # /   # /#  # / ##  ",
    "K": "#  #/# # /##  /# # /#  #",
    "L": "#   /#   /#   /#   /####",
    "M": "#   #/## ##/# # #/#   #/#   #",
    "N": "#   #/##  #/# # #/#  ##/#   #",
    "O": " ### /#   #/#   #/#   #/ ### ",
    "P": "#### /#   #/#### /#    /#    ",
    "Q": " ### /#   #/# # #/#  # / ## #",
    "R": "#### /#   #/#### /#  # /#   #",
    "S": " ####/#    / ### /    #/#### ",
    "T": "#####/  #  /  #  /  #  /  #  ",
    "U": "#   #/#   #/#   #/#   #/ ### ",
    "V": "#   #/#   #/#   #/ # # /  #  ",
    "W": "#   #/#   #/# # #/## ##/#   #",
    "X": "#   #/ # # /  #  / # # /#   #",
    "Y": "#   #/ # # /  #  /  #  /  #  ",
    "Z": "#####/   # /  #  / #   /#####",
    "0": " ### /#  ##/# # #/##  #/ ### ",
    "1": " # /## / # / # /###",
    "2": "#### /    #/ ### /#    /#####",
    "3": "#### /    #/ ### /    #/#### ",
    "4": "#  # /#  # /#####/   # /   # ",
    "5": "#####/#    /#### /    #/#### ",
    "6": " ### /#    /#### /#   #/ ### ",
    "7": "#####/   # /  #  / #   /#    ",
    "8": " ### /#   #/ ### /#   #/ ### ",
    "9": " ### /#   #/ ####/    #/ ### ",
    "-": "   /   /###/   /   ",
    ".": " / / / /#",
    ",": "  /  /  / #/# ",
    ":": " /#/ /#/ ",
    "'": "#/#/ / / ",
    "!": "#/#/#/ /#",
    "?": "### /   #/ ## /    / #  ",
    "(": " #/# /# /# / #",
    ")": "# / #/ #/ #/# ",
    "+": "   / # /###/ # /   ",
    "&": " ##  /#  # / ## #/#  # / ## #",
    "/": "    #/   # /  #  / #   /#    ",
    "@": " ### /#  ##/# # #/# ## / ### ",
    "_": "    /    /    /    /####",
    "%": "#   #/   # /  #  / #   /#   #",
    "#": " # # /#####/ # # /#####/ # # ",
    "*": "# # / #  /# # /    /    ",
    "=": "   /###/   /###/   ",
    '"': "# #/# #/   /   /   ",
}
_PLAIN = {
    "ß": "SS",
    "Æ": "AE",
    "Œ": "OE",
    "Ø": "O",
    "Þ": "TH",
    "Ð": "D",
    "Ł": "L",
    "\N{RIGHT SINGLE QUOTATION MARK}": "'",
}


def plain(name: str) -> str:
    """The name in what the table has: capitals, without marks."""
    bare = unicodedata.normalize("NFKD", "".join(_PLAIN.get(c.upper(), _PLAIN.get(c, c)) for c in name))
    return "".join(c for c in bare if not unicodedata.combining(c)).upper()


def block(name: str, width: int, rows: int) -> list[str]:
    """The name in the largest letters that fit: ten rows, five or three; at least three, shortened if it
    must be. No row is wider than `width`.
    """
    text = plain(name)
    for scale in (2, 1):
        if rows >= HIGH * scale and _width(text) * scale <= width:
            return [row for row in _grown(_drawn(text), scale) for _ in range(scale)]
    drawn = _drawn(_fitting(text, width))
    return drawn if rows >= HIGH else _squeezed(drawn)


def _glyph(letter: str) -> list[str]:
    return _LETTERS.get(letter, _UNKNOWN).split("/")


def _width(text: str) -> int:
    return sum(len(_glyph(letter)[0]) + 1 for letter in text) - 1


def _fitting(text: str, width: int) -> str:
    if _width(text) <= width:
        return text
    while text and _width(text + SHORTENED) > width:
        text = text[:-1]
    return text.rstrip() + SHORTENED


def _drawn(text: str) -> list[str]:
    glyphs = [_glyph(letter) for letter in text]
    return [_GAP.join(glyph[row] for glyph in glyphs).replace("#", "█") for row in range(HIGH)]


def _grown(rows: list[str], scale: int) -> list[str]:
    return ["".join(c * scale for c in row) for row in rows]


def _squeezed(rows: list[str]) -> list[str]:
    """Two rows in one, by half blocks."""
    halves = {(" ", " "): " ", ("█", " "): "▀", (" ", "█"): "▄", ("█", "█"): "█"}
    padded = [*rows, " " * len(rows[0])]
    return [
        "".join(halves[pair] for pair in zip(upper, lower, strict=True))
        for upper, lower in zip(padded[::2], padded[1::2], strict=True)
    ]
