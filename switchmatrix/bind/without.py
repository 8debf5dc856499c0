"""A rig without some devices of the rig it is like: songs that name them do without, on purpose."""

from __future__ import annotations

from collections.abc import Callable, Collection

from switchmatrix.bind.fields import scalars
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.syntax.nodes import Mapping, Node, Scalar, Sequence

Entries = tuple[tuple[Scalar, Node], ...]
_NOTHING = "nothing"


def less(base: Mapping, own: Mapping, found: list[Diagnostic]) -> Mapping:
    """`base` with the devices that `own` leaves out among its absent ones, each done without.

    What limits them, and what mutes hold or cover of them, goes with them; what they stood in for is done
    without too. The rig's own vocabulary may still say what stands for some of their names. A device of
    `own` that `base` has among its absent ones is there again: nothing stands in for it any more.
    """
    devices = base.get("devices")
    known = {key.text: node for key, node in devices} if isinstance(devices, Mapping) else {}
    given = own.get("devices")
    again = {key.text for key, _ in given} if isinstance(given, Mapping) else set()
    gone: dict[str, Scalar] = {}
    for scalar in scalars(own.get("without")):
        if scalar.text not in known:
            message = f"the rig that this one is like has no device `{scalar.text}` to leave out"
            found.append(
                names.UNKNOWN_NAME.at(scalar.span, message, did_you_mean(scalar.text, known, "devices"))
            )
        elif scalar.text in again:
            message = f"`{scalar.text}` is left out, and is among the devices of this rig"
            found.append(names.BAD_NAME.at(scalar.span, message, "take it out of one of the two"))
        else:
            gone[scalar.text] = scalar
    regained = again - known.keys()
    base = _regained(base, regained) if regained else base
    return _less(base, known, gone) if gone else base


def _owner(key: Scalar) -> str:
    """The device that a name is of."""
    return key.text.partition(".")[0]


def _rebuilt(base: Mapping, changed: dict[str, Callable[[Node], Node]]) -> Entries:
    """The rig's sections, some of them changed."""
    return tuple((key, changed[key.text](node) if key.text in changed else node) for key, node in base)


def _regained(base: Mapping, regained: Collection[str]) -> Mapping:
    """`base` with nothing standing in for devices that are there again."""
    absent = base.get("absent")
    back = {key.text for key, _ in absent if key.text in regained} if isinstance(absent, Mapping) else set()
    if not back:
        return base

    def kept(key: Scalar) -> bool:
        return _owner(key) not in back

    def joints(node: Node) -> Node:
        return _items(node, lambda item: item if all(map(kept, scalars(item.get("of")))) else None)

    entries = _rebuilt(
        base,
        {
            "absent": lambda node: _only(node, kept),
            "vocabulary": lambda node: _only(node, kept),
            "joint": joints,
        },
    )
    return Mapping(entries, base.span)


def _less(base: Mapping, known: dict[str, Node], gone: dict[str, Scalar]) -> Mapping:
    absent: Entries = tuple(
        (scalar, definition)
        for label, scalar in gone.items()
        if isinstance(node := known[label], Mapping)
        and isinstance(definition := node.get("definition"), Scalar)
    )
    nothing: Entries = tuple((scalar, Scalar(_NOTHING, scalar.span)) for scalar, _ in absent)
    listed = base.get("absent")
    absents = {key.text for key, _ in listed} if isinstance(listed, Mapping) else set()

    def kept(key: Scalar) -> bool:
        return _owner(key) not in gone

    sections = _rebuilt(
        base,
        {
            "devices": lambda node: _only(node, kept),
            "limits": lambda node: _only(node, kept),
            "absent": lambda node: _with(node, absent),
            "vocabulary": lambda node: _with(_stood_in(node, absents, kept), nothing),
            "joint": lambda node: _items(node, lambda item: _joint(item, kept)),
            "mutes": lambda node: _items(node, lambda item: _mute(item, kept)),
        },
    )
    present = {key.text for key, _ in base}
    more = tuple(
        (Scalar(label, base.span), Mapping(entries, base.span))
        for label, entries in (("absent", absent), ("vocabulary", nothing))
        if label not in present
    )
    return Mapping((*sections, *more), base.span)


def _only(node: Node, kept: Callable[[Scalar], bool]) -> Node:
    if not isinstance(node, Mapping):
        return node
    return Mapping(tuple(pair for pair in node.entries if kept(pair[0])), node.span)


def _with(node: Node, more: Entries) -> Node:
    return Mapping((*node.entries, *more), node.span) if isinstance(node, Mapping) else node


def _items(node: Node, changed: Callable[[Mapping], Mapping | None]) -> Node:
    """A list of blocks, each changed or, where it becomes None, left out."""
    if not isinstance(node, Sequence):
        return node
    out = [changed(item) if isinstance(item, Mapping) else item for item in node.items]
    return Sequence(tuple(item for item in out if item is not None), node.span)


def _stood_in(node: Node, absents: Collection[str], kept: Callable[[Scalar], bool]) -> Node:
    """The vocabulary, in which what is gone stands in for no absent device any more."""
    if not isinstance(node, Mapping):
        return node
    out: list[tuple[Scalar, Node]] = []
    for key, value in node:
        if "." not in key.text and key.text not in absents:
            out.append((key, value))
        elif isinstance(value, Mapping):
            out.append((key, Mapping(tuple((word, _only(row, kept)) for word, row in value), value.span)))
        elif isinstance(value, Scalar) and not kept(value):
            out.append((key, Scalar(_NOTHING, value.span)))
        else:
            out.append((key, value))
    return Mapping(tuple(out), node.span)


def _joint(item: Mapping, kept: Callable[[Scalar], bool]) -> Mapping:
    """A joint table whose rows bring only what is there."""
    entries: list[tuple[Scalar, Node]] = []
    for key, value in item:
        if key.text == "rows" and isinstance(value, Sequence):
            rows = [
                Sequence(tuple(_only(cell, kept) for cell in row.items), row.span)
                if isinstance(row, Sequence)
                else row
                for row in value.items
            ]
            entries.append((key, Sequence(tuple(rows), value.span)))
        else:
            entries.append((key, value))
    return Mapping(tuple(entries), item.span)


def _mute(item: Mapping, kept: Callable[[Scalar], bool]) -> Mapping | None:
    """A mute less what is gone; None where nothing is left to cover or to hold."""
    covers = tuple(scalar for scalar in scalars(item.get("while")) if kept(scalar))
    hold = item.get("hold")
    holds = _only(hold, kept) if hold is not None else None
    if not covers or not isinstance(holds, Mapping) or not holds.entries:
        return None
    fresh: dict[str, Node] = {"while": Sequence(covers, item.span), "hold": holds}
    return Mapping(tuple((key, fresh.get(key.text, value)) for key, value in item), item.span)
