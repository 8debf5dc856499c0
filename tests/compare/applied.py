"""OLD's states with the changes of a diff's JSON applied, from the JSON alone; and states in its terms."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from switchmatrix.states.show import Run, ShowStates
from switchmatrix.states.state import AsPatch, Free, PatchIn, Set, State

Said = dict[str, str]
Json = Any
"""What json.loads gives."""


@dataclass
class OnRig:
    """A leg on a rig: by song, its running order and each scene at each of its visits."""

    running: dict[str, list[tuple[str, int, str]]]
    scenes: dict[str, dict[tuple[str, int], Said]]


Whole = dict[tuple[str, str], OnRig]
"""By leg and rig."""


def whole(states: ShowStates) -> Whole:
    """Everything that a show's scenes mean, in words."""
    return {(run.leg.name, run.rig.id): _on_rig(run) for run in states.runs}


def _on_rig(run: Run) -> OnRig:
    out = OnRig({}, {})
    for _, song in run.songs:
        id = song.song.song.id
        out.running[id] = [(v.scene, v.nth, v.place) for v in song.visits]
        visited = {v.scene for v in song.visits}
        out.scenes[id] = {(v.scene, v.nth): _said(v.state) for v in song.visits}
        out.scenes[id] |= {(s.scene, 1): _said(s.state) for s in song.states if s.scene not in visited}
    return out


def _said(state: State) -> Said:
    out: Said = {}
    for device in state.devices:
        name = device.device.name
        if device.patch is not None:
            out[f"{name}.patch"] = _value(device.patch)
        for control, value in zip(device.device.definition.controls, device.controls, strict=True):
            if control.kind != "trigger":
                out[f"{name}.{control.name}"] = _value(value)
    return out


def _value(given: object) -> str:
    match given:
        case Set():
            return str(given.gets)
        case AsPatch(code=None):
            return f"as {given.patch.name} stores it"
        case AsPatch():
            return str(given.gets)
        case PatchIn():
            return given.patch.name
        case Free():
            return given.value
        case _:
            raise TypeError(f"no text for {given!r}")


def applied(old: Whole, diff: Json) -> Whole:
    """NEW's meaning: OLD's with the changes that the JSON reports."""
    legs = {row["was"]: row for row in diff["legs"] if row["was"] is not None}
    out: Whole = {}
    for (leg, rig), on in old.items():
        row: Json = legs.get(leg, {"now": leg, "rigs": []})
        of_rig: Json = next((r for r in row["rigs"] if r["was"] == rig), {"now": rig, "songs": []})
        if row["now"] is not None and of_rig["now"] is not None:
            names = _renames(diff, rig, of_rig["now"])
            out[row["now"], of_rig["now"]] = _applied(on, of_rig["songs"], names)
    for row in diff["legs"]:
        for come in row["rigs"]:
            if row["now"] is not None and come["now"] is not None and come["was"] is None:
                out[row["now"], come["now"]] = _applied(OnRig({}, {}), come["songs"], _Names({}, {}))
    return out


@dataclass
class _Names:
    """Devices, and patches by old device, under their new names."""

    devices: dict[str, str]
    patches: dict[str, dict[str, str]]

    def said(self, said: Said) -> Said:
        """The controls and patches under their new names."""
        out: Said = {}
        for target, value in said.items():
            device, _, control = target.partition(".")
            for was, now in self.patches.get(device, {}).items():
                if (control, value) == ("patch", was):
                    value = now
                    break
                if value == f"as {was} stores it":
                    value = f"as {now} stores it"
                    break
            out[f"{self.devices.get(device, device)}.{control}"] = value
        return out


def _renames(diff: Json, was: str, now: str) -> _Names:
    rows = [c for r in diff["rigs"] if (r["was"], r["now"]) == (was, now) for c in r["changes"]]
    patches: dict[str, dict[str, str]] = {}
    for row in rows:
        if row["what"] == "patch name":
            patches.setdefault(row["of"]["was"], {})[row["part"]["was"]] = row["part"]["now"]
    return _Names({r["of"]["was"]: r["of"]["now"] for r in rows if r["what"] == "name"}, patches)


def _applied(old: OnRig, songs: list[Json], names: _Names) -> OnRig:
    out = OnRig({}, {})
    rows = {row["was"]: row for row in songs if row["was"] is not None}
    for id in old.scenes:
        row: Json = rows.get(id, {"now": id, "running": None, "scenes": []})
        if row["now"] is not None:
            _song(out, row, old.running[id], old.scenes[id], names)
    for come in songs:
        if come["was"] is None:
            _song(out, come, [], {}, names)
    return out


def _song(
    out: OnRig,
    row: Json,
    running: list[tuple[str, int, str]],
    scenes: dict[tuple[str, int], Said],
    names: _Names,
) -> None:
    called = {r["was"]: r["now"] for r in row["scenes"] if r["was"] is not None}
    before = {
        (called.get(scene, scene), nth): names.said(said)
        for (scene, nth), said in scenes.items()
        if called.get(scene, scene) is not None
    }
    now = [(called.get(scene, scene), nth, place) for scene, nth, place in running]
    if row["running"] is not None:
        now = [(v["scene"], v["visit"], v["place"]) for v in row["running"]["now"]]
    visited = {scene for scene, _, _ in now}
    new = {r["now"] for r in row["scenes"] if r["was"] is None}
    keys = {(scene, nth) for scene, nth, _ in now}
    keys |= {(scene, 1) for scene, _ in before if scene not in visited}
    keys |= {(scene, 1) for scene in new if scene not in visited}
    out.running[row["now"]] = now
    out.scenes[row["now"]] = {key: _scene(row, key, before) for key in keys}


def _scene(row: Json, key: tuple[str, int], before: dict[tuple[str, int], Said]) -> Said:
    scene, nth = key
    said = dict(before.get(key, before.get((scene, 1), {})))
    for change in row["scenes"]:
        if change["now"] == scene and nth in change["visits"]:
            for control in change["controls"]:
                if control["now"] is None:
                    del said[control["what"]]
                else:
                    said[control["what"]] = control["now"]["is"]
    return said
