"""What differs, as text: what a tech must do first, then the rig, then the songs by setlist."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from switchmatrix.compare.records import (
    Change,
    Diff,
    LegDiff,
    Names,
    RigChange,
    RigDiff,
    RigOnLeg,
    Running,
    SceneChange,
    Sent,
    SetlistDiff,
    SongOnRig,
    Told,
    Touch,
    VisitAt,
    WireDiff,
)
from switchmatrix.model.song import STANDING

WIDTH = 100


def diff_text(diff: Diff, old: str, new: str) -> str:
    """The whole of it; `old` and `new` are what the two sides are called."""
    if not diff.different:
        return "nothing differs\n"
    parts = [
        [f"{old}, now {new}"],
        _section("To do at the rack", (_rig(rig, panel=True) for rig in diff.rigs)),
        _section("The show", [[_change(change) for change in diff.show]]),
        _section("The rigs", (_rig(rig, panel=False) for rig in diff.rigs)),
        _section("The songs", (_leg(leg) for leg in diff.legs)),
        _section("The messages", _messages(diff.wire)),
    ]
    return "\n\n".join("\n".join(part) for part in parts if part) + "\n"


def _section(title: str, blocks: Iterable[list[str]]) -> list[str]:
    lines = [line for block in blocks for line in block]
    return [title, *_indented(lines)] if lines else []


def _indented(lines: Iterable[str]) -> list[str]:
    return [f"  {line}" for line in lines]


def _called(names: Names) -> str:
    """`a-rig`, or `a-rig, now a-rig-tour`."""
    return (
        f"{names.was}, now {names.now}" if names.was != names.now and names.was and names.now else names.name
    )


# The rig.


def _rig(rig: RigDiff, *, panel: bool) -> list[str]:
    lines: list[str] = []
    for change in rig.changes:
        if change.panel is panel:
            lines += [*_wrapped(_rig_change(change)), *_wrapped(f"  {_touches(change.touches, rig.scenes)}")]
    return [_called(rig.rig), *_indented(lines)] if lines else []


def _wrapped(text: str) -> list[str]:
    indent = " " * (len(text) - len(text.lstrip()) + 2)
    return textwrap.wrap(
        text, WIDTH, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False
    )


_SENTENCES = {
    "device": "{of}",
    "name": "{of}: name",
    "model": "{of}: model",
    "patch": "{of}: patch {part}",
    "patch name": "{of}: name of the patch {part}",
    "patch number": "{of}: number of the patch {part}",
    "patch stores": "{of}: what the patch {part} stores",
    "port of the rig": "port {of}",
    "title": "title of the rig",
    "mute": "mute while {of} moves",
    "joint table": "table of {of}",
    "home": "home: {of}",
    "word": "word {of}",
}
"""What of a rig a change is about; others are named by themselves."""


def _rig_change(change: RigChange) -> str:
    of, part = change.of.name, change.part.name
    if change.what == "hands":
        return f"the player moves {of} now" if change.was is None else f"the player moves {of} no longer"
    if change.what.startswith("definition "):
        about = f"definition {of}: {f'{part}: ' if part else ''}{change.what.removeprefix('definition ')}"
        return _sentence(about.replace(": control", ""), change.was, change.now)
    pattern = _SENTENCES.get(change.what)
    about = (
        pattern.format(of=of, part=part)
        if pattern is not None
        else f"{of}: {change.what}"
        if of
        else change.what
    )
    return _sentence(about, change.was, change.now)


def _sentence(about: str, was: Told | None, now: Told | None) -> str:
    """`echo: channel was 3 (rigs/a-rig.yaml:9), now 5 (rigs/a-rig.yaml:9)`."""
    if was is None and now is not None:
        return f"{about} is new: {_told(now)}"
    if now is None and was is not None:
        return f"{about} is gone; it was {_told(was)}"
    if was is None or now is None:
        return about
    return f"{about} was {_told(was)}, now {_told(now)}"


def _told(told: Told) -> str:
    said = told.text if told.asked is None else f"asked {told.asked}, gets {told.text}"
    if told.stored_in is not None and not told.text.startswith("as "):
        said += f", as {told.stored_in} stores it"
    return f"{said} ({told.place.path}:{told.place.line})" if told.place is not None else said


def _touches(touches: Sequence[Touch], scenes: Sequence[tuple[str, str, int]]) -> str:
    """`alters the messages of 3 scenes: lantern (verse, chorus); harbour (every scene)`."""
    if not touches:
        return "alters no message"
    said = f"alters the messages of {len(touches)} scene{'' if len(touches) == 1 else 's'}"
    if len(touches) == sum(count for _, _, count in scenes):
        return f"{said}: every scene there is"
    songs: dict[tuple[str, str], list[str]] = {}
    for touch in touches:
        songs.setdefault((touch.leg, touch.song), []).append(touch.scene)
    count_of = {(leg, song): count for leg, song, count in scenes}
    by_leg: dict[str, list[str]] = {}
    for (leg, song), names in songs.items():
        which = "every scene" if len(names) == count_of.get((leg, song)) else ", ".join(names)
        by_leg.setdefault(leg, []).append(f"{song} ({which})")
    several = len({leg for leg, _, _ in scenes}) > 1
    parts = [f"{leg}: {'; '.join(told)}" if several else "; ".join(told) for leg, told in by_leg.items()]
    return f"{said}: {'; in '.join(parts)}"


# The songs.


def _leg(leg: LegDiff) -> list[str]:
    names = leg.leg
    if names.was is None or names.now is None:
        return [f"the leg {names.name} is {'new' if names.was is None else 'gone'}"]
    lines = _setlist(leg.setlist) if leg.setlist is not None else []
    lines += [
        f"the rig {rig.rig.name} is {'new on' if rig.rig.was is None else 'gone from'} this leg"
        for rig in leg.rigs
        if rig.rig.was is None or rig.rig.now is None
    ]
    rigs = [rig for rig in leg.rigs if rig.rig.was is not None and rig.rig.now is not None]
    for song in _in_order(leg, rigs):
        lines += _song(leg, rigs, song)
    return [_called(names), *_indented(lines)]


def _in_order(leg: LegDiff, rigs: Sequence[RigOnLeg]) -> list[Names]:
    """The songs that differ, by setlist, standing scenes first and those that are gone last."""
    found = dict.fromkeys(song.song for song in leg.songs)
    found |= dict.fromkeys(song.song for rig in rigs for song in rig.songs)
    place = {name: n for n, name in enumerate(leg.order)}

    def rank(song: Names) -> tuple[bool, int]:
        return song.now is None, place.get(song.name, 0)

    return sorted(found, key=rank)


def _setlist(setlist: SetlistDiff) -> list[str]:
    lines = [_move(move.item, move.standing, move.was, move.now) for move in setlist.moves]
    gone = {move.was for move in setlist.moves}
    come = {move.now for move in setlist.moves}
    stay_old = [item for n, item in enumerate(setlist.was, 1) if n not in gone]
    stay_new = [(n, item) for n, item in enumerate(setlist.now, 1) if n not in come]
    for was, (number, now) in zip(stay_old, stay_new, strict=True):
        if was.remark != now.remark:
            lines.append(
                f"{number}. {now.name}: remark was {was.remark or 'nothing'}, now {now.remark or 'nothing'}"
            )
    return ["setlist", *_indented(lines)] if lines else []


def _move(item: Names, standing: bool, was: int | None, now: int | None) -> str:
    name = f"{item.name} (standing)" if standing else item.name
    if was is None:
        return f"{name} is new, number {now}"
    if now is None:
        return f"{name} is gone; it was number {was}"
    if was == now:
        return f"{name} stays number {now}"
    return f"{name} moves from {was} to {now}"


def _song(leg: LegDiff, rigs: Sequence[RigOnLeg], song: Names) -> list[str]:
    if song.was is None or song.now is None:
        verb = "are" if song.name == STANDING else "is"
        return [f"{_title(song)} {verb} {'new on' if song.was is None else 'gone from'} this leg"]
    lines = [_change(c) for fields in leg.songs if fields.song == song for c in fields.fields]
    by_rig = {_called(rig.rig): _on_rig(found) for rig in rigs for found in rig.songs if found.song == song}
    said = {name: found for name, found in by_rig.items() if found}
    for text, on in _same(said).items():
        everywhere = len(on) == len(leg.played)
        lines += text if everywhere else [f"on {' and '.join(on)}", *_indented(text)]
    return [_title(song), *_indented(lines)] if lines or song.was != song.now else []


def _title(song: Names) -> str:
    if song.name == STANDING:
        return "standing scenes"
    return (
        f"{song.was}, now called {song.now}" if song.was and song.now and song.was != song.now else song.name
    )


def _same(said: dict[str, list[str]]) -> dict[tuple[str, ...], list[str]]:
    """Rigs of which the same is said, together."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for name, lines in said.items():
        groups.setdefault(tuple(lines), []).append(name)
    return groups


