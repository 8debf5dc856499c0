"""The devices of a rig: where they hear, what is stored in them, and those that the rig has not got."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.bind import values
from switchmatrix.bind.fields import Fields, byte_of, is_yes, whole
from switchmatrix.bind.naming import VALUE_WORDS, name
from switchmatrix.bind.scope import Scope
from switchmatrix.bind.thru import bind_thru
from switchmatrix.definition.carriers import Slot, SysexCarrier
from switchmatrix.definition.controls import MAIN
from switchmatrix.definition.definition import Definition
from switchmatrix.definition.programs import Numbers, Programs
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.midi.numbers import Address, ChannelNumber, wire_bank, wire_program
from switchmatrix.model.rig import Absent, Device
from switchmatrix.model.settings import PATCH, Coded, Patch, Stored, Target
from switchmatrix.syntax.nodes import Mapping, Node, Scalar

Definitions = dict[str, Definition | None]

MOST_IN_A_GANG = 16
LARGEST_ID = 126
"""127 is every device (MIDI 1.0 Detailed Specification 4.2.1, p. 35)."""


def bind_port(fields: Fields, rig: Fields) -> str | None:
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


def definition_of(
    scalar: Scalar | None, definitions: Definitions | None, found: list[Diagnostic]
) -> Definition | None:
    if scalar is None or definitions is None:
        return None
    if scalar.text not in definitions:
        message = f"no definition is called `{scalar.text}`"
        help = did_you_mean(scalar.text, definitions, "definitions")
        found.append(names.UNKNOWN_NAME.at(scalar.span, message, help))
    return definitions.get(scalar.text)


def bind_device(
    key: Scalar, node: Node, definitions: Definitions | None, rig: Fields, found: list[Diagnostic]
) -> Device | None:
    """A device with its patches' numbers; what they store comes once the limits are known."""
    if not isinstance(node, Mapping):
        return None
    fields = Fields(node, found)
    missing = [k for k in ("port", "definition") if not fields.has(k)]
    if not fields.has("channel") and not fields.has("channels"):
        missing.insert(1 if "port" in missing else 0, "channel")
    if missing:
        shown = ", ".join(f"`{k}`" for k in missing)
        help = "write it: " + ", ".join(f"`{k}: {_EXAMPLES[k]}`" for k in missing)
        if rig.has("like"):
            help = "write it here: no device of that name in the rig that this one is like gives it"
        found.append(names.MISSING_KEY.at(key.span, f"`{key.text}` lacks {shown}", help))
    port, channels = bind_port(fields, rig), _channels(key, fields)
    definition = definition_of(fields.scalar("definition"), definitions, found)
    if port is None or channels is None or definition is None:
        return None
    if definition.hazard is not None:
        found.append(values.hazard(f"`{key.text}`", definition.hazard, key.span))
        return None
    patches, broken = _patches(key, fields, definition, found)
    pickup = fields.scalar("pickup")
    if pickup is not None and definition.main is None and not definition.broken:
        message = f"`{key.text}` has no main switch, so no scene turns its pickup on"
        found.append(
            names.UNKNOWN_NAME.at(pickup.span, message, "mark a switch `main: yes` in its definition")
        )
    id = _id(key, fields, definition)
    gang = fields.whole("gang", 1, MOST_IN_A_GANG) if fields.has("gang") else 1
    if id is False or gang is None or not _hears_all(key, fields, channels, definition):
        return None
    return Device(
        name=key.text,
        port=port,
        channel=dict(channels).get(MAIN, channels[0][1]),
        definition=definition,
        patches=patches,
        pickup=pickup.text if pickup is not None else None,
        broken=broken,
        span=key.span,
        channels=channels,
        id=None if id is None else int(id),
        gang=gang,
        omni=fields.yes("omni"),
        powers_up=_powers_up(fields, definition),
        thru_of=bind_thru(key, fields, rig),
    )


_EXAMPLES = {"port": "rack", "channel": "3", "definition": "two-tap-echo"}


def _channels(device: Scalar, fields: Fields) -> tuple[tuple[str, ChannelNumber], ...] | None:
    """The channels by name: `channel` is the main one alone."""
    if fields.has("channel") and fields.has("channels"):
        message = f"`{device.text}` has both `channel` and `channels`"
        help = "keep `channels`, with `main` among them"
        fields.found.append(names.WRONG_SHAPE.at(device.span, message, help))
        return None
    if fields.has("channel"):
        number = fields.whole("channel", 1, 16)
        return None if number is None else ((MAIN, ChannelNumber(number)),)
    channels = [
        (key.text, whole(node, 1, 16, f"`{key.text}`", fields.found))
        for key, node in fields.each("channels")
        if isinstance(node, Scalar)
    ]
    sound = tuple((label, ChannelNumber(number)) for label, number in channels if number is not None)
    return sound if sound and len(sound) == len(channels) else None


