"""The schemas of one show: its names where they may stand, and the values that each of them takes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from switchmatrix.definition.controls import MAIN, SWITCH, TRIGGER, Control, Named
from switchmatrix.definition.definition import Definition
from switchmatrix.model.rig import DoneWithout, Passed, Rig, Words
from switchmatrix.model.settings import PATCH, Target
from switchmatrix.model.show import Show
from switchmatrix.model.song import Song
from switchmatrix.syntax.shapes import Lines, Schema, block, each, either, many, ref, schema


@dataclass(frozen=True, slots=True)
class Written:
    """What of a show could be read: its own file, its rigs, songs and the ids of its definitions."""

    show: Show | None
    rigs: tuple[Rig, ...]
    songs: tuple[Song, ...]
    definitions: tuple[str, ...]


def show_schema(kind: str, written: Written) -> Schema:
    """The schema of one kind of the show's files."""
    if kind == "definition":
        return _placed(schema(kind), _in_definitions(written.rigs))
    values = _lines(written.rigs)
    named: dict[str, Schema] = {name: {"$ref": f"#/$defs/line-{n}"} for n, name in enumerate(values, 1)}
    shapes = {f"line-{n}": shape for n, shape in enumerate(values.values(), 1)}
    shape = schema(kind, Lines(named), {**_names(written), "lines": block(named), **shapes})
    return _placed(shape, _in_rigs(written.rigs)) if kind == "rig" else shape


_Places = dict[str, tuple[Schema, Schema]]
"""Keys whose shape is the same in every show, each with that shape and the one with this show's names."""


def _placed(shape: Schema, places: _Places) -> Schema:
    """The schema with this show's names at the places; a line that has such a key's name stays as it is."""
    placed: Schema = {}
    for key, value in shape.items():
        general, named = places.get(key, (None, None))
        if named is not None and value == general:
            placed[key] = named
        elif isinstance(value, dict):
            placed[key] = _placed(value, places)
        elif isinstance(value, list):
            placed[key] = [_placed(item, places) if isinstance(item, dict) else item for item in value]
        else:
            placed[key] = value
    return placed


def _in_rigs(rigs: tuple[Rig, ...]) -> _Places:
    """What a mute may hold, and the names of a device's channels and of its switches that are flipped."""
    definitions = [device.definition for rig in rigs for device in rig.devices]
    toggles = sorted({c.name for d in definitions for c in d.controls if c.toggle is not None})
    channels = sorted({MAIN, *(name for d in definitions for name in d.channels)})
    places: _Places = {"channels": (each(ref("whole")), block(dict.fromkeys(channels, ref("whole"))))}
    if toggles:
        places["powers-up"] = (each(ref("on-off")), block(dict.fromkeys(toggles, ref("on-off"))))
    holds = _holds(rigs)
    if holds:
        places["hold"] = (each(ref("value")), block(holds))
    return places


def _holds(rigs: tuple[Rig, ...]) -> dict[str, Schema]:
    """Every control that can be set outright, by its dotted name (a main switch by its device's too)."""
    values: dict[str, list[Schema]] = {}
    for device in (device for rig in rigs for device in rig.devices):
        for control in device.definition.controls:
            if control.kind == TRIGGER or control.toggle is not None:
                continue
            target = Target(device.name, control.name)
            words = [word for word, _ in control.scale.words] if isinstance(control.scale, Named) else []
            shape = _enum(f"{target}: what is held", words) if words else ref("value")
            for name in (str(target), *([device.name] if control.main else [])):
                values.setdefault(name, []).append(shape)
    return {name: _any(shapes) for name, shapes in sorted(values.items())}


def _in_definitions(rigs: tuple[Rig, ...]) -> _Places:
    """The controls that a choice may reset: offered, but a control that is being written is one too."""
    controls = [c.name for rig in rigs for _, definition in _owners(rig) for c in definition.controls]
    named = many({"anyOf": [_enum("a control of this definition", controls), ref("name")]})
    return {"resets": (many(ref("name")), named)} if controls else {}


def _enum(what: str, names: Iterable[str]) -> Schema:
    """Any of the names; one that reads as a number may be typed as one by an editor."""
    texts = sorted(set(names))
    numbers = [int(text) for text in texts if text.isdecimal() and str(int(text)) == text]
    return {"description": what, "enum": [*texts, *numbers]}


