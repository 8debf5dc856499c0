"""The shape of each kind of file, as JSON Schema 2020-12.

The tool reads every scalar as text, an editor guesses types: each scalar is one `anyOf` from the
table below. Where a value may be a text, a list or a block, the branch is chosen by `if` on what it
is, so that an error always speaks of the branch that was meant.
"""

from __future__ import annotations

from typing import Any

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def _scalar(description: str, *text: Schema, **typed: Schema) -> Schema:
    return {"description": description, "anyOf": [*text, *typed.values()]}


_NUMBER: Schema = {"type": "number"}
_INTEGER: Schema = {"type": "integer"}
_BOOLEAN: Schema = {"type": "boolean"}

SCALARS: dict[str, Schema] = {
    "text": _scalar("a text", {"type": "string"}, n=_NUMBER, b=_BOOLEAN),
    "name": _scalar("a name", {"type": "string", "pattern": r"\S"}, n=_NUMBER, b=_BOOLEAN),
    "value": _scalar("a value", {"type": "string", "pattern": r"\S"}, n=_NUMBER, b=_BOOLEAN),
    "whole": _scalar("a whole number", {"type": "string", "pattern": "^[0-9]+$"}, n=_INTEGER),
    "codes": _scalar(
        "a code (`5`) or a range of codes (`0-63`)",
        {"type": "string", "pattern": "^[0-9]+( *- *[0-9]+)?$"},
        n=_INTEGER,
    ),
    "byte": _scalar(
        "a whole number, such as `125` or `0x7D`",
        {"type": "string", "pattern": "^([0-9]+|0x[0-9A-Fa-f]{1,4})$"},
        n=_INTEGER,
    ),
    "body-byte": _scalar(
        "a byte (`0x12`), `id`, `value`, `value-msb`, `value-lsb` or `checksum`",
        {
            "type": "string",
            "pattern": "^([0-9]+|0x[0-9A-Fa-f]{1,4}|id|value|value-msb|value-lsb|checksum)$",
        },
        n=_INTEGER,
    ),
    "span": _scalar(
        "a range of letters or digits, such as `A-G`, `1-60` or `01-32`",
        {"type": "string", "pattern": "^([A-Za-z] *- *[A-Za-z]|[0-9]+ *- *[0-9]+)$"},
    ),
    "bank-select": _scalar("`cc0`, `cc32` or `both`", {"enum": ["cc0", "cc32", "both"]}),
    "bank-when": _scalar("`always` or `change`", {"enum": ["always", "change"]}),
    "data": _scalar("`7` or `14`", {"enum": ["7", "14"]}, n={"enum": [7, 14]}),
    "yes-no": _scalar("`yes` or `no`", {"enum": ["yes", "no"]}, b=_BOOLEAN),
    "player": _scalar("`player`", {"const": "player"}),
    "no-release": _scalar("`none`", {"const": "none"}),
    "on-off": _scalar("`on` or `off`", {"enum": ["on", "off"]}, b=_BOOLEAN),
    "release": _scalar("a code, or `none`", {"type": "string", "pattern": "^([0-9]+|none)$"}, n=_INTEGER),
    "number": _scalar("a number", {"type": "string", "pattern": r"^[0-9]{1,9}(\.[0-9]{1,9})?$"}, n=_NUMBER),
    "yes": _scalar("`yes` (or leave the key out)", {"const": "yes"}, b={"const": True}),
    "land": _scalar(
        "`on time` (landed at its place) or `as sent` (its first byte at its place)",
        {"enum": ["on time", "as sent"]},
    ),
    "speed": _scalar("`din` or `usb`", {"enum": ["din", "usb"]}),
    "kind": _scalar(
        "`switch`, `choice`, `level`, `time` or `trigger`",
        {"enum": ["switch", "choice", "level", "time", "trigger"]},
    ),
    "rate": _scalar(
        "`24`, `25`, `30 drop` or `30`", {"enum": ["24", "25", "30 drop", "30"]}, n={"enum": [24, 25, 30]}
    ),
    "place": _scalar(
        "a place: `bar 17`, `bar 17 beat 3`, `2:05.5`, or `1:00:05:12`", {"type": "string"}, n=_NUMBER
    ),
    "meter": _scalar("a meter such as `4/4`", {"type": "string", "pattern": r"^[0-9]+/[0-9]+$"}),
}


NAMES = ("rig", "song", "definition", "instrument", "scene", "standing-scene", "port", "device-or-control")
"""What a value may name; one show's schemas list the names of each."""

SCALARS |= dict.fromkeys(NAMES, SCALARS["name"])


def ref(scalar: str) -> Schema:
    """The scalar of that name in the schema's `$defs`."""
    return {"$ref": f"#/$defs/{scalar}"}