def _on_rig(song: SongOnRig) -> list[str]:
    lines = list(_come_and_gone(song))
    groups: dict[tuple[str, ...], list[str]] = {}
    for scene in song.scenes:
        if scene.scene.was is not None and scene.scene.now is not None:
            said = tuple(_change(change) for change in (*scene.fields, *scene.controls))
            groups.setdefault(said, []).append(_scene(scene))
    for said, scenes in groups.items():
        lines += [", ".join(dict.fromkeys(scenes)), *_indented(said)]
    return lines


def _scene(scene: SceneChange) -> str:
    """`chorus`, `chorus, now called refrain`, `chorus (visit 2)` where its visits differ."""
    names = scene.scene
    title = names.name if names.was == names.now else f"{names.was}, now called {names.now}"
    return title if scene.every else f"{title} (visit {_and([str(n) for n in scene.visits])})"


def _change(change: Change) -> str:
    return _sentence(change.what, change.was, change.now)


def _come_and_gone(song: SongOnRig) -> Iterator[str]:
    """Scenes that are new and gone, and where the others come now; the whole order, without places."""
    running = song.running if song.running is not None else Running((), ())
    was, now = _places(running.was), _places(running.now)
    names = dict.fromkeys(scene.scene for scene in song.scenes)
    for scene in (n.now for n in names if n.was is None and n.now is not None):
        yield f"{scene} is new" + (f"; it comes at {_and(now[scene])}" if any(now.get(scene, ())) else "")
    for scene in (n.was for n in names if n.now is None and n.was is not None):
        yield f"{scene} is gone" + (f"; it came at {_and(was[scene])}" if any(was.get(scene, ())) else "")
    if song.running is None:
        return
    if not all(visit.place for visit in (*running.was, *running.now)):
        yield f"running order was {_order(running.was)}, now {_order(running.now)}"
        return
    renamed = {n.now: n.was for n in names if n.now is not None}
    for scene, places in now.items():
        before = was.get(renamed.get(scene, scene) or "", [])
        if before and before != places:
            yield f"{scene} comes at {_and(places)}; it came at {_and(before)}"
    unvisited = [s for s in was if s not in now and s not in renamed.values() and Names(s, None) not in names]
    for scene in unvisited:
        yield f"{scene} came at {_and(was[scene])}, and comes no more"
    for scene in (s for s in now if s not in was and renamed.get(s, s) == s):
        yield f"{scene} comes at {_and(now[scene])}; it never came"


