"""What a file says, before anyone asks what it means. Every scalar is text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from switchmatrix.source import Span


@dataclass(frozen=True, slots=True)
class Scalar:
    """A piece of text; `plain` where it stood without quotes."""

    text: str
    span: Span
    plain: bool = True


@dataclass(frozen=True, slots=True)
class Sequence:
    """Items in file order."""

    items: tuple[Node, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys with values, in file order; no key twice."""

    entries: tuple[tuple[Scalar, Node], ...]
    span: Span

    def get(self, key: str) -> Node | None:
        """The value of `key`, if it is there."""
        return next((value for k, value in self.entries if k.text == key), None)

    def key(self, key: str) -> Scalar | None:
        """The key itself, for its place."""
        return next((k for k, _ in self.entries if k.text == key), None)

    def __iter__(self) -> Iterator[tuple[Scalar, Node]]:
        return iter(self.entries)


@dataclass(frozen=True, slots=True)
class Broken:
    """Something wrong that has been said already: later stages pass it by."""

    span: Span


Node = Scalar | Sequence | Mapping | Broken


def plain_value(node: Node) -> object:
    """The node as dicts, lists and strings, as a schema sees it; a broken one is None."""
    match node:
        case Scalar():
            return node.text
        case Sequence():
            return [plain_value(item) for item in node.items]
        case Mapping():
            return {key.text: plain_value(value) for key, value in node.entries}
        case Broken():
            return None
