"""Read a block's keys. Its shape is known to be right, save where something broken was taken out."""

from __future__ import annotations

from collections.abc import Iterator

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Broken, Mapping, Node, Scalar, Sequence


class Fields:
    """One block, read key by key; what is wrong with a value goes to `found`."""

    __slots__ = ("found", "node")

    def __init__(self, node: Mapping, found: list[Diagnostic]) -> None:
        self.node = node
        self.found = found

    @property
    def span(self) -> Span:
        """The whole block's place."""
        return self.node.span

    def has(self, key: str) -> bool:
        """Whether the key is there, broken or not."""
        return self.node.key(key) is not None

    def broken(self, key: str) -> bool:
        """Whether the key is there with a value that was refused."""
        return isinstance(self.node.get(key), Broken)

    def scalar(self, key: str) -> Scalar | None:
        """The key's text with its place."""
        node = self.node.get(key)
        return node if isinstance(node, Scalar) else None

    def text(self, key: str) -> str | None:
        """The key's text."""
        scalar = self.scalar(key)
        return scalar.text if scalar is not None else None

    def yes(self, key: str) -> bool:
        """Whether the key says yes."""
        return self.scalar(key) is not None

    def whole(self, key: str, low: int, high: int) -> int | None:
        """The key's whole number, within bounds."""
        scalar = self.scalar(key)
        return None if scalar is None else whole(scalar, low, high, f"`{key}`", self.found)

    def block(self, key: str) -> Fields | None:
        """The block under the key."""
        node = self.node.get(key)
        return Fields(node, self.found) if isinstance(node, Mapping) else None

    def each(self, key: str) -> Iterator[tuple[Scalar, Node]]:
        """The entries of the block under the key."""
        node = self.node.get(key)
        return iter(node.entries if isinstance(node, Mapping) else ())

    def scalars(self, key: str) -> tuple[Scalar, ...]:
        """The texts of the list under the key; one text counts as a list of one."""
        return scalars(self.node.get(key))

    def items(self, key: str) -> tuple[Node, ...]:
        """The items of the list under the key."""
        node = self.node.get(key)
        return node.items if isinstance(node, Sequence) else ()


def scalars(node: Node | None) -> tuple[Scalar, ...]:
    """The texts of a list, or the one text."""
    if isinstance(node, Scalar):
        return (node,)
    items = node.items if isinstance(node, Sequence) else ()
    return tuple(item for item in items if isinstance(item, Scalar))


def whole(scalar: Scalar, low: int, high: int, what: str, found: list[Diagnostic]) -> int | None:
    """A whole number within bounds, or None and a finding."""
    number = int(scalar.text) if len(scalar.text) <= 9 else 10**9
    if low <= number <= high:
        return number
    message = f"{what} is {scalar.text}; it goes from {low} to {high}"
    found.append(names.NUMBER_OUTSIDE.at(scalar.span, message, f"write a number from {low} to {high}"))
    return None


def is_yes(text: str) -> bool:
    """Whether a `yes` or `no`, as YAML has them, is a yes."""
    return text.lower() in ("yes", "true", "on")


def byte_of(scalar: Scalar) -> int:
    """The number that a text such as `125` or `0x7D` says."""
    if len(scalar.text) > 9:
        return 10**9
    return int(scalar.text, 16) if scalar.text.startswith("0x") else int(scalar.text)
