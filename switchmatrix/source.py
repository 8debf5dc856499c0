"""Where a thing stands in the files a person wrote."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

_ID = re.compile(r"[^\W_][\w '()+&-]{0,79}")
_BREAK = re.compile("\r\n|[\n\r]")


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A stretch of one file: path relative to the show, lines and columns from 1, the end exclusive."""

    path: str
    line: int
    column: int
    end_line: int
    end_column: int

    def to(self, other: Span) -> Span:
        """The stretch from the start of this span to the end of `other` (of the same file)."""
        return Span(self.path, self.line, self.column, other.end_line, other.end_column)

    def __str__(self) -> str:
        return f"{self.path}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class SourceFile:
    """The text of one file of a show."""

    path: str
    text: str

    def lines(self) -> tuple[str, ...]:
        """The file's lines, broken where editors break them (other breaks of YAML 1.1 are refused)."""
        return _split(self.text)


@lru_cache(maxsize=16)
def _split(text: str) -> tuple[str, ...]:
    return tuple(_BREAK.split(text))


def is_id(text: str) -> bool:
    """Whether the text can be the id of a file, and the name of a folder on any disk."""
    return _ID.fullmatch(text) is not None and text == text.strip() and len(text.encode("utf-8")) <= 160


def whole_file(path: str) -> Span:
    """The place of a finding that concerns a file as a whole."""
    return Span(path, 1, 1, 1, 1)
