"""The device map of one rig: ports, devices, vocabulary, home."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from switchmatrix.bind.controllers import bind_controllers
from switchmatrix.bind.devices import Definitions, bind_absent, bind_device, with_stores
from switchmatrix.bind.feet import bind_feet
from switchmatrix.bind.fields import Fields
from switchmatrix.bind.lines import bind_lines
from switchmatrix.bind.mutes import bind_mutes
from switchmatrix.bind.naming import name
from switchmatrix.bind.scope import Scope
from switchmatrix.bind.songs import (
    SongSource,
    bind_changes,
    bind_on_rig,
    hands,
    refuse_triggers,
    standing_source,
)
from switchmatrix.bind.vocabulary import absent_patches, bind_entries, bind_joints, bind_translations
from switchmatrix.controls import in_scale, numbers, times
from switchmatrix.definition.controls import TIME, Linear
from switchmatrix.definition.values import Misread, Quantity
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.model.rig import Instrument, Limit, Port, Rig
from switchmatrix.model.settings import PATCH, Block, Line, Target
from switchmatrix.model.song import STANDING
from switchmatrix.syntax.nodes import Mapping, Node, Sequence

Songs = dict[str, SongSource | None]


@dataclass(frozen=True, slots=True)
class BoundRig:
    """A rig, the names that songs may use on it, its standing scenes; a broken instrument is None."""

    rig: Rig
    scope: Scope
    standing_source: SongSource
    instruments: dict[str, Instrument | None]


def bind_rig(
    id: str, root: Node, definitions: Definitions | None, songs: Songs, found: list[Diagnostic]
) -> BoundRig | None:
    """The rig in a file's root node; None where the file could not be read."""
    if not isinstance(root, Mapping):
        return None
    fields = Fields(root, found)
    scope = Scope()
    ports = _ports(fields)
    controllers = bind_controllers(fields, found)
    for key, node in fields.each("devices"):
        named = name(key, "a device", found) is not None
        device = bind_device(key, node, definitions, fields, found)
        scope.devices[key.text] = device if named else None
    for key, node in fields.each("absent"):
        scope.absents[key.text] = bind_absent(key, node, scope, definitions, found)
    _limits(scope, fields, found)
    scope.hands = hands(scope, fields.scalars("hands"), found) | scope.moved_by_player()
    for label, device in scope.devices.items():
        if device is not None:
            scope.devices[label] = with_stores(scope, device, fields, found)
    scope.absent_patches = absent_patches(scope, fields)
    scope.translations = bind_translations(scope, fields, found)
    scope.hands = scope.with_hands(frozenset())
    bind_entries(scope, fields, found)
    joints = bind_joints(scope, fields, found)
    home = _home(scope, fields.node.get("home"), found)
    refuse_triggers(scope, home, "home", found)
    instruments = _instruments(scope, fields, found)
    mutes = bind_mutes(scope, fields, found)
    source = standing_source(fields, found)
    standing = bind_on_rig(scope, source, instruments, found)
    changes = bind_changes(scope, f"rig {id}", fields.node.get("changes"), {**songs, STANDING: source}, found)
    rig = Rig(
        id=id,
        title=fields.text("rig") or id,
        ports=ports,
        controllers=controllers,
        devices=tuple(d for d in scope.devices.values() if d is not None),
        absents=tuple(a for a in scope.absents.values() if a is not None),
        instruments=tuple(i for i in instruments.values() if i is not None),
        entries=tuple(e for e in scope.entries.values() if e is not None),
        translations=scope.translations,
        joints=joints,
        triggers=scope.triggers(),
        hands=scope.hands,
        home=home,
        limits=scope.limits,
        standing=standing,
        changes=changes,
        span=root.span,
        mutes=mutes,
        feet=bind_feet(fields, found),
    )
    return BoundRig(rig, scope, source, instruments)


def _home(scope: Scope, node: Node | None, found: list[Diagnostic]) -> Block:
    """Home's lines; where the rig is like another, its own single lines over the other's."""
    lines: dict[str, Line] = {}
    for block in node.items if isinstance(node, Sequence) else (node,):
        if isinstance(block, Mapping):
            lines.update((line.name, line) for line in bind_lines(scope, block.entries, found))
    return tuple(lines.values())


def _ports(fields: Fields) -> tuple[Port, ...]:
    ports = []
    for key, node in fields.each("ports"):
        if name(key, "a port", fields.found) is None or not isinstance(node, Mapping):
            continue
        port = Fields(node, fields.found)
        usb = port.text("speed") == "usb"
        ports.append(Port(key.text, port.text("out") or key.text, port.text("in"), usb, key.span))
    return tuple(ports)


def _limits(scope: Scope, fields: Fields, found: list[Diagnostic]) -> None:
    for key, node in fields.each("limits"):
        target = scope.target(key, found)
        if target is None or not isinstance(node, Mapping):
            continue
        if target.device not in scope.devices:
            message = f"`{target.device}` is absent, so nothing of it is sent to limit"
            found.append(names.BAD_VALUE.at(key.span, message, "limit the control that stands for it here"))
            continue
        limit = Fields(node, found)
        scale = scope.control(target).scale if target.control != PATCH else None
        if not isinstance(scale, Linear):
            message = f"`{target}` has no numbers to limit"
            found.append(names.BAD_VALUE.at(key.span, message, "limits are for levels and times"))
            continue
        least, most = (_bound(scope, target, limit, side) for side in ("least", "most"))
        if least is not None and most is not None and least > most:
            message = f"`least` of `{target}` lies above its `most`: no value fits"
            found.append(names.BAD_VALUE.at(key.span, message, "swap the two, or mend one"))
            continue
        scope.limits[target] = Limit(least, most, key.span)


def _bound(scope: Scope, target: Target, limit: Fields, side: str) -> Fraction | float | None:
    scalar = limit.scalar(side)
    if scalar is None:
        return None
    control = scope.control(target)
    parsed = numbers.parse(scalar.text)
    read = times.read(scalar.text, parsed) if control.kind == TIME else parsed
    held = in_scale(control, read) if isinstance(read, Quantity) else None
    if isinstance(read, Misread) or held is None or not isinstance(control.scale, Linear):
        held = None
    if held is None or not isinstance(read, Quantity) or read.unit != getattr(control.scale, "unit", None):
        message = f"`{scalar.text}` is no bound for `{target}`"
        limit.found.append(names.BAD_VALUE.at(scalar.span, message, "write it in the control's own unit"))
        return None
    return held.number


def _instruments(scope: Scope, fields: Fields, found: list[Diagnostic]) -> dict[str, Instrument | None]:
    instruments: dict[str, Instrument | None] = {}
    for key, node in fields.each("instruments"):
        if name(key, "an instrument", found) is None:
            continue
        if not isinstance(node, Mapping):
            instruments[key.text] = None
            continue
        block = Fields(node, found)
        sets = block.node.get("sets")
        lines = bind_lines(scope, sets.entries if isinstance(sets, Mapping) else (), found)
        refuse_triggers(scope, lines, "an instrument", found)
        pickups = tuple(s.text for s in block.scalars("pickups"))
        retune = block.whole("retune", 0, 99) or 0
        instruments[key.text] = Instrument(key.text, block.text("tuning"), pickups, lines, key.span, retune)
    return instruments