def _hears_all(
    device: Scalar, fields: Fields, channels: tuple[tuple[str, ChannelNumber], ...], definition: Definition
) -> bool:
    """Whether the device gives every channel that its definition names, and no other."""
    given = [label for label, _ in channels]
    wanted = definition.channels
    lacking = [label for label in wanted if label not in given]
    if lacking:
        shown = ", ".join(f"`{label}`" for label in lacking)
        message = f"the definition of `{device.text}` also listens on {shown}, and no channel is given for it"
        help = (
            f"write `channels: {{{', '.join(f'{label}: 3' for label in wanted)}}}`, each with its own number"
        )
        fields.found.append(names.CHANNEL_MISSING.at(device.span, message, help))
        return False
    for key, _ in fields.each("channels"):
        if key.text not in wanted and key.text != MAIN and not definition.broken:
            message = f"nothing of `{device.text}` listens on a channel called `{key.text}`"
            fields.found.append(
                names.UNKNOWN_NAME.at(key.span, message, did_you_mean(key.text, wanted, "channels"))
            )
    return True


def _id(device: Scalar, fields: Fields, definition: Definition) -> int | bool | None:
    """The system exclusive device id, as the wire has it; False where it is wrong or lacking."""
    scalar = fields.scalar("id")
    wants = any(
        isinstance(c.carrier, SysexCarrier) and Slot.ID in c.carrier.body for c in definition.controls
    )
    if scalar is None:
        if wants and not fields.broken("id"):
            message = f"system exclusive to `{device.text}` carries the device's id, and none is given"
            help = "write `id: 0`, as the wire has it: where the panel counts from 1, one less than it shows"
            fields.found.append(names.MISSING_KEY.at(device.span, message, help))
        return False if wants or fields.broken("id") else None
    number = byte_of(scalar)
    if number <= LARGEST_ID:
        return number
    message = f"`id` is {scalar.text}; it goes from 0 to {LARGEST_ID}"
    help = "127 is every device at once; write the device's own"
    fields.found.append(names.NUMBER_OUTSIDE.at(scalar.span, message, help))
    return False


def _powers_up(fields: Fields, definition: Definition) -> tuple[tuple[int, bool], ...]:
    """Where the device's toggles stand after power-up: its own word over its definition's."""
    stands = {
        n: c.toggle.powers_up
        for n, c in enumerate(definition.controls)
        if c.toggle is not None and c.toggle.powers_up is not None
    }
    by_name = {c.name: n for n, c in enumerate(definition.controls) if c.toggle is not None}
    for key, node in fields.each("powers-up"):
        if key.text not in by_name:
            if key.text not in definition.broken:
                message = f"`{key.text}` is no switch that can only be flipped"
                help = did_you_mean(key.text, by_name, "toggles")
                fields.found.append(names.UNKNOWN_NAME.at(key.span, message, help))
        elif isinstance(node, Scalar):
            stands[by_name[key.text]] = is_yes(node.text)
    return tuple(sorted(stands.items()))


def _patches(
    device: Scalar, fields: Fields, definition: Definition, found: list[Diagnostic]
) -> tuple[tuple[Patch, ...], frozenset[str]]:
    patches: list[Patch] = []
    broken: set[str] = set()
    for key, node in fields.each("patches"):
        named = name(key, "a patch", found, VALUE_WORDS)
        place = None
        if isinstance(node, Scalar):
            place = _at_panel(device.text, node, definition, found)
        elif isinstance(node, Mapping):
            place = _at(device.text, key, Fields(node, found), definition)
        if named is None or place is None:
            broken.add(key.text)
            continue
        patches.append(Patch(key.text, *place, (), key.span))
    return tuple(patches), frozenset(broken)


def _at(device: str, key: Scalar, patch: Fields, definition: Definition) -> tuple[str, Address] | None:
    """By the panel (`at`), or outright by bank and program."""
    if any(patch.broken(k) for k in ("at", "bank", "program")):
        return None
    at = patch.scalar("at")
    if (at is not None) == patch.has("program") or (at is not None and patch.has("bank")):
        message = f"`{key.text}` needs its place: `at`, or `program` (with `bank` where there are banks)"
        help = "write what the panel shows, `at: 17`, or outright `bank: 2, program: 5`, both counted from 1"
        patch.found.append(names.PATCH_OUTSIDE.at(key.span, message, help))
        return None
    if at is not None:
        return _at_panel(device, at, definition, patch.found)
    programs = definition.programs
    if programs is None:
        scalar = patch.scalar("program") or key
        _no_programs(device, scalar, definition, patch.found)
        return None
    program = patch.whole("program", 1, 128)
    bank = None
    if programs.bank is None and patch.has("bank"):
        message = f"`{device}` has no bank select, so no bank"
        help = "take `bank` out, or say `bank: cc0`, `cc32` or `both` in the definition's `programs`"
        patch.found.append(names.PATCH_OUTSIDE.at(key.span, message, help))
        return None
    if programs.bank is not None:
        if not patch.has("bank"):
            message = f"`{key.text}` has a program and no bank, and `{device}` has banks"
            patch.found.append(names.PATCH_OUTSIDE.at(key.span, message, "write its `bank`, counted from 1"))
            return None
        bank = patch.whole("bank", 1, programs.bank.banks)
        if bank is None:
            return None
    return None if program is None else _outright(device, patch, bank, program, programs)


