"""A song's running order: which scene comes where, and in which state."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import AtTempo, Target
from switchmatrix.model.song import STANDING, BoundSong, Change, Place, Scene, Song
from switchmatrix.states.layers import Laid, instrument_of
from switchmatrix.states.resolve import Resolver
from switchmatrix.states.scenes import RigScenes, SceneSettings
from switchmatrix.states.state import SceneState, State, Visit
from switchmatrix.states.timeline import LAST_TICK, Timeline, place_tick, timeline


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


class RigStates:
    """The states of songs on one rig."""

    def __init__(self, rig: Rig, found: list[Diagnostic]) -> None:
        self.scenes = RigScenes(rig, found)
        self.resolver = Resolver(rig)

    def song(self, song: BoundSong, changes: tuple[Change, ...], found: list[Diagnostic]) -> SongStates:
        """Every visit of the song with its state. Dropped scenes are left out, save as parents."""
        dropped = {change.scene for change in changes if change.drop}
        kept = tuple(scene for scene in song.song.scenes if scene.name not in dropped)
        line = timeline(song.song)
        stops, placed = _running_order(song.song, kept, line, found)
        ready = self.scenes.song(song, changes, found)
        settings = {scene.name: self.scenes.scene(ready, song, scene, found) for scene in kept}
        resolve = _Resolve(self.resolver, settings, song.hands, found)
        visits = _visits(song, changes, line, stops, resolve, found)
        by_scene: dict[str, list[Visit]] = {}
        for visit in visits:
            by_scene.setdefault(visit.scene, []).append(visit)
        states: list[SceneState] = []
        for n, scene in enumerate(kept, 1):
            if scene.name in by_scene:
                states += _distinct(scene, n, by_scene[scene.name])
            else:
                state = resolve.state(scene, _quarter_ms(song.song, scene, line, None))
                remark, instrument = _remark(scene, changes), _instrument(song, scene)
                states.append(SceneState(scene.name, n, 1, remark, instrument, state))
        return SongStates(song, line, visits, tuple(states), placed)


class _Resolve:
    """The states of one song's scenes, each tempo of each scene once."""

    def __init__(
        self,
        resolver: Resolver,
        settings: dict[str, SceneSettings],
        hands: frozenset[Target],
        found: list[Diagnostic],
    ) -> None:
        self.resolver, self.settings, self.hands, self.found = resolver, settings, hands, found
        self.seen: dict[tuple[str, Fraction | None], State] = {}

    def timed(self, scene: Scene) -> Laid | None:
        """A setting of the scene whose code depends on the tempo."""
        laid = self.settings[scene.name].laid.values()
        return next((x for x in laid if isinstance(x.meaning, AtTempo)), None)

    def state(self, scene: Scene, quarter_ms: Fraction | None) -> State:
        key = (scene.name, quarter_ms if self.timed(scene) is not None else None)
        if key not in self.seen:
            laid = self.settings[scene.name].laid
            self.seen[key] = self.resolver.state(laid, self.hands, quarter_ms, self.found)
        return self.seen[key]


def _running_order(
    song: Song, kept: tuple[Scene, ...], line: Timeline, found: list[Diagnostic]
) -> tuple[tuple[_Stop, ...], bool]:
    """The stops in order, and whether they stand at places; standing scenes have no order, so no stops."""
    if song.id == STANDING:
        return (), False
    stops = [_Stop(scene, place_tick(line, place), place) for scene in kept for place in scene.places]
    if not any(scene.places for scene in song.scenes):
        by_name = {scene.name: scene for scene in kept}
        if song.order is None:
            return tuple(_Stop(scene, None, None) for scene in kept), False
        return tuple(_Stop(by_name[r.name], None, None) for r in song.order if r.name in by_name), False
    _check_last(song, stops, line, found)
    for before, stop in pairwise(stops):
        backwards = before.scene is stop.scene and (stop.tick or 0) < (before.tick or 0)
        if backwards and stop.place is not None and before.place is not None:
            message = f"`{stop.place.text}` is written after `{before.place.text}`, which comes later"
            found.append(names.PLACES_OUT_OF_ORDER.at(stop.place.span, message, "put the places in order"))
    stops.sort(key=lambda stop: stop.tick or 0)
    for before, stop in pairwise(stops):
        if before.tick == stop.tick and stop.place is not None and before.place is not None:
            _twice(before.scene.name, before.place, stop.scene.name, stop.place, found)
    _check_order(song, stops, kept, found)
    return tuple(stops), True


