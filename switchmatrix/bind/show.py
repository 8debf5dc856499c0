"""The show's own file: rigs, legs, setlists."""

from __future__ import annotations

from collections.abc import Collection

from switchmatrix.bind.acceptances import accepted
from switchmatrix.bind.fields import Fields, is_yes, scalars
from switchmatrix.bind.naming import name
from switchmatrix.bind.pace import budget, on_time
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.model.show import Leg, SetlistItem, Show
from switchmatrix.source import is_id
from switchmatrix.syntax.nodes import Mapping, Node, Scalar


def bind_show(
    root: Node, rigs: Collection[str] | None, songs: Collection[str], found: list[Diagnostic]
) -> tuple[Show, dict[str, Node]] | None:
    """The show, and the changes of each leg that rigs have yet to bind; None for a broken file.

    `rigs` and `songs` are the ids that there are files for; None where they could not be listed.
    """
    if not isinstance(root, Mapping):
        return None
    fields = Fields(root, found)
    given = fields.scalars("rigs")
    named = _rigs(given, rigs, "rigs", found)
    _twins(given, found)
    legs: list[Leg] = []
    changes: dict[str, Node] = {}
    for key, node in fields.each("legs"):
        if _leg_name(key, legs, found) is None or not isinstance(node, Mapping):
            continue
        leg = Fields(node, found)
        unsure = rigs is None or fields.broken("rigs") or len(named) < len(given)
        known = None if unsure else named
        on = _rigs(leg.scalars("rigs"), known, "rigs of this show", found, named)
        items = [_item(item, songs, found) for item in leg.items("setlist")]
        legs.append(Leg(key.text, on, tuple(i for i in items if i is not None), key.span))
        under = leg.node.get("changes")
        if under is not None:
            changes[key.text] = under
    if not legs and not fields.broken("legs") and not any(True for _ in fields.each("legs")):
        key_scalar = fields.node.key("legs")
        span = key_scalar.span if key_scalar is not None else fields.span
        found.append(
            names.VALUE_MISSING.at(span, "the show has no leg", "write one, with `rigs` and a `setlist`")
        )
    show = Show(
        title=fields.text("show") or "",
        rigs=named,
        legs=tuple(legs),
        span=fields.span,
        on_time=bool(on_time(fields)),
        budget=budget(fields),
        accepted=accepted(fields, found),
        asks_after_fault=_asks_after_fault(fields),
    )
    return show, changes


def _asks_after_fault(fields: Fields) -> bool:
    """The key `ask-after-fault`; where it says nothing that can be read, a person is asked."""
    said = fields.text("ask-after-fault")
    return said is None or is_yes(said)


def _leg_name(key: Scalar, legs: list[Leg], found: list[Diagnostic]) -> str | None:
    """A leg's name, which also names a folder of what is compiled."""
    if name(key, "a leg", found) is None:
        return None
    twin = next((leg for leg in legs if leg.name.casefold() == key.text.casefold()), None)
    if is_id(key.text) and twin is None:
        return key.text
    message = f"`{key.text}` cannot name a leg: a folder of that name is made for it"
    help = "use letters, digits, spaces and `-` only"
    if twin is not None:
        message = f"`{key.text}` and `{twin.name}` are one name to some disks, and each leg has its folder"
        help = "rename one of them"
    found.append(names.BAD_NAME.at(key.span, message, help))
    return None


def _twins(given: tuple[Scalar, ...], found: list[Diagnostic]) -> None:
    """Two rigs whose names differ in case alone: one folder to some disks."""
    first: dict[str, str] = {}
    for scalar in given:
        other = first.setdefault(scalar.text.casefold(), scalar.text)
        if other != scalar.text:
            message = f"`{scalar.text}` and `{other}` are one name to some disks, and each rig has its folder"
            found.append(names.BAD_NAME.at(scalar.span, message, "rename one of the two files"))


def _rigs(
    given: tuple[Scalar, ...],
    known: Collection[str] | None,
    what: str,
    found: list[Diagnostic],
    sound: Collection[str] | None = None,
) -> tuple[str, ...]:
    """The rigs that are `known` (None: any), less those known that are not `sound`, which has been said."""
    rigs = []
    for scalar in given:
        if known is None or scalar.text in known:
            if sound is None or scalar.text in sound:
                rigs.append(scalar.text)
        else:
            message = f"no rig is called `{scalar.text}`"
            found.append(names.UNKNOWN_NAME.at(scalar.span, message, did_you_mean(scalar.text, known, what)))
    return tuple(dict.fromkeys(rigs))


def _item(item: Node, songs: Collection[str], found: list[Diagnostic]) -> SetlistItem | None:
    if isinstance(item, Scalar):
        if item.text in songs:
            return SetlistItem(item.text, False, None, item.span)
        message = f"no song is called `{item.text}`"
        found.append(names.UNKNOWN_NAME.at(item.span, message, did_you_mean(item.text, songs, "songs")))
        return None
    if not isinstance(item, Mapping):
        return None
    fields = Fields(item, found)
    standing = scalars(item.get("standing"))
    if not standing:
        return None
    return SetlistItem(standing[0].text, True, fields.text("remark"), standing[0].span)