def _names(written: Written) -> dict[str, Schema]:
    rigs, songs = written.rigs, written.songs
    scenes = [scene.name for song in songs for scene in song.scenes]
    standing = [scene.name for rig in rigs for scene in rig.standing.song.scenes]
    devices = [name for rig in rigs for name, _ in _owners(rig)]
    controls = [str(Target(name, label)) for rig in rigs for name, d in _owners(rig) for label in _labels(d)]
    names = {
        "rig": _enum("a rig of this show", [rig.id for rig in rigs]),
        "song": _enum("a song of this show", [song.id for song in songs]),
        "definition": _enum("a definition of this show", written.definitions),
        "instrument": _enum("an instrument", [i.name for rig in rigs for i in rig.instruments]),
        "scene": _enum("a scene", scenes),
        "standing-scene": _enum("a standing scene", standing),
        "port": _enum("a port", [port.name for rig in rigs for port in rig.ports]),
        "device-or-control": _enum("a device or a control", [*devices, *controls]),
    }
    return {name: shape for name, shape in names.items() if shape["enum"]}


def _owners(rig: Rig) -> list[tuple[str, Definition]]:
    """The rig's devices and absent devices, with what they understand."""
    return [(d.name, d.definition) for d in rig.devices] + [(a.name, a.definition) for a in rig.absents]


def _labels(definition: Definition) -> list[str]:
    return [*([PATCH] if definition.programs is not None else []), *(c.name for c in definition.controls)]


def _lines(rigs: tuple[Rig, ...]) -> dict[str, Schema]:
    """Every name that a line may have on any rig, with its values."""
    values: dict[str, list[Schema]] = {}
    for rig in rigs:
        for entry in rig.entries:
            values.setdefault(entry.name, []).append(_entry(rig, entry.name, entry.stands_for))
        for name, definition in _owners(rig):
            values.setdefault(name, []).append(_device(rig, name, definition))
            for label in _labels(definition):
                target = Target(name, label)
                values.setdefault(str(target), []).append(_value(rig, target))
    return {name: _any(shapes) for name, shapes in sorted(values.items())}


def _any(shapes: list[Schema]) -> Schema:
    """What any of the rigs takes; lists of values are joined, so that an editor offers them all."""
    distinct = [shape for n, shape in enumerate(shapes) if shape not in shapes[:n]]
    if len(distinct) == 1:
        return distinct[0]
    if all(set(shape) == {"description", "enum"} for shape in distinct):
        values = [value for shape in distinct for value in shape["enum"]]
        return {"description": distinct[0]["description"], "enum": list(dict.fromkeys(values))}
    return {"anyOf": distinct}


def _entry(rig: Rig, name: str, stands_for: Words | Passed | DoneWithout) -> Schema:
    match stands_for:
        case Words(words):
            return _enum(f"a word of {name}", [word for word, _ in words])
        case Passed(target):
            return _value(rig, target)
        case DoneWithout():
            return ref("value")


def _patches(rig: Rig, name: str) -> list[str]:
    """The patch names of a device, or those that an absent one's translation gives."""
    device = rig.device(name)
    if device is not None:
        return [patch.name for patch in device.patches]
    becomes = rig.translations.get(Target(name, PATCH))
    return [word for word, _ in becomes.words] if isinstance(becomes, Words) else []


def _device(rig: Rig, name: str, definition: Definition) -> Schema:
    """`on`, `off`, a patch, or a block of the device's controls."""
    scalars = [*(["on", "off"] if definition.main is not None else []), *_patches(rig, name)]
    keys = {label: _value(rig, Target(name, label)) for label in _labels(definition)}
    if definition.loops:
        keys["loops"] = many(ref("whole"))
    scalar = _enum(f"{name}: on, off or a patch", scalars) if scalars else ref("value")
    return either(scalar, mapping=block(keys) if not definition.broken else each(ref("value")))


def _value(rig: Rig, target: Target) -> Schema:
    """The values of one control, or of a device's patch."""
    if target.control == PATCH:
        patches = _patches(rig, target.device)
        return _enum(f"a patch of {target.device}", [*patches, "home"]) if patches else ref("value")
    definition = next(d for name, d in _owners(rig) if name == target.device)
    control = definition.control(target.control)
    return ref("value") if control is None else _control(control, target)


def _control(control: Control, target: Target) -> Schema:
    if not isinstance(control.scale, Named):
        return ref("value")
    words = [word for word, _ in control.scale.words]
    if control.kind == TRIGGER:
        return _enum(f"{target} fires", words)
    more = ["home", "leave", *(["as stored"] if control.stored else [])]
    what = "on or off" if control.kind == SWITCH else "one of its values"
    return _enum(f"{target}: {what}", [*words, *more])
