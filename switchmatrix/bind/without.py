"""A rig without some devices of the rig it is like: songs that name them do without, on purpose."""

from __future__ import annotations

from collections.abc import Callable

from switchmatrix.bind.fields import scalars
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.syntax.nodes import Mapping, Node, Scalar, Sequence

Entries = tuple[tuple[Scalar, Node], ...]


def less(base: Mapping, own: Mapping, found: list[Diagnostic]) -> Mapping:
    """`base` with the devices that `own` leaves out among its absent ones, each done without.

    What limits them, and what mutes hold or cover of them, goes with them. The rig's own vocabulary may
    still say what stands for some of their names.
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
    return _less(base, known, gone) if gone else base


def _less(base: Mapping, known: dict[str, Node], gone: dict[str, Scalar]) -> Mapping:
    absent: Entries = tuple(
        (scalar, definition)
        for label, scalar in gone.items()
        if isinstance(node := known[label], Mapping)
        and isinstance(definition := node.get("definition"), Scalar)
    )
    nothing: Entries = tuple((scalar, Scalar("nothing", scalar.span)) for scalar, _ in absent)

    def kept(key: Scalar) -> bool:
        return key.text.partition(".")[0] not in gone

    changed: dict[str, Callable[[Node], Node]] = {
        "devices": lambda node: _only(node, kept),
        "limits": lambda node: _only(node, kept),
        "absent": lambda node: _with(node, absent),
        "vocabulary": lambda node: _with(node, nothing),
        "mutes": lambda node: _mutes(node, kept),
    }
    sections = [(key, changed.get(key.text, _same)(node)) for key, node in base.entries]
    present = {key.text for key, _ in base.entries}
    sections += [
        (Scalar(label, base.span), Mapping(entries, base.span))
        for label, entries in (("absent", absent), ("vocabulary", nothing))
        if label not in present
    ]
    return Mapping(tuple(sections), base.span)


def _same(node: Node) -> Node:
    return node


def _only(node: Node, kept: Callable[[Scalar], bool]) -> Node:
    if not isinstance(node, Mapping):
        return node
    return Mapping(tuple(pair for pair in node.entries if kept(pair[0])), node.span)


def _with(node: Node, more: Entries) -> Node:
    return Mapping((*node.entries, *more), node.span) if isinstance(node, Mapping) else node


def _mutes(node: Node, kept: Callable[[Scalar], bool]) -> Node:
    """Mutes less what is gone; one with nothing left to cover or to hold goes too."""
    if not isinstance(node, Sequence):
        return node
    out: list[Node] = []
    for item in node.items:
        if not isinstance(item, Mapping):
            out.append(item)
            continue
        covers = tuple(s for s in scalars(item.get("while")) if kept(s))
        hold = item.get("hold")
        holds = _only(hold, kept) if hold is not None else None
        if covers and isinstance(holds, Mapping) and holds.entries:
            fresh: dict[str, Node] = {"while": Sequence(covers, item.span), "hold": holds}
            out.append(Mapping(tuple((key, fresh.get(key.text, value)) for key, value in item), item.span))
    return Sequence(tuple(out), node.span)