def _outright(
    device: str, patch: Fields, bank: int | None, program: int, programs: Programs
) -> tuple[str, Address] | None:
    """Bank and program as the standard counts them, from 1, as the panel shows what they call."""
    sent = Address(None if bank is None else wire_bank(bank), wire_program(program))
    position = programs.called(sent)
    if position is not None:
        return programs.panel.label(position), programs.address(position) or sent
    said = f"program {program}" if bank is None else f"program {program} in bank {bank}"
    message = f"`{device}` has no {said}: it has {programs.count} programs"
    if programs.bank is not None:
        message += f", {programs.bank_size} in a bank"
    scalar = patch.scalar("program")
    help = "bank and program count from 1 here, as the standard counts them; mend them, or `count`"
    span = scalar.span if scalar is not None else patch.span
    patch.found.append(names.PATCH_OUTSIDE.at(span, message, help))
    return None


def _no_programs(device: str, scalar: Scalar, definition: Definition, found: list[Diagnostic]) -> None:
    if PATCH not in definition.broken:
        message = f"`{device}` has no programs, so no patch {scalar.text}"
        found.append(names.PATCH_OUTSIDE.at(scalar.span, message, "give its definition `programs`"))


def _at_panel(
    device: str, scalar: Scalar, definition: Definition, found: list[Diagnostic]
) -> tuple[str, Address] | None:
    """What the panel shows, and where it lies on the wire."""
    programs = definition.programs
    if programs is None:
        _no_programs(device, scalar, definition, found)
        return None
    position = programs.position(scalar.text)
    if position is None:
        ends = f"{programs.panel.label(0)} to {programs.panel.label(programs.count - 1)}"
        message = f"`{device}` has no patch {scalar.text}: its panel goes from {ends}"
        help = "write the number that the front panel shows, or mend `first` and `count` in the definition"
        if not isinstance(programs.panel, Numbers):
            help = "write what the front panel shows, or mend `panel` and `count` in the definition"
        found.append(names.PATCH_OUTSIDE.at(scalar.span, message, help))
        return None
    address = programs.address(position)
    if address is None:
        message = (
            f"no program calls patch {scalar.text} of `{device}`: its remap sends its own program elsewhere"
        )
        help = "mend `remap` in the definition, or store the patch at another number"
        related = (Related(programs.span, "the programs and their remap"),)
        found.append(names.PATCH_OUTSIDE.at(scalar.span, message, help, related))
        return None
    return programs.panel.label(position), address


def with_stores(scope: Scope, device: Device, rig: Fields, found: list[Diagnostic]) -> Device:
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
    stores: dict[Address, dict[str, Stored]] = {}
    for patch in patches:
        known = stores.setdefault(patch.address, {})
        other = [(control, known.setdefault(control, stored), stored) for control, stored in patch.stores]
        apart = [(control, there, here) for control, there, here in other if there.code != here.code]
        if apart:
            shown = ", ".join(f"`{control}` at {here.asked}" for control, _, here in apart)
            otherwise = ", ".join(str(there.asked) for _, there, _ in apart)
            message = (
                f"patch {patch.panel} of `{device.name}` is said to store {shown}, "
                f"and under its other name {otherwise}"
            )
            related = tuple(Related(there.span, "the other value") for _, there, _ in apart)
            help = "look what the box holds, or under which number the other patch lies"
            found.append(names.BAD_VALUE.at(apart[0][2].span, message, help, related))
    return tuple(replace(p, stores=tuple(stores[p.address].items())) for p in patches)


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


def bind_absent(
    key: Scalar, node: Node, scope: Scope, definitions: Definitions | None, found: list[Diagnostic]
) -> Absent | None:
    if name(key, "an absent device", found) is None:
        return None
    if key.text in scope.devices:
        message = f"`{key.text}` is a device of this rig, so it is not absent"
        found.append(names.BAD_NAME.at(key.span, message, "take it out of one of the two"))
        return None
    definition = definition_of(node if isinstance(node, Scalar) else None, definitions, found)
    return None if definition is None else Absent(key.text, definition, key.span)
