"""What differs, as JSON with stable keys, and the schema of it."""

from __future__ import annotations

import json
from collections.abc import Sequence

from switchmatrix.compare.records import (
    Change,
    Diff,
    Item,
    LegDiff,
    Names,
    RigChange,
    RigDiff,
    RigOnLeg,
    SceneChange,
    Sent,
    SongOnRig,
    Told,
    VisitAt,
    WireDiff,
)

FORMAT = 1
"""Counts up when a key changes its meaning."""

Row = dict[str, object]


def diff_json(diff: Diff, old: str, new: str, *, wire: bool) -> str:
    """The whole of it; `old` and `new` are what the two sides are called. `wire` null where not asked for."""
    return json.dumps(diff_row(diff, old, new, wire=wire), indent=1, ensure_ascii=False) + "\n"


def diff_row(diff: Diff, old: str, new: str, *, wire: bool) -> Row:
    """The whole of it as plain values."""
    return {
        "format": FORMAT,
        "old": old,
        "new": new,
        "different": diff.different,
        "show": _changes(diff.show),
        "rigs": [_rig(rig) for rig in diff.rigs],
        "legs": [_leg(leg) for leg in diff.legs],
        "wire": [_wire(visit) for visit in diff.wire] if wire else None,
    }


def _names(names: Names) -> Row:
    return {"was": names.was, "now": names.now}


def _told(told: Told | None) -> Row | None:
    if told is None:
        return None
    place = told.place
    return {
        "is": told.text,
        "asked": told.asked,
        "stored_in": told.stored_in,
        "file": place.path if place is not None else None,
        "line": place.line if place is not None else None,
    }


def _changes(changes: Sequence[Change]) -> list[Row]:
    return [{"what": c.what, "was": _told(c.was), "now": _told(c.now)} for c in changes]


def _rig(rig: RigDiff) -> Row:
    return {**_names(rig.rig), "changes": [_rig_change(change) for change in rig.changes]}


def _rig_change(change: RigChange) -> Row:
    scenes = [{"leg": t.leg, "song": t.song, "scene": t.scene} for t in change.touches]
    return {
        "what": change.what,
        "of": _names(change.of),
        "part": _names(change.part),
        "was": _told(change.was),
        "now": _told(change.now),
        "at_the_rack": change.panel,
        "touches": {"count": len(scenes), "scenes": scenes},
    }


def _leg(leg: LegDiff) -> Row:
    setlist = leg.setlist
    return {
        **_names(leg.leg),
        "setlist": None
        if setlist is None
        else {
            "was": [_item(item) for item in setlist.was],
            "now": [_item(item) for item in setlist.now],
            "moves": [
                {**_names(m.item), "standing": m.standing, "from": m.was, "to": m.now} for m in setlist.moves
            ],
        },
        "songs": [{**_names(song.song), "fields": _changes(song.fields)} for song in leg.songs],
        "rigs": [_on_leg(rig) for rig in leg.rigs],
    }


def _item(item: Item) -> Row:
    return {"name": item.name, "standing": item.standing, "remark": item.remark}


def _on_leg(rig: RigOnLeg) -> Row:
    return {**_names(rig.rig), "songs": [_song(song) for song in rig.songs]}


def _song(song: SongOnRig) -> Row:
    running = song.running
    return {
        **_names(song.song),
        "running": None
        if running is None
        else {"was": [_visit(v) for v in running.was], "now": [_visit(v) for v in running.now]},
        "scenes": [_scene(scene) for scene in song.scenes],
    }


def _visit(visit: VisitAt) -> Row:
    return {"scene": visit.scene, "visit": visit.nth, "place": visit.place}


def _scene(scene: SceneChange) -> Row:
    return {
        **_names(scene.scene),
        "visits": list(scene.visits),
        "every_visit": scene.every,
        "fields": _changes(scene.fields),
        "controls": _changes(scene.controls),
    }


def _wire(visit: WireDiff) -> Row:
    return {
        "leg": _names(visit.leg),
        "rig": _names(visit.rig),
        "song": _names(visit.song),
        "scene": visit.scene,
        "visit": visit.visit,
        "goes": [_sent(sent) for sent in visit.goes],
        "comes": [_sent(sent) for sent in visit.comes],
        "changes": [{"was": _sent(was), "now": _sent(now)} for was, now in visit.changes],
    }


def _sent(sent: Sent) -> Row:
    return {
        "port": sent.port,
        "device": sent.device,
        "meaning": sent.meaning,
        "bytes_hex": sent.bytes_hex,
    }


