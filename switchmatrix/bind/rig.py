"""The device map of one rig: ports, devices, vocabulary, home."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from switchmatrix.bind import values
from switchmatrix.bind.fields import Fields, whole
from switchmatrix.bind.lines import bind_lines
from switchmatrix.bind.naming import VALUE_WORDS, name
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
from switchmatrix.definition.definition import Definition
from switchmatrix.definition.values import Misread, Quantity
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.midi.numbers import ChannelNumber, PanelNumber, wire_program
from switchmatrix.model.rig import Absent, Controller, Device, Instrument, Limit, Port, Rig
from switchmatrix.model.settings import PATCH, Block, Coded, Line, Patch, Stored, Target
from switchmatrix.model.song import STANDING
from switchmatrix.syntax.nodes import Mapping, Node, Scalar, Sequence

Definitions = dict[str, Definition | None]
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
    controllers = _controllers(fields, found)
    for key, node in fields.each("devices"):
        named = name(key, "a device", found) is not None
        device = _device(key, node, definitions, fields, found)
        scope.devices[key.text] = device if named else None
    for key, node in fields.each("absent"):
        scope.absents[key.text] = _absent(key, node, scope, definitions, found)
    _limits(scope, fields, found)
    scope.hands = hands(scope, fields.scalars("hands"), found)
    for label, device in scope.devices.items():
        if device is not None:
            scope.devices[label] = _with_stores(scope, device, fields, found)
    scope.absent_patches = absent_patches(scope, fields)
    scope.translations = bind_translations(scope, fields, found)
    scope.hands = scope.with_hands(frozenset())
    bind_entries(scope, fields, found)
    joints = bind_joints(scope, fields, found)
    home = _home(scope, fields.node.get("home"), found)
    refuse_triggers(scope, home, "home", found)
    instruments = _instruments(scope, fields, found)
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


def _port(fields: Fields, rig: Fields) -> str | None:
    """The name of a port of the rig."""
    scalar = fields.scalar("port")
    known = [key.text for key, _ in rig.each("ports")]
    if scalar is None or scalar.text in known:
        return None if scalar is None else scalar.text
    if not rig.broken("ports"):
        message = f"no port is called `{scalar.text}`"
        fields.found.append(
            names.UNKNOWN_NAME.at(scalar.span, message, did_you_mean(scalar.text, known, "ports"))
        )
    return None


def _controllers(fields: Fields, found: list[Diagnostic]) -> tuple[Controller, ...]:
    controllers = []
    for key, node in fields.each("controllers"):
        if name(key, "a controller", found) is None or not isinstance(node, Mapping):
            continue
        controller = Fields(node, found)
        port, channel = _port(controller, fields), controller.whole("channel", 1, 16)
        sends = controller.block("sends")
        if port is None or channel is None or sends is None:
            continue
        ccs: list[int] = []
        for scalar in sends.scalars("cc"):
            bounds = [
                whole(Scalar(part.strip(), scalar.span), 0, 127, "the CC number", found)
                for part in scalar.text.split("-")
            ]
            if bounds[0] is None or bounds[-1] is None:
                continue
            if bounds[0] > bounds[-1]:
                message = f"the CC numbers {scalar.text} run backwards"
                found.append(names.BAD_VALUE.at(scalar.span, message, f"write `{bounds[-1]}-{bounds[0]}`"))
            ccs += range(bounds[0], bounds[-1] + 1)
        controllers.append(
            Controller(key.text, port, ChannelNumber(channel), sends.yes("programs"), tuple(ccs), key.span)
        )
    return tuple(controllers)


def _definition(
    scalar: Scalar | None, definitions: Definitions | None, found: list[Diagnostic]
) -> Definition | None:
    if scalar is None or definitions is None:
        return None
    if scalar.text not in definitions:
        message = f"no definition is called `{scalar.text}`"
        help = did_you_mean(scalar.text, definitions, "definitions")
        found.append(names.UNKNOWN_NAME.at(scalar.span, message, help))
    return definitions.get(scalar.text)


def _device(
    key: Scalar, node: Node, definitions: Definitions | None, rig: Fields, found: list[Diagnostic]
) -> Device | None:
    """A device with its patches' numbers; what they store comes once the limits are known."""
    if not isinstance(node, Mapping):
        return None
    fields = Fields(node, found)
    missing = [k for k in ("port", "channel", "definition") if not fields.has(k)]
    if missing:
        shown = ", ".join(f"`{k}`" for k in missing)
        help = "write it here: no device of that name in the rig that this one is like gives it"
        found.append(names.MISSING_KEY.at(key.span, f"`{key.text}` lacks {shown}", help))
    port, channel = _port(fields, rig), fields.whole("channel", 1, 16)
    definition = _definition(fields.scalar("definition"), definitions, found)
    if port is None or channel is None or definition is None:
        return None
    if definition.hazard is not None:
        found.append(values.hazard(f"`{key.text}`", definition.hazard, key.span))
        return None
    patches, broken = _patches(key, fields, definition, found)
    pickup = fields.scalar("pickup")
    if pickup is not None and definition.main is None:
        message = f"`{key.text}` has no main switch, so no scene turns its pickup on"
        found.append(
            names.UNKNOWN_NAME.at(pickup.span, message, "mark a switch `main: yes` in its definition")
        )
    return Device(
        name=key.text,
        port=port,
        channel=ChannelNumber(channel),
        definition=definition,
        patches=patches,
        pickup=pickup.text if pickup is not None else None,
        broken=broken,
        span=key.span,
    )


