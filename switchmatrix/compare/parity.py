"""A leg on several rigs: what each scene comes to on each, and what a rig cannot do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from switchmatrix.compare.records import Becomes, Loss, Parity, SceneParity
from switchmatrix.controls import missed, read
from switchmatrix.definition.values import Value, Word
from switchmatrix.model.rig import DoneWithout, Passed, Rig, Words
from switchmatrix.model.settings import Coded, Line, Said, Setting, Target
from switchmatrix.model.song import BoundSong, Change, Scene
from switchmatrix.states.layers import chain, changed, instrument_of
from switchmatrix.states.show import Run
from switchmatrix.states.state import DeviceState, PatchIn, SceneState, Set, State
from switchmatrix.states.visits import SongStates

Changes = Mapping[str, tuple[Change, ...]]
"""By song, what a rig and a leg change of it."""

Faults = Mapping[tuple[str, str], tuple[Loss, ...]]
"""By song and scene, what keeps a song from being compiled for a rig."""


@dataclass(frozen=True, slots=True)
class OnRig:
    """A leg on one rig, with the changes that hold there and what is wrong there alone."""

    run: Run
    changes: Changes
    faults: Faults


def parity(leg: str, rigs: tuple[OnRig, ...]) -> Parity:
    """Every scene of the first rig, and those that only another has, on each of them."""
    songs = {id: None for on in rigs for id in (s.song.song.id for _, s in on.run.songs)}
    by_rig = [{s.song.song.id: s for _, s in on.run.songs} for on in rigs]
    scenes: list[SceneParity] = []
    for song in songs:
        on = tuple(_Song(r, states.get(song)) for r, states in zip(rigs, by_rig, strict=True))
        names = {s.scene: None for o in on if o.states is not None for s in o.states.states}
        scenes += [_scene(song, scene, on) for scene in names]
    return Parity(leg, tuple(on.run.rig.id for on in rigs), tuple(scenes))


@dataclass(frozen=True, slots=True)
class _Song:
    """A song on one rig; None where it could not be compiled for it."""

    on: OnRig
    states: SongStates | None

    def state(self, scene: str) -> SceneState | None:
        """The scene's first state."""
        every = self.states.states if self.states is not None else ()
        return next((s for s in every if s.scene == scene), None)

    def lines(self, scene: str) -> dict[str, Line]:
        """The lines in force in the scene, home's apart: each name's last."""
        if self.states is None:
            return {}
        song = self.states.song
        return lines_in_force(self.on.run.rig, song, scene, self.on.changes.get(song.song.id, ()))


def lines_in_force(rig: Rig, song: BoundSong, name: str, changes: tuple[Change, ...]) -> dict[str, Line]:
    """Each name's last line in the layers of a scene over home's."""
    scene = song.song.scene(name)
    if scene is None:
        return {}
    found: dict[str, Line] = {}
    for block in _blocks(rig, song, scene, changes):
        for line in block:
            found.pop(line.name, None)
            found[line.name] = line
    return found


def _blocks(
    rig: Rig, song: BoundSong, scene: Scene, changes: tuple[Change, ...]
) -> Iterator[tuple[Line, ...]]:
    ref = instrument_of(song, scene)
    yield from (i.sets for i in rig.instruments if ref is not None and i.name == ref.name)
    yield from (block for _, block in changed("", song.base, None, changes))
    for above in chain(song, scene):
        yield from (block for _, block in changed("", song.scenes[above.name], above.name, changes))


def _scene(song: str, scene: str, on: tuple[_Song, ...]) -> SceneParity:
    lines = [o.lines(scene) for o in on]
    states = [o.state(scene) for o in on]
    names = {(name, line.text): None for said in lines for name, line in said.items()}
    rows = tuple(
        Becomes(f"{name}: {text}", tuple(_comes_to(state, name, text) for state in states))
        for name, text in names
    )
    lost = tuple(_lost(o, on[0], scene, lines[n], lines[0]) if n else () for n, o in enumerate(on))
    return SceneParity(song, scene, tuple(r for r in rows if any(r.on)), lost)


def _comes_to(state: SceneState | None, name: str, text: str) -> str:
    """What of the scene's state the line gave: `gate-1 threshold -38 dB, release 60 ms`."""
    if state is None:
        return ""
    given = [pair for device in state.state.devices for pair in _given(device, f"{name}: {text}")]
    parts = [
        f"{device} {', '.join(told for _, told in pairs)}"
        for device, pairs in groupby(given, key=lambda pair: pair[0])
    ]
    return "; ".join(parts)


