"""Setlists: the least moves, drops and additions that lead from one to the other."""

from __future__ import annotations

from switchmatrix.compare.records import Item, Move, Names, SetlistDiff
from switchmatrix.model.show import Leg, SetlistItem


def setlist_diff(old: Leg | None, new: Leg | None, names: dict[str, str]) -> SetlistDiff | None:
    """What is different in a leg's setlist; None where nothing is. `names` are songs under new names."""
    was, now = _items(old), _items(new)
    renamed = [Item(_now(item, names), item.standing, item.remark) for item in was]
    if renamed == list(now):
        return None
    return SetlistDiff(was, now, _moves(was, [(i.standing, i.name) for i in renamed], now))


def _items(leg: Leg | None) -> tuple[Item, ...]:
    return tuple(_item(item) for item in leg.setlist) if leg is not None else ()


def _item(item: SetlistItem) -> Item:
    return Item(item.name, item.standing, item.remark)


def _now(item: Item, names: dict[str, str]) -> str:
    return item.name if item.standing else names.get(item.name, item.name)


_Key = tuple[bool, str]


def _moves(was: tuple[Item, ...], keys: list[_Key], now: tuple[Item, ...]) -> tuple[Move, ...]:
    """What stands in another place; what keeps its order beside most others has not moved."""
    after = [(item.standing, item.name) for item in now]
    kept = common(keys, after)
    stay_old, stay_new = {a for a, _ in kept}, {b for _, b in kept}
    gone = [n for n in range(len(keys)) if n not in stay_old]
    moves: list[Move] = []
    for m in (m for m in range(len(after)) if m not in stay_new):
        n = next((n for n in gone if keys[n] == after[m]), None)
        if n is not None:
            gone.remove(n)
        before = was[n].name if n is not None else None
        moves.append(Move(Names(before, now[m].name), now[m].standing, None if n is None else n + 1, m + 1))
    dropped = [Move(Names(was[n].name, None), was[n].standing, n + 1, None) for n in gone]
    return (*moves, *dropped)


def common(old: list[_Key], new: list[_Key]) -> list[tuple[int, int]]:
    """A longest common subsequence, as pairs of places; of several the one that takes the earliest."""
    longest = [[0] * (len(new) + 1) for _ in range(len(old) + 1)]
    for n in range(len(old) - 1, -1, -1):
        for m in range(len(new) - 1, -1, -1):
            same = old[n] == new[m]
            longest[n][m] = longest[n + 1][m + 1] + 1 if same else max(longest[n + 1][m], longest[n][m + 1])
    pairs: list[tuple[int, int]] = []
    n = m = 0
    while n < len(old) and m < len(new):
        if old[n] == new[m]:
            pairs.append((n, m))
            n, m = n + 1, m + 1
        elif longest[n + 1][m] >= longest[n][m + 1]:
            n += 1
        else:
            m += 1
    return pairs
