"""The messages themselves: those that go, come, or are there with other bytes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from switchmatrix.compare.records import Names, Sent, WireDiff
from switchmatrix.compile.plan import LegPlan, SongPlan
from switchmatrix.compile.schedule import Timed
from switchmatrix.compile.sentence import hex_text

_At = tuple[str, int]
"""A scene (under its new name) and the number of a visit, 0 from unknown."""


def wire_diff(
    leg: Names,
    rig: Names,
    old: LegPlan,
    new: LegPlan,
    songs: list[tuple[Names, dict[str, str]]],
) -> Iterator[WireDiff]:
    """What differs at each visit of each song; `songs` with which scene is which."""
    before = {song.states.song.song.id: song for song in old.songs}
    after = {song.states.song.song.id: song for song in new.songs}
    for song, names in songs:
        was = _visits(before[song.was], names) if song.was is not None else {}
        now = _visits(after[song.now], {}) if song.now is not None else {}
        for scene, visit in dict.fromkeys((*now, *was)):
            a, b = was.get((scene, visit), ()), now.get((scene, visit), ())
            found = _differs(leg, rig, song, scene, visit, a, b)
            if found is not None:
                yield found


def _visits(song: SongPlan, names: dict[str, str]) -> dict[_At, tuple[Sent, ...]]:
    """Each visit's messages, by scene and number of its visit; scenes with none, from unknown."""
    out = {(names.get(v.visit.scene, v.visit.scene), v.visit.nth): _sent(v.messages) for v in song.visits}
    visited = {v.visit.scene for v in song.visits}
    for scene in song.scenes:
        name = scene.scene.scene
        if name not in visited:
            out[names.get(name, name), 0] = _sent(scene.messages)
    return out


def _sent(messages: tuple[Timed, ...]) -> tuple[Sent, ...]:
    return tuple(Sent(m.step.port, m.step.device, m.step.meaning, hex_text(m.step.data)) for m in messages)


def _key(sent: Sent) -> tuple[str, str]:
    return sent.port, sent.bytes_hex


def _differs(
    leg: Names,
    rig: Names,
    song: Names,
    scene: str,
    visit: int,
    was: tuple[Sent, ...],
    now: tuple[Sent, ...],
) -> WireDiff | None:
    if [_key(s) for s in was] == [_key(s) for s in now]:
        return None
    comes, goes = _less(now, was), _less(was, now)
    changes = _paired(goes, comes)
    return WireDiff(leg, rig, song, scene, visit, tuple(goes), tuple(comes), tuple(changes))


def _less(these: tuple[Sent, ...], those: tuple[Sent, ...]) -> list[Sent]:
    """The messages that the others have not got, each as often as it is there."""
    there = Counter(_key(s) for s in those)
    out = []
    for sent in these:
        if there[_key(sent)]:
            there[_key(sent)] -= 1
        else:
            out.append(sent)
    return out


def _paired(goes: list[Sent], comes: list[Sent]) -> list[tuple[Sent, Sent]]:
    """Messages that come in place of one to the same device that is the same but for its last byte."""
    changes: list[tuple[Sent, Sent]] = []
    for a in tuple(goes):
        b = next((b for b in comes if _same_but_value(a, b)), None)
        if b is not None:
            goes.remove(a)
            comes.remove(b)
            changes.append((a, b))
    return changes


def _same_but_value(a: Sent, b: Sent) -> bool:
    """One status byte and controller (a program change has its status byte alone), another value."""
    return a.port == b.port and a.bytes_hex != b.bytes_hex and a.bytes_hex[:-2] == b.bytes_hex[:-2]
