"""Did you mean: the nearest known name."""

from __future__ import annotations

from collections.abc import Iterable


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name fewest slips away, if that is within a third of `name`'s length."""
    from rapidfuzz.distance import OSA

    most = len(name) // 3
    ranked = sorted((OSA.distance(name.lower(), k.lower()), k) for k in set(known))
    return ranked[0][1] if ranked and ranked[0][0] <= most else None


def did_you_mean(name: str, known: Iterable[str], what: str) -> str:
    """Advice about an unknown `name`: the nearest known one, else what there is."""
    names = sorted(set(known))
    near = nearest(name, names)
    if near is not None:
        return f"did you mean `{near}`?"
    if not names:
        return f"there are no {what} here"
    shown = ", ".join(f"`{n}`" for n in names[:20])
    more = f" and {len(names) - 20} more" if len(names) > 20 else ""
    return f"known here as {what}: {shown}{more}"