def block(keys: dict[str, Schema], required: tuple[str, ...] = (), others: Schema | bool = False) -> Schema:
    """A mapping with these keys; `others` is the shape of any other key's value."""
    shape: Schema = {"type": "object", "properties": keys, "additionalProperties": others}
    return shape | ({"required": list(required)} if required else {})


def each(value: Schema) -> Schema:
    """A mapping from names of the person's own to values of one shape."""
    return {"type": "object", "additionalProperties": value}


def many(item: Schema) -> Schema:
    return {"type": "array", "items": item}


def pair(item: Schema) -> Schema:
    return {"type": "array", "items": item, "minItems": 2, "maxItems": 2}


def either(scalar: Schema, *, array: Schema | None = None, mapping: Schema | None = None) -> Schema:
    """A scalar, or a list, or a block: which one decides what may be wrong with it."""
    shape = scalar
    if array is not None:
        shape = {"if": {"type": "array"}, "then": array, "else": shape}
    if mapping is not None:
        shape = {"if": {"type": "object"}, "then": mapping, "else": shape}
    return shape


_DEVICE_BLOCK = each(either(ref("value"), array=many(ref("whole"))))
LINE = either(ref("value"), mapping=_DEVICE_BLOCK)
"""A line of a block, whatever it names."""

_SCENES = many(ref("scene"))
_SCENE_KEYS: dict[str, Schema] = {
    "at": either(ref("place"), array=many(ref("place")) | {"minItems": 1}),
    "like": either(ref("scene"), array=_SCENES),
    "remark": ref("text"),
    "instrument": ref("instrument"),
    "tempo": ref("number"),
    "land": ref("land"),
    "budget": ref("value"),
}
_CHANGED_KEYS: dict[str, Schema] = {"drop": ref("yes"), "remark": ref("text")}
_STANDING_KEYS: dict[str, Schema] = {
    "like": either(ref("standing-scene"), array=many(ref("standing-scene"))),
    "remark": ref("text"),
    "instrument": ref("instrument"),
}


class Lines:
    """The lines that a block may hold: any, or those that one show's names allow."""

    def __init__(self, named: dict[str, Schema] | None = None) -> None:
        self.named = named

    def beside(self, keys: dict[str, Schema]) -> Schema:
        """A block with keys of its own beside its lines."""
        return block(keys, others=LINE) if self.named is None else block(keys | self.named)

    @property
    def alone(self) -> Schema:
        """A block of lines."""
        return each(LINE) if self.named is None else {"$ref": "#/$defs/lines"}

    @property
    def changes(self) -> Schema:
        """Changes to songs, by song."""
        scenes = each(self.beside(_CHANGED_KEYS))
        return each(block({"base": self.alone, "scenes": scenes}))


def _show(lines: Lines) -> Schema:
    standing = block({"standing": ref("standing-scene"), "remark": ref("text")}, ("standing",))
    leg: dict[str, Schema] = {
        "remark": ref("text"),
        "rigs": many(ref("rig")),
        "setlist": many(either(ref("song"), mapping=standing)),
        "changes": lines.changes,
    }
    keys: dict[str, Schema] = {
        "show": ref("text"),
        "remark": ref("text"),
        "rigs": many(ref("rig")),
        "land": ref("land"),
        "budget": ref("value"),
        "ask-after-fault": ref("yes-no"),
        "accept": many(
            block(
                {"name": ref("name"), "where": ref("text"), "because": ref("text")},
                ("name", "where", "because"),
            )
        ),
        "legs": each(block(leg, ("rigs", "setlist"))),
    }
    return block(keys, ("show", "rigs", "legs"))


_PORT = block(
    {"out": ref("text"), "in": ref("text"), "speed": ref("speed"), "remark": ref("text")}, ("out", "speed")
)
_CONTROLLER = block(
    {
        "port": ref("port"),
        "channel": ref("whole"),
        "sends": block(
            {
                "programs": ref("yes"),
                "cc": many(ref("codes")),
                "notes": many(ref("codes")),
                "pitch-bend": ref("yes"),
                "channel-pressure": ref("yes"),
            }
        ),
        "remark": ref("text"),
    },
    ("port", "channel", "sends"),
)
_PEDAL = block(
    {
        "port": ref("port"),
        "channel": ref("whole"),
        "cc": ref("whole"),
        "note": ref("whole"),
        "program": ref("whole"),
        "from": ref("whole"),
        "release": ref("no-release"),
        "remark": ref("text"),
    },
    ("port", "channel"),
)
_PATCH = either(
    ref("value"),
    mapping=block(
        {
            "at": ref("value"),
            "bank": ref("whole"),
            "program": ref("whole"),
            "stores": each(ref("value")),
            "remark": ref("text"),
        }
    ),
)
_DEVICE_KEYS: dict[str, Schema] = {
    "port": ref("port"),
    "channel": ref("whole"),
    "channels": each(ref("whole")),
    "id": ref("byte"),
    "gang": ref("whole"),
    "omni": ref("yes"),
    "powers-up": each(ref("on-off")),
    "thru-of": ref("name"),
    "definition": ref("definition"),
    "patches": each(_PATCH),
    "pickup": ref("name"),
    "remark": ref("text"),
}