def diff_schema() -> Row:
    """The JSON Schema of what `diff_json` writes."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "What differs between two shows, legs or revisions",
        **_object(
            {
                "format": {"const": FORMAT, "description": "counts up when a key changes its meaning"},
                "old": _text("what OLD is called"),
                "new": _text("what NEW is called"),
                "different": {"type": "boolean"},
                "show": _many("change", "title, rigs, land, budget and ask-after-fault of the show"),
                "rigs": _many("rig", "what the rigs are; of each, work at the rack first"),
                "legs": _many("leg", "setlists, and what the songs mean, control by control"),
                "wire": {
                    "description": "the messages themselves; null without --wire",
                    "anyOf": [{"type": "null"}, _many("visit-on-wire")],
                },
            }
        ),
        "$defs": _definitions(),
    }


def _definitions() -> Row:
    """The shapes that are used in several places."""
    names: Row = {"was": _or_null(_text("its name in OLD")), "now": _or_null(_text("its name in NEW"))}
    told: Row = {"was": _or_null(_ref("value")), "now": _or_null(_ref("value"))}
    whole = {"type": "integer", "minimum": 1}
    visits: Row = _object({"was": _many("visit"), "now": _many("visit")})
    return {
        "names": _object(names),
        "value": _object(
            {
                "is": _text("what the device does, `as PATCH stores it`, or whose the control is"),
                "asked": _or_null(_text("what the file asks, where the device does not hold just that")),
                "stored_in": _or_null(_text("the patch that stores it")),
                "file": _or_null({"type": "string"}),
                "line": _or_null(whole),
            }
        ),
        "change": _object({"what": _text("the control or key"), **told}),
        "rig": _object({**names, "changes": _many("rig-change")}),
        "rig-change": _object(
            {
                "what": _text("what of it is different"),
                "of": _ref("names"),
                "part": _ref("names"),
                **told,
                "at_the_rack": {"type": "boolean", "description": "a tech must do something about it"},
                "touches": _object({"count": {"type": "integer", "minimum": 0}, "scenes": _many("touch")}),
            }
        ),
        "touch": _object(_texts("leg", "song", "scene")),
        "leg": _object(
            {
                **names,
                "setlist": _or_null(
                    _object({"was": _many("item"), "now": _many("item"), "moves": _many("move")})
                ),
                "songs": _many("song-fields"),
                "rigs": _many("rig-on-leg"),
            }
        ),
        "item": _object(
            {
                "name": {"type": "string"},
                "standing": {"type": "boolean"},
                "remark": _or_null({"type": "string"}),
            }
        ),
        "move": _object(
            {**names, "standing": {"type": "boolean"}, "from": _or_null(whole), "to": _or_null(whole)}
        ),
        "song-fields": _object({**names, "fields": _many("change")}),
        "rig-on-leg": _object({**names, "songs": _many("song")}),
        "song": _object({**names, "running": _or_null(visits), "scenes": _many("scene")}),
        "visit": _object(
            {"scene": {"type": "string"}, "visit": whole, "place": _text("empty in a song without places")}
        ),
        "scene": _object(
            {
                **names,
                "visits": {
                    "type": "array",
                    "items": whole,
                    "description": "which of its visits; one that OLD has not got is held against the first",
                },
                "every_visit": {"type": "boolean"},
                "fields": _many("change"),
                "controls": _many("change", "where the scene is new, all that it is"),
            }
        ),
        "visit-on-wire": _object(
            {
                **{key: _ref("names") for key in ("leg", "rig", "song")},
                "scene": {"type": "string"},
                "visit": {"type": "integer", "minimum": 0, "description": "0: from unknown"},
                "goes": _many("message"),
                "comes": _many("message"),
                "changes": {
                    "type": "array",
                    "items": _object({"was": _ref("message"), "now": _ref("message")}),
                },
            }
        ),
        "message": _object(_texts("port", "device", "meaning", "bytes_hex")),
    }


def _object(properties: Row) -> Row:
    """An object with just these keys, all of them."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _texts(*keys: str) -> Row:
    return {key: {"type": "string"} for key in keys}


def _ref(name: str) -> Row:
    return {"$ref": f"#/$defs/{name}"}


def _many(name: str, description: str | None = None) -> Row:
    said = {"description": description} if description is not None else {}
    return {"type": "array", "items": _ref(name), **said}


def _text(description: str) -> Row:
    return {"type": "string", "description": description}


def _or_null(shape: Row) -> Row:
    return {"anyOf": [shape, {"type": "null"}]}
