"""The log: a JSON line for each thing done, and what it says of a run that broke off."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from switchmatrix.live.stepping.stops import Key

Entry = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Resumed:
    """Where a run was: the stop, the driven rigs, the devices taken out of each.

    `remarks` are those pinned, as (stop, its label, text).
    """

    key: Key
    driven: tuple[str, ...]
    out: Mapping[str, tuple[str, ...]]
    remarks: tuple[tuple[Key, str, str], ...] = ()


def line(entry: Entry, when: str) -> str:
    """An entry as a line with its moment, `when`, such as `2031-06-14T19:30:05.250+02:00`."""
    return json.dumps({"when": when, **entry}, ensure_ascii=False, separators=(",", ":")) + "\n"


def read(data: bytes) -> tuple[dict[str, object], ...]:
    """A log's entries in order; a line that is torn, as a power cut leaves the last one, is passed over."""
    entries = []
    for part in data.split(b"\n"):
        try:
            entry = json.loads(part.decode("utf-8"))
        except ValueError:
            continue
        if isinstance(entry, dict) and isinstance(entry.get("event"), str):
            entries.append(entry)
    return tuple(entries)


def resumed(entries: Iterable[Entry]) -> Resumed | None:
    """Where the last run in a log was; None where the log holds none."""
    key: Key | None = None
    driven: tuple[str, ...] = ()
    out: dict[str, list[str]] = {}
    remarks: list[tuple[Key, str, str]] = []
    for entry in entries:
        event, rig, device = entry["event"], entry.get("rig"), entry.get("device")
        if event == "start":
            driven, out = _texts(entry.get("rigs")), _outs(entry.get("out"))
            remarks = remarks if entry.get("resumed") is True else []
        if event in ("start", "at"):
            key = _key(entry) or key
        elif event == "drive":
            driven = _texts(entry.get("rigs")) or driven
        elif event == "out" and isinstance(rig, str) and isinstance(device, str):
            out.setdefault(rig, []).append(device)
        elif event == "in" and isinstance(rig, str) and device in out.get(rig, []):
            out[rig] = [one for one in out[rig] if one != device]
        elif event == "remark" and (about := _key(entry)) is not None:
            remarks.append((about, f"{about.song} {about.label}", str(entry.get("remark", ""))))
    if key is None:
        return None
    return Resumed(key, driven, {rig: tuple(names) for rig, names in out.items()}, tuple(remarks))


def _key(entry: Entry) -> Key | None:
    item, song, scene, nth = (entry.get(name) for name in ("item", "song", "scene", "nth"))
    if isinstance(item, int) and isinstance(song, str) and isinstance(scene, str) and isinstance(nth, int):
        return Key(item, song, scene, nth)
    return None


def _texts(value: object) -> tuple[str, ...]:
    return tuple(one for one in value if isinstance(one, str)) if isinstance(value, list) else ()


def _outs(value: object) -> dict[str, list[str]]:
    if not isinstance(value, dict):
        return {}
    return {rig: list(_texts(names)) for rig, names in value.items() if isinstance(rig, str)}