def _rig(lines: Lines) -> Schema:
    mute: dict[str, Schema] = {
        "while": many(ref("device-or-control")) | {"minItems": 1},
        "hold": each(ref("value")),
        "before": ref("value"),
        "after": ref("value"),
        "remark": ref("text"),
    }
    words = each(either(ref("value"), mapping=lines.alone))
    row: Schema = {"type": "array", "items": either(ref("value"), mapping=lines.alone), "minItems": 2}
    instrument: dict[str, Schema] = {
        "tuning": ref("text"),
        "retune": ref("whole"),
        "pickups": many(ref("name")),
        "sets": lines.alone,
        "remark": ref("text"),
    }
    keys: dict[str, Schema] = {
        "rig": ref("text"),
        "remark": ref("text"),
        "like": ref("rig"),
        "ports": each(_PORT),
        "controllers": each(_CONTROLLER),
        "feet": block({"rest": ref("value")}, others=_PEDAL),
        "devices": each(block(_DEVICE_KEYS, ("port", "definition"))),
        "absent": each(ref("definition")),
        "instruments": each(block(instrument)),
        "vocabulary": each(either(ref("value"), mapping=words)),
        "joint": many(block({"of": many(ref("device-or-control")), "rows": many(row)}, ("of", "rows"))),
        "hands": many(ref("device-or-control")),
        "home": lines.alone,
        "mutes": many(block(mute, ("while", "hold"))),
        "limits": each(block({"least": ref("value"), "most": ref("value")})),
        "standing": each(either(ref("standing-scene"), mapping=lines.beside(_STANDING_KEYS))),
        "changes": lines.changes,
    }
    whole = block(keys, ("rig", "ports", "devices"))
    like = block(keys | {"devices": each(block(_DEVICE_KEYS)), "without": many(ref("name"))}, ("rig",))
    return {"if": {"type": "object", "required": ["like"]}, "then": like, "else": whole}


_TEMPO_AT = block({"at": ref("place"), "bpm": ref("number"), "beat": ref("text")}, ("at", "bpm"))
_METER_AT = block({"at": ref("place"), "meter": ref("meter")}, ("at", "meter"))


def _song(lines: Lines) -> Schema:
    keys: dict[str, Schema] = {
        "song": ref("text"),
        "remark": ref("text"),
        "instrument": ref("instrument"),
        "tuning": ref("text"),
        "tempo": either(ref("number"), array=many(_TEMPO_AT)),
        "meter": either(ref("meter"), array=many(_METER_AT)),
        "start": ref("place"),
        "rate": ref("rate"),
        "order": _SCENES,
        "land": ref("land"),
        "budget": ref("value"),
        "hands": many(ref("device-or-control")),
        "base": lines.alone,
        "scenes": each(either(ref("scene"), mapping=lines.beside(_SCENE_KEYS))),
    }
    return block(keys, ("song", "scenes"))


