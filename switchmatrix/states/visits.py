"""A song's running order: which scene comes where, and in which state."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import Target
from switchmatrix.model.song import BoundSong, Change, Place, Scene, Song
from switchmatrix.states.layers import instrument_of
from switchmatrix.states.laying import Laid
from switchmatrix.states.resolve import resolve, timed
from switchmatrix.states.scenes import SceneSettings, scene_settings
from switchmatrix.states.state import SceneState, State, Visit
from switchmatrix.states.timeline import Timeline, place_tick, timeline


@dataclass(frozen=True, slots=True)
class SongStates:
    """A song on one rig in one leg: its visits in order, and each distinct state of each scene."""

    song: BoundSong
    timeline: Timeline
    visits: tuple[Visit, ...]
    states: tuple[SceneState, ...]
    placed: bool


@dataclass(frozen=True, slots=True)
class _Stop:
    """A scene at a place of the running order."""

    scene: Scene
    tick: int | None
    place: Place | None


def song_states(
    rig: Rig,
    song: BoundSong,
    changes: tuple[Change, ...],
    home: dict[Target, Laid],
    found: list[Diagnostic],
) -> SongStates:
    """Every visit of the song with its state. Dropped scenes are left out, save as parents."""
    dropped = {change.scene for change in changes if change.drop}
    kept = tuple(scene for scene in song.song.scenes if scene.name not in dropped)
    line = timeline(song.song)
    stops, placed = _running_order(song.song, kept, line, found)
    settings = {scene.name: scene_settings(rig, song, changes, scene, home, found) for scene in kept}
    visits = _visits(rig, song, changes, line, stops, settings, found)
    states = [s for n, scene in enumerate(kept, 1) for s in _distinct(scene, n, visits)]
    unvisited = [scene for scene in kept if scene.name not in {v.scene for v in visits}]
    for scene in unvisited:
        state = resolve(rig, settings[scene.name], _quarter_ms(song.song, scene, line, None), found)
        remark, instrument = _remark(scene, changes), _instrument(song, scene)
        states.append(SceneState(scene.name, kept.index(scene) + 1, 1, remark, instrument, state))
    states.sort(key=lambda s: (s.position, s.nth))
    return SongStates(song, line, visits, tuple(states), placed)


def _running_order(
    song: Song, kept: tuple[Scene, ...], line: Timeline, found: list[Diagnostic]
) -> tuple[tuple[_Stop, ...], bool]:
    """The stops in order, and whether they stand at places."""
    stops = [_Stop(scene, place_tick(line, place), place) for scene in kept for place in scene.places]
    if not stops:
        by_name = {scene.name: scene for scene in kept}
        if song.order is None:
            return tuple(_Stop(scene, None, None) for scene in kept), False
        return tuple(_Stop(by_name[r.name], None, None) for r in song.order if r.name in by_name), False
    stops.sort(key=lambda stop: stop.tick or 0)
    for before, stop in pairwise(stops):
        if before.tick == stop.tick and stop.place is not None and before.place is not None:
            message = f"`{before.scene.name}` and `{stop.scene.name}` both come at `{stop.place.text}`"
            related = (Related(before.place.span, f"`{before.scene.name}` comes here"),)
            help = "give each its own place"
            found.append(names.PLACES_OUT_OF_ORDER.at(stop.place.span, message, help, related))
    _check_order(song, stops, kept, found)
    return tuple(stops), True


def _check_order(song: Song, stops: list[_Stop], kept: tuple[Scene, ...], found: list[Diagnostic]) -> None:
    """An `order` beside places must say what the places say."""
    if song.order is None:
        return
    known = {scene.name for scene in kept}
    order = [ref for ref in song.order if ref.name in known]
    for n, ref in enumerate(order):
        if n >= len(stops) or stops[n].scene.name != ref.name:
            there = f"`{stops[n].scene.name}` is" if n < len(stops) else "nothing is"
            message = f"`order` has `{ref.name}` as number {n + 1}; by the places {there}"
            help = "take `order` out: the places say the order"
            found.append(names.ORDER_DISAGREES.at(ref.span, message, help))
            return
    if len(order) < len(stops):
        message = f"`order` ends before `{stops[len(order)].scene.name}`, which the places put next"
        span = order[-1].span if order else song.span
        found.append(names.ORDER_DISAGREES.at(span, message, "take `order` out: the places say the order"))


def _remark(scene: Scene, changes: tuple[Change, ...]) -> str | None:
    given = [c.remark for c in changes if c.scene == scene.name and c.remark is not None]
    return given[-1] if given else scene.remark


def _instrument(song: BoundSong, scene: Scene) -> str | None:
    ref = instrument_of(song, scene)
    return ref.name if ref is not None else None


def _quarter_ms(song: Song, scene: Scene, line: Timeline, tick: int | None) -> Fraction | None:
    """A quarter note's length where the scene stands; with no place, by its own or the only tempo."""
    if tick is not None:
        tempo = line.tempo_at(tick)
        return tempo.quarter_ms if tempo is not None else None
    if scene.tempo is not None:
        return 60000 / scene.tempo
    return song.tempos[0].quarter_ms if len(song.tempos) == 1 else None


