"""What songs mean: each scene's controls before and now, its visits, and the rest of what a scene says."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from switchmatrix.compare.reading import Cells, Reader
from switchmatrix.compare.records import (
    Change,
    Names,
    Running,
    SceneChange,
    SongFields,
    SongOnRig,
    Told,
    VisitAt,
)
from switchmatrix.definition.values import decimal
from switchmatrix.model.song import Budget, Song
from switchmatrix.source import Span
from switchmatrix.states.layers import instrument_of
from switchmatrix.states.state import SceneState, Trigger, Visit
from switchmatrix.states.visits import SongStates


@dataclass(frozen=True, slots=True)
class _At:
    """A scene where it is visited (a scene that is never visited, as if once)."""

    scene: str
    nth: int
    remark: str | None
    instrument: str | None
    cells: Cells
    triggers: tuple[Trigger, ...]


def song_on_rig(
    song: Names,
    old: SongStates | None,
    new: SongStates | None,
    names: dict[str, str],
    was: Reader,
    now: Reader,
) -> SongOnRig | None:
    """What is different in the song, its scenes matched by `names`; None where nothing is."""
    running = _running(old, new, names)
    before, after = _scenes(old, was), _scenes(new, now)
    now_was = {b: a for a, b in names.items()}
    scenes: list[SceneChange] = []
    for scene, ats in after.items():
        if scene not in now_was:
            scenes += _grouped(Names(None, scene), ((at.nth, *_whole(at, new)) for at in ats))
        else:
            same = Names(now_was[scene], scene)
            both = _both(before[now_was[scene]], ats)
            found = ((b.nth, *_differs(a, b, old, new)) for a, b in both)
            scenes += _grouped(same, found, same.was == same.now)
    scenes += [SceneChange(Names(scene, None), (), True, (), ()) for scene in before if scene not in names]
    if not scenes and running is None and song.was == song.now:
        return None
    return SongOnRig(song, running, tuple(scenes))


def _running(old: SongStates | None, new: SongStates | None, names: dict[str, str]) -> Running | None:
    was = tuple(VisitAt(names.get(v.scene, v.scene), v.nth, v.place) for v in _visits(old))
    now = tuple(VisitAt(v.scene, v.nth, v.place) for v in _visits(new))
    return None if was == now else Running(tuple(VisitAt(v.scene, v.nth, v.place) for v in _visits(old)), now)


def _visits(states: SongStates | None) -> tuple[Visit, ...]:
    return states.visits if states is not None else ()


def _scenes(states: SongStates | None, reader: Reader) -> dict[str, list[_At]]:
    """Each scene of the song at each of its visits, in file order."""
    if states is None:
        return {}
    out: dict[str, list[_At]] = {s.scene: [] for s in states.states}
    for v in states.visits:
        cells = reader.state(v.state)
        out[v.scene].append(_At(v.scene, v.nth, v.remark, v.instrument, cells, v.triggers))
    for s in states.states:
        if not out[s.scene]:
            out[s.scene].append(_unvisited(s, reader))
    return out


def _unvisited(state: SceneState, reader: Reader) -> _At:
    return _At(state.scene, 1, state.remark, state.instrument, reader.state(state.state), ())


def _both(before: list[_At], after: list[_At]) -> Iterator[tuple[_At, _At]]:
    """Each visit now, with the one of before; with the first, where there were fewer."""
    by_nth = {at.nth: at for at in before}
    return ((by_nth.get(at.nth, before[0]), at) for at in after)


_What = tuple[tuple[Change, ...], tuple[Change, ...]]
_Found = tuple[int, tuple[Change, ...], tuple[Change, ...]]


def _grouped(scene: Names, found: Iterable[_Found], same_name: bool = False) -> list[SceneChange]:
    """Visits with the same changes are one; nothing for those that are as they were."""
    groups: dict[_What, list[int]] = {}
    for nth, fields, controls in found:
        groups.setdefault((fields, controls), []).append(nth)
    every = len(groups) == 1
    return [
        SceneChange(scene, tuple(nths), every, *what)
        for what, nths in groups.items()
        if any(what) or not same_name
    ]


def _whole(at: _At, states: SongStates | None) -> _What:
    """All that a new scene is."""
    fields = _fields(at, states)
    said = tuple(Change(what, None, told) for what, told in fields.items() if told is not None)
    return said, tuple(Change(name, None, cell.told) for name, cell in at.cells.items())


def _differs(a: _At, b: _At, old: SongStates | None, new: SongStates | None) -> _What:
    was, now = _fields(a, old), _fields(b, new)
    fields = tuple(Change(what, was[what], now[what]) for what in now if was[what] != now[what])
    return fields, cells_differ(a.cells, b.cells)


def cells_differ(was: Cells, now: Cells) -> tuple[Change, ...]:
    """Each control that means something else, in the new rig's order, those that are gone last."""
    out = []
    for name in (*now, *(n for n in was if n not in now)):
        a, b = was.get(name), now.get(name)
        one, other = a.told if a is not None else None, b.told if b is not None else None
        if one != other:
            out.append(Change(name, one, other))
    return tuple(out)