_CODE_TABLE = each(ref("codes"))
_SWITCH_CODES = block({"on": ref("whole"), "off": ref("whole")}, ("on", "off"))
_ANY_KIND: dict[str, Schema] = {
    "kind": ref("kind"),
    "main": ref("yes"),
    "stored": ref("yes"),
    "hazard": ref("text"),
    "remark": ref("text"),
    "channel": ref("name"),
    "settle": ref("value"),
    "moved-by": ref("player"),
    "writes": ref("yes"),
    "also-cc": many(ref("whole")),
    "cc": ref("whole"),
    "cc14": pair(ref("whole")),
    "nrpn": pair(ref("whole")),
    "rpn": pair(ref("whole")),
    "data": ref("data"),
    "close": ref("yes-no"),
    "program": ref("yes"),
    "bank": ref("whole"),
    "note": ref("whole"),
    "release": ref("yes"),
    "pitch-bend": ref("yes"),
    "channel-pressure": ref("yes"),
    "sysex": block(
        {
            "body": many(ref("body-byte")) | {"minItems": 1},
            "checksum": pair(ref("whole")),
            "signed": ref("yes"),
        },
        ("body",),
    ),
}
_NOT_STATED = {"main", "stored", "moved-by"}
"""What a trigger, which has no state, cannot have."""
_CODES = pair(ref("whole"))
_RANGE = pair(ref("value"))
KINDS: dict[str, Schema] = {
    "switch": block(
        _ANY_KIND
        | {
            "codes": _SWITCH_CODES,
            "toggle": block({"press": ref("whole"), "release": ref("release")}, ("press", "release")),
            "powers-up": ref("on-off"),
        },
        ("kind",),
    ),
    "choice": block(
        {k: v for k, v in _ANY_KIND.items() if k != "main"}
        | {"values": _CODE_TABLE, "send": each(ref("whole")), "resets": many(ref("name"))},
        ("kind", "values"),
    ),
    "level": block(
        {k: v for k, v in _ANY_KIND.items() if k != "main"}
        | {
            "range": _RANGE,
            "codes": _CODES,
            "centre": ref("whole"),
            "points": {"type": "array", "items": pair(ref("value")), "minItems": 2},
            "bottom": ref("whole"),
            "tolerance": ref("value"),
        },
        ("kind",),
    ),
    "time": block(
        {k: v for k, v in _ANY_KIND.items() if k != "main"}
        | {"range": _RANGE, "codes": _CODES, "tolerance": ref("value")},
        ("kind", "range"),
    ),
    "trigger": block(
        {k: v for k, v in _ANY_KIND.items() if k not in _NOT_STATED}
        | {"codes": block({"fire": ref("whole")}, ("fire",))},
        ("kind",),
    ),
}


def _by_kind() -> Schema:
    """A control's shape, chosen by its `kind`."""
    every: dict[str, Schema] = {key: {} for keys in KINDS.values() for key in keys["properties"]}
    every["kind"] = ref("kind")
    shape = block(every, ("kind",))
    for kind, keys in reversed(KINDS.items()):
        test = {"type": "object", "properties": {"kind": {"const": kind}}, "required": ["kind"]}
        shape = {"if": test, "then": keys, "else": shape}
    return shape


_PANEL = block(
    {
        "banks": either(ref("span"), array=many(ref("name")) | {"minItems": 1}),
        "slots": either(ref("span"), array=many(ref("name")) | {"minItems": 1}),
        "between": ref("text"),
    },
    ("banks", "slots"),
)
_PROGRAMS = block(
    {
        "count": ref("whole"),
        "first": ref("whole"),
        "panel": _PANEL,
        "bank": ref("bank-select"),
        "bank-when": ref("bank-when"),
        "bank-size": ref("whole"),
        "remap": each(ref("value")),
        "settle": ref("value"),
        "repeat": ref("value"),
        "moved-by": ref("player"),
        "channel": ref("name"),
    },
    ("count",),
)
_CROSSPOINT = block(
    {
        "cc": ref("whole"),
        "inputs": _CODE_TABLE,
        "stored": ref("yes"),
        "settle": ref("value"),
        "channel": ref("name"),
        "remark": ref("text"),
    },
    ("cc", "inputs"),
)
_LOOPS = block(
    {
        "cc": many(ref("whole")) | {"minItems": 1},
        "codes": _SWITCH_CODES,
        "stored": ref("yes"),
        "settle": ref("value"),
        "channel": ref("name"),
    },
    ("cc",),
)
_IDENTITY = block(
    {
        "manufacturer": many(ref("byte")) | {"minItems": 1},
        "family": ref("byte"),
        "member": ref("byte"),
        "version": {"type": "array", "items": ref("byte"), "minItems": 4, "maxItems": 4},
    },
    ("manufacturer", "family", "member"),
)
_DEFINITION = block(
    {
        "definition": ref("text"),
        "remark": ref("text"),
        "hazard": ref("text"),
        "programs": _PROGRAMS,
        "controls": each(_by_kind()),
        "crosspoint": each(_CROSSPOINT),
        "loops": _LOOPS,
        "gap": ref("value"),
        "clock": ref("yes"),
        "identity": _IDENTITY,
    },
    ("definition",),
)


def files(lines: Lines) -> dict[str, Schema]:
    """The shape of each kind of file."""
    return {"show": _show(lines), "rig": _rig(lines), "song": _song(lines), "definition": _DEFINITION}


FILES: dict[str, Schema] = files(Lines())
"""The shapes that any show's files have."""


def schema(kind: str, lines: Lines | None = None, names: Schema | None = None) -> Schema:
    """The whole JSON Schema of one kind of file: show, rig, song or definition.

    With `lines` and `names` (shapes for `$defs`), that of one show's file.
    """
    shape = FILES[kind] if lines is None else files(lines)[kind]
    return {
        "$schema": DIALECT,
        "$id": f"urn:switchmatrix:{kind}",
        "title": f"switchmatrix: {kind}",
        **shape,
        "$defs": SCALARS | (names or {}),
    }