def _check_last(song: Song, stops: list[_Stop], line: Timeline, found: list[Diagnostic]) -> None:
    """Nothing of a song lies later than a MIDI file can hold, with room for its last messages."""
    places: list[tuple[int, Place]] = [(s.tick or 0, s.place) for s in stops if s.place is not None]
    places += [(change.tick, mark.at) for change, mark in zip(line.tempos, song.tempos, strict=True)]
    places += [(change.tick, mark.at) for change, mark in zip(line.meters, song.meters, strict=True)]
    for tick, place in places:
        if tick > LAST_TICK // 2:
            message = f"`{place.text}` is later than a MIDI file can hold"
            found.append(names.BAD_PLACE.at(place.span, message, "mend the place"))


def _twice(one: str, here: Place, other: str, there: Place, found: list[Diagnostic]) -> None:
    """Two visits at one moment."""
    text = f"`{here.text}`" if here.text == there.text else f"`{here.text}`, which is `{there.text}`"
    message = (
        f"`{one}` and `{other}` both come at {text}" if one != other else f"`{one}` comes twice at {text}"
    )
    related = (Related(here.span, f"`{one}` comes here"),)
    found.append(names.PLACES_OUT_OF_ORDER.at(there.span, message, "give each its own place", related))


def _check_order(song: Song, stops: list[_Stop], kept: tuple[Scene, ...], found: list[Diagnostic]) -> None:
    """An `order` beside places must say what the places say."""
    if song.order is None:
        return
    known = {scene.name for scene in kept}
    order = [ref for ref in song.order if ref.name in known]
    for n, ref in enumerate(order):
        if n >= len(stops) or stops[n].scene.name != ref.name:
            message = f"`order` has `{ref.name}` as number {n + 1}; by the places "
            message += (
                f"`{stops[n].scene.name}` is" if n < len(stops) else f"there are only {len(stops)} visits"
            )
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
    song: BoundSong,
    changes: tuple[Change, ...],
    line: Timeline,
    stops: tuple[_Stop, ...],
    resolve: _Resolve,
    found: list[Diagnostic],
) -> tuple[Visit, ...]:
    counts: dict[str, int] = {}
    visits = []
    for number, stop in enumerate(stops, 1):
        scene = stop.scene
        counts[scene.name] = counts.get(scene.name, 0) + 1
        timed = resolve.timed(scene)
        if timed is not None and stop.tick is not None:
            until = stops[number].tick if number < len(stops) else None
            _warn_tempo(song.song, line, stop, until, timed, found)
        visits.append(
            Visit(
                number=number,
                scene=scene.name,
                nth=counts[scene.name],
                tick=stop.tick,
                place=stop.place.text if stop.place is not None else "",
                remark=_remark(scene, changes),
                instrument=_instrument(song, scene),
                state=resolve.state(scene, _quarter_ms(song.song, scene, line, stop.tick)),
                triggers=resolve.settings[scene.name].triggers,
            )
        )
    return tuple(visits)


def _warn_tempo(
    song: Song, line: Timeline, stop: _Stop, until: int | None, laid: Laid, found: list[Diagnostic]
) -> None:
    """A note value keeps the tempo that its scene began with."""
    start = stop.tick or 0
    begun = line.tempo_at(start)
    for mark, change in zip(song.tempos, line.tempos, strict=True):
        another = begun is None or change.quarter_ms != begun.quarter_ms
        if another and start < change.tick and (until is None or change.tick < until):
            message = (
                f"the tempo changes at `{mark.at.text}`, inside `{stop.scene.name}`, which has a note value"
            )
            help = f"give a scene a place at `{mark.at.text}` (the same scene again will do)"
            related = (
                Related(mark.at.span, "the tempo changes here"),
                Related(laid.origin.span, "the note value"),
            )
            found.append(names.TEMPO_CHANGES_INSIDE.at(stop.scene.span, message, help, related))


def _distinct(scene: Scene, position: int, visits: list[Visit]) -> list[SceneState]:
    """The scene's states in visit order, each once, under the first visit that has it."""
    out: list[SceneState] = []
    for visit in visits:
        if all(visit.state.key != s.state.key for s in out):
            out.append(
                SceneState(scene.name, position, visit.nth, visit.remark, visit.instrument, visit.state)
            )
    return out