def _visits(
    rig: Rig,
    song: BoundSong,
    changes: tuple[Change, ...],
    line: Timeline,
    stops: tuple[_Stop, ...],
    settings: dict[str, SceneSettings],
    found: list[Diagnostic],
) -> tuple[Visit, ...]:
    counts: dict[str, int] = {}
    seen: dict[tuple[str, Fraction | None], State] = {}
    visits = []
    for number, stop in enumerate(stops, 1):
        scene = stop.scene
        counts[scene.name] = counts.get(scene.name, 0) + 1
        depends = timed(settings[scene.name])
        quarter_ms = _quarter_ms(song.song, scene, line, stop.tick) if depends else None
        key = (scene.name, quarter_ms)
        if key not in seen:
            seen[key] = resolve(rig, settings[scene.name], quarter_ms, found)
        if depends and stop.tick is not None:
            until = stops[number].tick if number < len(stops) else None
            _warn_tempo(song.song, line, stop, until, depends[0], found)
        place = stop.place.text if stop.place is not None else ""
        visits.append(
            Visit(
                number=number,
                scene=scene.name,
                nth=counts[scene.name],
                tick=stop.tick,
                place=place,
                remark=_remark(scene, changes),
                instrument=_instrument(song, scene),
                state=seen[key],
                triggers=settings[scene.name].triggers,
            )
        )
    return tuple(visits)


def _warn_tempo(
    song: Song, line: Timeline, stop: _Stop, until: int | None, laid: Laid, found: list[Diagnostic]
) -> None:
    """A note value keeps the tempo that its scene began with."""
    start = stop.tick or 0
    for mark, change in zip(song.tempos, line.tempos, strict=True):
        if start < change.tick and (until is None or change.tick < until):
            message = (
                f"the tempo changes at `{mark.at.text}`, inside `{stop.scene.name}`, which has a note value"
            )
            help = f"give a scene a place at `{mark.at.text}` (the same scene again will do)"
            related = (
                Related(mark.at.span, "the tempo changes here"),
                Related(laid.by.line.span, "the note value"),
            )
            found.append(names.TEMPO_CHANGES_INSIDE.at(stop.scene.span, message, help, related))


def _distinct(scene: Scene, position: int, visits: tuple[Visit, ...]) -> list[SceneState]:
    """The scene's states in visit order, each once, under the first visit that has it."""
    out: list[SceneState] = []
    for visit in visits:
        if visit.scene == scene.name and all(visit.state.key != s.state.key for s in out):
            out.append(
                SceneState(scene.name, position, visit.nth, visit.remark, visit.instrument, visit.state)
            )
    return out