def _given(state: DeviceState, line: str) -> Iterator[tuple[str, str]]:
    if isinstance(state.patch, PatchIn) and state.patch.origin.name == line:
        yield state.device.name, f"patch {state.patch.patch.name}"
    for control, value in zip(state.device.definition.controls, state.controls, strict=True):
        if isinstance(value, Set) and value.origin.name == line:
            yield state.device.name, f"{control.name} {value.gets}"


def _lost(
    on: _Song, first: _Song, scene: str, lines: dict[str, Line], whole: dict[str, Line]
) -> tuple[Loss, ...]:
    """What the rig cannot do of a scene that the first rig has."""
    song = on.states.song.song.id if on.states is not None else ""
    here, there = on.state(scene), first.state(scene)
    if first.states is None or there is None:
        return ()
    if on.states is None:
        faults = on.on.faults
        id = first.states.song.song.id
        return (*faults.get((id, "base"), ()), *faults.get((id, scene), ())) or (
            Loss("", "the song cannot be compiled for this rig: see what is wrong in another scene", None),
        )
    if here is None:
        return (Loss("", f"the scene is left out of {song}", None),)
    rig = on.on.run.rig
    said = _said(rig, lines)
    missing = [
        _loss(rig, said, line)
        for name, line in lines.items()
        if name in whole and _does(first.on.run.rig, whole[name])
    ]
    kept = tuple(loss for loss in missing if loss is not None)
    return kept + tuple(_rounded(here.state, there.state))


def _does(rig: Rig, line: Line) -> bool:
    """Whether the line does anything on the rig that would be missed: more than switching off."""
    absent = {a.name for a in rig.absents}
    return any(setting.target.device not in absent and not _is_off(setting) for setting in line.settings)


def _is_off(setting: Setting) -> bool:
    given = setting.meaning
    value = given.gets if isinstance(given, Coded) else given.value if isinstance(given, Said) else None
    return value == Word("off")


def _said(rig: Rig, lines: dict[str, Line]) -> dict[Target, Said]:
    """What the scene says to absent devices, home's lines below."""
    absent = {a.name for a in rig.absents}
    return {
        setting.target: setting.meaning
        for line in (*rig.home, *lines.values())
        for setting in line.settings
        if setting.target.device in absent and isinstance(setting.meaning, Said)
    }


def _loss(rig: Rig, said: dict[Target, Said], line: Line) -> Loss | None:
    """Why nothing comes of the line, or of a part of it."""
    text = f"{line.name}: {line.text}"
    if not line.settings:
        return Loss(text, "stands for nothing here", line.span)
    absent = {a.name for a in rig.absents}
    away = [s for s in line.settings if s.target.device in absent and not _is_off(s)]
    why = [reason for reason in (_why(rig, said, s) for s in away) if reason is not None]
    return Loss(text, "; ".join(why), line.span) if why else None


def _why(rig: Rig, said: dict[Target, Said], setting: Setting) -> str | None:
    target = setting.target
    if any(
        target in joint.of and _fits(joint.of, [r.values for r in joint.rows], said) for joint in rig.joints
    ):
        return None
    if not isinstance(setting.meaning, Said):
        return None
    match rig.translations.get(target):
        case DoneWithout() | None:
            return f"{target} is done without here"
        case Passed():
            return None
        case Words(rows):
            brings = _row(rig, target, setting.meaning.value, rows)
            return None if brings else f"{target} {setting.meaning.value} stands for nothing here"


def _fits(of: tuple[Target, ...], rows: list[tuple[object, ...]], said: dict[Target, Said]) -> bool:
    return all(t in said for t in of) and tuple(said[t] for t in of) in rows


def _row(
    rig: Rig, target: Target, value: Value, rows: tuple[tuple[str, tuple[Setting, ...]], ...]
) -> tuple[Setting, ...]:
    absent = next(a for a in rig.absents if a.name == target.device)
    control = absent.definition.control(target.control)
    for text, settings in rows:
        if text == str(value) or (control is not None and read(control, text) == value):
            return settings
    return ()


def _rounded(here: State, there: State) -> Iterator[Loss]:
    """Values that this rig misses by more than the control's tolerance, and the first rig does not."""
    exact = {
        (value.origin.name, str(value.asked)): value
        for device in there.devices
        for control, value in zip(device.device.definition.controls, device.controls, strict=True)
        if isinstance(value, Set) and missed(control, value.asked, value.code) <= control.tolerance
    }
    for device in here.devices:
        for control, value in zip(device.device.definition.controls, device.controls, strict=True):
            if not isinstance(value, Set) or missed(control, value.asked, value.code) <= control.tolerance:
                continue
            first = exact.get((value.origin.name, str(value.asked)))
            if first is not None:
                name = f"{device.device.name}.{control.name}"
                why = f"{name} is asked {value.asked} and gets {value.gets}; the first rig gets {first.gets}"
                yield Loss(value.origin.name, why, value.origin.span)
