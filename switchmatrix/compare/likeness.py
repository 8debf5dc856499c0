"""How alike two things are, and which of the old ones each new one is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Sequence
from fractions import Fraction
from typing import TypeVar

A = TypeVar("A")
B = TypeVar("B")

ENOUGH = Fraction(3, 5)
"""From this likeness on, a thing under another name is taken for the same thing."""


def alike(one: Iterable[Hashable], other: Iterable[Hashable]) -> Fraction:
    """Twice what two bags share, over what both hold: 0 to 1; 0 where both are empty."""
    a, b = Counter(one), Counter(other)
    total = a.total() + b.total()
    return Fraction(2 * (a & b).total(), total) if total else Fraction(0)


def matched(
    old: Sequence[A], new: Sequence[B], likeness: Callable[[A, B], Fraction], enough: Fraction = ENOUGH
) -> list[tuple[A, B]]:
    """Pairs that are alike enough, the most alike first; each thing once, ties in the order given."""
    ranked = sorted(
        ((-likeness(a, b), n, m) for n, a in enumerate(old) for m, b in enumerate(new)),
    )
    pairs: list[tuple[A, B]] = []
    taken_old: set[int] = set()
    taken_new: set[int] = set()
    for rank, n, m in ranked:
        if -rank >= enough and n not in taken_old and m not in taken_new:
            taken_old.add(n)
            taken_new.add(m)
            pairs.append((old[n], new[m]))
    return pairs
