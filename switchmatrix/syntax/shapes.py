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
    "number": _scalar("a number", {"type": "string", "pattern": r"^[0-9]+(\.[0-9]+)?$"}, n=_NUMBER),
    "yes": _scalar("`yes` (or leave the key out)", {"const": "yes"}, b={"const": True}),
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


def ref(scalar: str) -> Schema:
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


_NAMES = many(ref("name"))
_ONE_OR_MORE = either(ref("name"), array=_NAMES)
_DEVICE_BLOCK = each(either(ref("value"), array=many(ref("whole"))))
_LINE = either(ref("value"), mapping=_DEVICE_BLOCK)
_LINES = each(_LINE)
_SCENE_KEYS: dict[str, Schema] = {
    "at": either(ref("place"), array=many(ref("place"))),
    "like": _ONE_OR_MORE,
    "remark": ref("text"),
    "instrument": ref("name"),
    "tempo": ref("number"),
}
_STANDING_KEYS = {key: _SCENE_KEYS[key] for key in ("like", "remark", "instrument")}
_CHANGED_SCENE = block({"drop": ref("yes"), "remark": ref("text")}, others=_LINE)
_CHANGES = each(block({"base": _LINES, "scenes": each(_CHANGED_SCENE)}))

SHOW = block(
    {
        "show": ref("text"),
        "remark": ref("text"),
        "rigs": _NAMES,
        "legs": each(
            block(
                {
                    "remark": ref("text"),
                    "rigs": _NAMES,
                    "setlist": many(
                        either(
                            ref("name"),
                            mapping=block({"standing": ref("name"), "remark": ref("text")}, ("standing",)),
                        )
                    ),
                    "changes": _CHANGES,
                },
                ("rigs", "setlist"),
            )
        ),
    },
    ("show", "rigs", "legs"),
)

_PORT = block(
    {"out": ref("text"), "in": ref("text"), "speed": ref("speed"), "remark": ref("text")}, ("out", "speed")
)
_CONTROLLER = block(
    {
        "port": ref("name"),
        "channel": ref("whole"),
        "sends": block({"programs": ref("yes"), "cc": many(ref("codes"))}),
        "remark": ref("text"),
    },
    ("port", "channel", "sends"),
)
_PATCH = either(
    ref("whole"),
    mapping=block({"at": ref("whole"), "stores": each(ref("value")), "remark": ref("text")}, ("at",)),
)
_DEVICE_KEYS: dict[str, Schema] = {
    "port": ref("name"),
    "channel": ref("whole"),
    "definition": ref("name"),
    "patches": each(_PATCH),
    "pickup": ref("name"),
    "remark": ref("text"),
}
_DEVICE = block(_DEVICE_KEYS, ("port", "channel", "definition"))
_INSTRUMENT = block({"tuning": ref("text"), "pickups": _NAMES, "sets": _LINES, "remark": ref("text")})
_ENTRY = either(ref("value"), mapping=each(either(ref("value"), mapping=_LINES)))
_JOINT = block(
    {
        "of": _NAMES,
        "rows": many({"type": "array", "items": either(ref("value"), mapping=_LINES), "minItems": 2}),
    },
    ("of", "rows"),
)

_RIG_KEYS: dict[str, Schema] = {
    "rig": ref("text"),
    "remark": ref("text"),
    "like": ref("name"),
    "ports": each(_PORT),
    "controllers": each(_CONTROLLER),
    "devices": each(_DEVICE),
    "absent": each(ref("name")),
    "instruments": each(_INSTRUMENT),
    "vocabulary": each(_ENTRY),
    "joint": many(_JOINT),
    "hands": _NAMES,
    "home": _LINES,
    "limits": each(block({"least": ref("value"), "most": ref("value")})),
    "standing": each(either(ref("name"), mapping=block(_STANDING_KEYS, others=_LINE))),
    "changes": _CHANGES,
}
_WHOLE_RIG = block(_RIG_KEYS, ("rig", "ports", "devices"))
_LIKE_RIG = block(_RIG_KEYS | {"devices": each(block(_DEVICE_KEYS))}, ("rig",))
RIG: Schema = {"if": {"type": "object", "required": ["like"]}, "then": _LIKE_RIG, "else": _WHOLE_RIG}

_TEMPO_AT = block({"at": ref("place"), "bpm": ref("number"), "beat": ref("text")}, ("at", "bpm"))
_METER_AT = block({"at": ref("place"), "meter": ref("meter")}, ("at", "meter"))

SONG = block(
    {
        "song": ref("text"),
        "remark": ref("text"),
        "instrument": ref("name"),
        "tempo": either(ref("number"), array=many(_TEMPO_AT)),
        "meter": either(ref("meter"), array=many(_METER_AT)),
        "start": ref("place"),
        "rate": ref("rate"),
        "order": _NAMES,
        "hands": _NAMES,
        "base": _LINES,
        "scenes": each(either(ref("name"), mapping=block(_SCENE_KEYS, others=_LINE))),
    },
    ("song", "scenes"),
)

_CODE_TABLE = each(ref("codes"))
_SWITCH_CODES = block({"on": ref("whole"), "off": ref("whole")}, ("on", "off"))
_ANY_KIND: dict[str, Schema] = {
    "kind": ref("kind"),
    "main": ref("yes"),
    "stored": ref("yes"),
    "hazard": ref("text"),
    "remark": ref("text"),
    "cc": ref("whole"),
    "program": ref("yes"),
}
_CODES = pair(ref("whole"))
_RANGE = pair(ref("value"))
KINDS: dict[str, Schema] = {
    "switch": block(_ANY_KIND | {"codes": _SWITCH_CODES}, ("kind",)),
    "choice": block(
        {k: v for k, v in _ANY_KIND.items() if k != "main"}
        | {"values": _CODE_TABLE, "send": each(ref("whole"))},
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
        {k: v for k, v in _ANY_KIND.items() if k not in ("main", "stored")}
        | {"codes": block({"fire": ref("whole")}, ("fire",))},
        ("kind",),
    ),
}


def _by_kind() -> Schema:
    """A control's shape, chosen by its `kind`."""
    shape: Schema = {"type": "object", "properties": {"kind": ref("kind")}, "required": ["kind"]}
    for kind, keys in reversed(KINDS.items()):
        test = {"type": "object", "properties": {"kind": {"const": kind}}, "required": ["kind"]}
        shape = {"if": test, "then": keys, "else": shape}
    return shape


DEFINITION = block(
    {
        "definition": ref("text"),
        "remark": ref("text"),
        "hazard": ref("text"),
        "programs": block(
            {"count": ref("whole"), "first": ref("whole"), "settle": ref("value"), "repeat": ref("value")},
            ("count", "first"),
        ),
        "controls": each(_by_kind()),
        "crosspoint": each(
            block(
                {"cc": ref("whole"), "inputs": _CODE_TABLE, "stored": ref("yes"), "remark": ref("text")},
                ("cc", "inputs"),
            )
        ),
        "loops": block({"cc": many(ref("whole")), "codes": _SWITCH_CODES, "stored": ref("yes")}, ("cc",)),
    },
    ("definition",),
)

FILES: dict[str, Schema] = {"show": SHOW, "rig": RIG, "song": SONG, "definition": DEFINITION}


def schema(kind: str) -> Schema:
    """The whole JSON Schema of one kind of file: show, rig, song or definition."""
    return {
        "$schema": DIALECT,
        "$id": f"urn:switchmatrix:{kind}",
        "title": f"switchmatrix: {kind}",
        **FILES[kind],
        "$defs": SCALARS,
    }