def _patches(
    device: Scalar, fields: Fields, definition: Definition, found: list[Diagnostic]
) -> tuple[tuple[Patch, ...], frozenset[str]]:
    patches: list[Patch] = []
    broken: set[str] = set()
    for key, node in fields.each("patches"):
        scalar = node if isinstance(node, Scalar) else node.get("at") if isinstance(node, Mapping) else None
        named = name(key, "a patch", found, VALUE_WORDS)
        panel = _panel(device.text, scalar, definition, found) if isinstance(scalar, Scalar) else None
        if named is None or panel is None or definition.programs is None:
            broken.add(key.text)
            continue
        number = PanelNumber(panel)
        program = wire_program(number, definition.programs.first)
        patches.append(Patch(key.text, number, program, (), key.span))
    return tuple(patches), frozenset(broken)


def _panel(device: str, scalar: Scalar, definition: Definition, found: list[Diagnostic]) -> int | None:
    """A panel number that the device has."""
    programs = definition.programs
    if programs is None and PATCH in definition.broken:
        return None
    if programs is None:
        message = f"`{device}` has no programs, so no patch {scalar.text}"
        found.append(names.PATCH_OUTSIDE.at(scalar.span, message, "give its definition `programs`"))
        return None
    last = programs.first + programs.count - 1
    number = int(scalar.text) if len(scalar.text) <= 9 else 10**9
    if programs.first <= number <= last:
        return number
    message = f"`{device}` has no patch {scalar.text}: its panel goes from {programs.first} to {last}"
    help = "write the number that the front panel shows, or mend `first` and `count` in the definition"
    found.append(names.PATCH_OUTSIDE.at(scalar.span, message, help))
    return None


def _with_stores(scope: Scope, device: Device, rig: Fields, found: list[Diagnostic]) -> Device:
    """The device with what its patches are said to store."""
    devices = rig.block("devices")
    block = devices.block(device.name) if devices is not None else None
    if block is None:
        return device
    patches = []
    for patch in device.patches:
        node = block.node.get("patches")
        entry = node.get(patch.name) if isinstance(node, Mapping) else None
        stores = entry.get("stores") if isinstance(entry, Mapping) else None
        pairs = stores.entries if isinstance(stores, Mapping) else ()
        stored = [_store(scope, device, key, value, found) for key, value in pairs]
        patches.append(replace(patch, stores=tuple(s for s in stored if s is not None)))
    return replace(device, patches=_one_patch(device, patches, found))


def _one_patch(device: Device, patches: list[Patch], found: list[Diagnostic]) -> tuple[Patch, ...]:
    """Names of one number are one patch: what one is said to store, the others store too."""
    stores: dict[int, dict[str, Stored]] = {}
    for patch in patches:
        known = stores.setdefault(patch.program, {})
        for control, stored in patch.stores:
            other = known.setdefault(control, stored)
            if other.code != stored.code:
                message = (
                    f"patch {patch.panel} of `{device.name}` is said to store `{control}` at {stored.asked}, "
                    f"and under its other name at {other.asked}"
                )
                related = (Related(other.span, "the other value"),)
                found.append(names.BAD_VALUE.at(stored.span, message, "look what the box holds", related))
    return tuple(replace(p, stores=tuple(stores[p.program].items())) for p in patches)


def _store(
    scope: Scope, device: Device, key: Scalar, node: Node, found: list[Diagnostic]
) -> tuple[str, Stored] | None:
    definition = device.definition
    if not isinstance(node, Scalar) or key.text in definition.broken:
        return None
    control = definition.control(key.text)
    if control is None or not control.stored:
        known = [c.name for c in definition.controls if c.stored]
        message = f"no patch of `{device.name}` stores `{key.text}`"
        help = did_you_mean(key.text, known, "stored controls")
        found.append(names.UNKNOWN_NAME.at(key.span, message, help))
        return None
    target = Target(device.name, key.text)
    meaning = values.meaning(scope, target, node, found)
    if isinstance(meaning, Coded):
        return key.text, Stored(meaning.code, meaning.asked, meaning.gets, key.span)
    if meaning is not None:
        message = f"`{node.text}` is no value that a patch can store"
        found.append(
            names.BAD_VALUE.at(node.span, message, "write what the patch holds, such as `35 %` or `480 ms`")
        )
    return None


def _absent(
    key: Scalar, node: Node, scope: Scope, definitions: Definitions | None, found: list[Diagnostic]
) -> Absent | None:
    if name(key, "an absent device", found) is None:
        return None
    if key.text in scope.devices:
        message = f"`{key.text}` is a device of this rig, so it is not absent"
        found.append(names.BAD_NAME.at(key.span, message, "take it out of one of the two"))
        return None
    definition = _definition(node if isinstance(node, Scalar) else None, definitions, found)
    return None if definition is None else Absent(key.text, definition, key.span)


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
        instruments[key.text] = Instrument(key.text, block.text("tuning"), pickups, lines, key.span)
    return instruments
