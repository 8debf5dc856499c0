"""Words to codes and back: switches, choices, triggers."""

from __future__ import annotations

from switchmatrix.definition.controls import Codes, Named
from switchmatrix.definition.values import Misread, Word
from switchmatrix.diagnostics.nearest import did_you_mean


def read(scale: Named, text: str) -> Word | Misread:
    """The word, if the control has it."""
    words = [word for word, _ in scale.words]
    if text in words:
        return Word(text)
    return Misread(f"`{text}` is no value here", did_you_mean(text, words, "values"))


def encode(scale: Named, value: Word) -> int:
    """The code that is sent for the word."""
    return codes(scale, value).sent


def decode(scale: Named, code: int) -> Word | None:
    """The word whose codes hold `code`; None where no word does."""
    return next((Word(word) for word, codes in scale.words if codes.low <= code <= codes.high), None)


def codes(scale: Named, value: Word) -> Codes:
    """The word's codes; KeyError for a word the control has not got."""
    return dict(scale.words)[value.text]