def _places(visits: Sequence[VisitAt]) -> dict[str, list[str]]:
    places: dict[str, list[str]] = {}
    for visit in visits:
        places.setdefault(visit.scene, []).append(visit.place)
    return places


def _order(visits: Sequence[VisitAt]) -> str:
    return ", ".join(visit.scene for visit in visits) or "empty"


def _and(texts: Sequence[str]) -> str:
    return " and ".join([", ".join(texts[:-1]), texts[-1]] if len(texts) > 1 else texts)


# The messages.


def _messages(wire: Sequence[WireDiff]) -> Iterator[list[str]]:
    """Visit by visit; a song that is new or gone with all its messages in a line."""
    whole: dict[tuple[Names, Names, Names], int] = {}
    for visit in wire:
        if visit.song.was is not None and visit.song.now is not None:
            yield _wire(visit)
        else:
            of = (visit.leg, visit.rig, visit.song)
            whole[of] = whole.get(of, 0) + len(visit.goes) + len(visit.comes)
    for (leg, rig, song), count in whole.items():
        verb = "come" if song.was is None else "go"
        yield [f"{_called(leg)}: {_called(rig)}: {song.name}: {count} messages {verb}"]


def _wire(visit: WireDiff) -> list[str]:
    where = f"{_called(visit.leg)}: {_called(visit.rig)}: {_called(visit.song)}"
    which = "from unknown" if visit.visit == 0 else f"visit {visit.visit}"
    lines = [f"goes   {_message(sent)}" for sent in visit.goes]
    lines += [f"comes  {_message(sent)}" for sent in visit.comes]
    lines += [line for a, b in visit.changes for line in (f"was    {_message(a)}", f"now    {_message(b)}")]
    return [f"{where}: {visit.scene}, {which}", *_indented(lines or ["the same messages in another order"])]


def _message(sent: Sent) -> str:
    return f"{sent.device} {sent.meaning}  {sent.port}  {sent.bytes_hex}"