def _fields(at: _At, states: SongStates | None) -> dict[str, Told | None]:
    """What a scene says beside its controls; the triggers in the order in which they go off."""
    if states is None:
        return {}
    scene = states.song.song.scene(at.scene)
    if scene is None:
        return {}
    fires = ", ".join(f"{t.device.name}.{t.control}" for t in at.triggers)
    ref = instrument_of(states.song, scene)
    return {
        # A change's remark has no place of its own.
        "remark": _told(at.remark, scene.span if at.remark == scene.remark else None),
        "instrument": _told(at.instrument, ref.span if ref is not None else None),
        "fires": _told(fires or None, at.triggers[0].origin.span if at.triggers else None),
        "land": _told(_land(scene.on_time), scene.span),
        "budget": _budget(scene.budget),
    }


def _told(text: str | None, span: Span | None) -> Told | None:
    return None if text is None else Told(text, span)


def _land(on_time: bool | None) -> str | None:
    return None if on_time is None else "on time" if on_time else "as sent"


def _budget(budget: Budget | None) -> Told | None:
    return None if budget is None else Told(f"{budget.us / 1000:g} ms", budget.span)


def show_words(on_time: bool, budget: Budget | None) -> dict[str, Told | None]:
    """`land` and `budget` as the show says them."""
    return {"land": Told("on time" if on_time else "as sent", None), "budget": _budget(budget)}


def song_fields(names: Names, old: SongStates | None, new: SongStates | None) -> SongFields | None:
    """What is different in the song itself; None where nothing is."""
    was = _of_song(old) if old is not None else {}
    now = _of_song(new) if new is not None else {}
    fields = tuple(
        Change(what, was.get(what), now.get(what))
        for what in (now or was)
        if was.get(what) != now.get(what) and old is not None and new is not None
    )
    return SongFields(names, fields) if fields or names.was != names.now else None


def _of_song(states: SongStates) -> dict[str, Told | None]:
    song = states.song.song
    instrument, tuning = song.instrument, song.tuning
    start = f"{decimal(song.start)} s" if song.start is not None else None
    return {
        "title": Told(song.title, song.span),
        "remark": _told(song.remark, song.span),
        "instrument": Told(instrument.name, instrument.span) if instrument is not None else None,
        "tuning": Told(tuning.name, tuning.span) if tuning is not None else None,
        "start": _told(start, song.span),
        "rate": _told(song.rate.label if song.rate is not None else None, song.span),
        "tempo": _told(_tempo(song), song.tempos[0].span if song.tempos else None),
        "meter": _told(_meter(song), song.meters[0].span if song.meters else None),
        "land": _told(_land(song.on_time), song.span),
        "budget": _budget(song.budget),
    }


def _tempo(song: Song) -> str | None:
    """`96`, or `96 from bar 1, 104 (a beat is 1.5 quarter notes) from bar 33`."""
    said = [
        (decimal(m.bpm) + (f" (a beat is {decimal(m.beat)} quarter notes)" if m.beat != 1 else ""), m.at.text)
        for m in song.tempos
    ]
    if len(said) < 2:
        return said[0][0] if said else None
    return ", ".join(f"{tempo} from {at}" for tempo, at in said)


def _meter(song: Song) -> str | None:
    said = [(f"{m.beats}/{m.unit}", m.at.text) for m in song.meters]
    if len(said) < 2:
        return said[0][0] if said else None
    return ", ".join(f"{meter} from {at}" for meter, at in said)
