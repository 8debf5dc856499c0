"""A rig that starts from another: its own entries over those of that rig, less what it leaves out."""

from __future__ import annotations

from switchmatrix.bind.without import less
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.syntax.nodes import Broken, Mapping, Node, Scalar, Sequence

LONGEST_CHAIN = 20
"""How many rigs may stand one on another."""

_DEPTHS = {"devices": 3, "vocabulary": 2}
"""Levels of names that are merged below a section: a device's keys and its patches, an entry's words.

In any other section a name is taken whole from the rig that says it.
"""


def inherited(
    roots: dict[str, Node], found: list[Diagnostic]
) -> tuple[dict[str, Node], dict[str, list[str]]]:
    """Each rig's node with what it has from the rig it is like, and the rigs that each is made of."""
    whole: dict[str, Node] = {}
    made_of: dict[str, list[str]] = {}
    for id in roots:
        whole[id], made_of[id] = _whole(id, roots, [], found)
    return whole, made_of


def _whole(
    id: str, roots: dict[str, Node], above: list[str], found: list[Diagnostic]
) -> tuple[Node, list[str]]:
    root = roots[id]
    like = root.get("like") if isinstance(root, Mapping) else None
    if not isinstance(root, Mapping) or not isinstance(like, Scalar):
        return root, [id]
    if like.text == id or like.text in above:
        message = f"the rig `{id}` is like itself"
        found.append(names.LIKE_CIRCLE.at(like.span, message, "take one `like` of the circle away"))
        return Broken(root.span), [id]
    if len(above) >= LONGEST_CHAIN:
        message = f"more than {LONGEST_CHAIN} rigs are like one another in a chain"
        found.append(names.TOO_LARGE.at(like.span, message, "let rigs be like the first of them"))
        return Broken(root.span), [id]
    if like.text not in roots:
        message = f"no rig is called `{like.text}`"
        found.append(names.UNKNOWN_NAME.at(like.span, message, did_you_mean(like.text, roots, "rigs")))
        return Broken(root.span), [id]
    base, made_of = _whole(like.text, roots, [*above, id], found)
    if not isinstance(base, Mapping):
        return Broken(root.span), [id, *made_of]
    base = less(base, root, found)
    own = tuple((key, value) for key, value in root.entries if key.text not in ("like", "without"))
    return _over(base, Mapping(own, root.span)), [id, *made_of]


def _over(base: Mapping, own: Mapping) -> Mapping:
    """A rig's sections over those of the rig it is like."""
    sections = {key.text: _DEPTHS.get(key.text, 1) for key, _ in base.entries}
    merged = _merged(base, own, sections)
    return Mapping(
        tuple((key, _stacked(base, own) if key.text == "home" else value) for key, value in merged.entries),
        merged.span,
    )


def _stacked(base: Mapping, own: Mapping) -> Node:
    """The homes of a rig and of those it is like, its own last: their lines are made single later."""
    homes: list[Node] = []
    for home in (base.get("home"), own.get("home")):
        homes += home.items if isinstance(home, Sequence) else [home] if home is not None else []
    return Sequence(tuple(homes), homes[-1].span)


def _merged(base: Mapping, own: Mapping, levels: dict[str, int]) -> Mapping:
    """Names of both in the base's order, then what is new; a name's own block as far as its `levels`."""
    entries: list[tuple[Scalar, Node]] = []
    for key, value in base.entries:
        over = own.get(key.text)
        if levels[key.text] > 0 and isinstance(value, Mapping) and isinstance(over, Mapping):
            over = _merged(value, over, {name.text: levels[key.text] - 1 for name, _ in value.entries})
        entries.append((own.key(key.text) or key, over if over is not None else value))
    known = {key.text for key, _ in base.entries}
    return Mapping((*entries, *((k, v) for k, v in own.entries if k.text not in known)), own.span)
