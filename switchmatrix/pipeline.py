"""The stages in order: the table of contents."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from switchmatrix.bind.definitions import bind_definition
from switchmatrix.bind.likeness import inherited
from switchmatrix.bind.rig import BoundRig, Songs, bind_rig
from switchmatrix.bind.show import bind_show
from switchmatrix.bind.songs import SongSource, bind_changes, bind_on_rig, bind_song
from switchmatrix.checks import CHECKS
from switchmatrix.compile.pairs import pair_troubles
from switchmatrix.compile.plan import LegPlan, plan_song
from switchmatrix.compile.transition import Steps
from switchmatrix.definition.definition import Definition
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, has_errors, merged
from switchmatrix.files import SHOW_FILE, ShowFiles, read_show
from switchmatrix.model.show import Leg, Show
from switchmatrix.model.song import STANDING, BoundSong, Change
from switchmatrix.source import whole_file
from switchmatrix.states.show import Run, ShowStates
from switchmatrix.states.visits import RigStates, SongStates
from switchmatrix.syntax.nodes import Broken, Node
from switchmatrix.syntax.reader import read
from switchmatrix.syntax.shape import check_shape


@dataclass(frozen=True, slots=True)
class Model:
    """A show, bound: what could not be read is None.

    `made_of` says for each rig whose files it is made of, its own first.
    """

    show: Show | None
    leg_changes: dict[str, Node]
    definitions: dict[str, Definition | None]
    songs: Songs
    rigs: dict[str, BoundRig | None]
    made_of: dict[str, list[str]]


@dataclass(frozen=True, slots=True)
class Judged:
    """A show after every stage that can find something wrong; `states` holds what could be worked out."""

    files: ShowFiles
    nodes: dict[str, Node]
    model: Model
    states: ShowStates | None
    found: list[Diagnostic]

    @property
    def sound(self) -> bool:
        """Whether a plan can be made."""
        return not has_errors(self.found)


@contextmanager
def _no_collector() -> Iterator[None]:
    """Building makes no cycles; collecting while building makes it slower than linear."""
    enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if enabled:
            gc.freeze()
            gc.enable()


def judge(folder: Path) -> Judged:
    """Read, bind, work out all states, and judge them."""
    with _no_collector():
        files, found = read_show(folder)
        nodes = read_nodes(files, found)
        model = bind(nodes, files.unlisted, found)
        states = work_out(model, found) if model.show is not None else None
        if states is not None:
            found += [d for d in check(states) if not _follows(d, found)]
        return Judged(files, nodes, model, states, merged(found, _rigs_of(model)))


def plan(judged: Judged) -> tuple[LegPlan, ...]:
    """The messages of every leg on each of its rigs; ValueError where the show has an error."""
    if not judged.sound or judged.states is None:
        raise ValueError("a show with errors has no plan")
    with _no_collector():
        return tuple(plan_run(run) for run in judged.states.runs)


def plan_run(run: Run) -> LegPlan:
    """The messages of one leg on one rig."""
    steps = Steps()
    return LegPlan(run.leg, run.rig, tuple(plan_song(run.rig, n, song, steps) for n, song in run.songs))


def kind_of(path: str) -> str:
    """Which kind of file a path of the show is."""
    if path == SHOW_FILE:
        return "show"
    folder = path.partition("/")[0] if "/" in path else ""
    return {"rigs": "rig", "definitions": "definition"}.get(folder, "song")


def read_nodes(files: ShowFiles, found: list[Diagnostic]) -> dict[str, Node]:
    """Each file's nodes, held to the shape of its kind; Broken for a file that could not be read."""
    nodes: dict[str, Node] = {path: Broken(whole_file(path)) for path in files.broken}
    for path, file in files.texts.items():
        root, wrong = read(file)
        root, misfits = check_shape(root, kind_of(path))
        found += wrong + misfits
        nodes[path] = root
    return dict(sorted(nodes.items()))


def _of_kind(nodes: dict[str, Node], kind: str) -> dict[str, Node]:
    """The files of one kind by id."""
    return {Path(path).stem: node for path, node in nodes.items() if kind_of(path) == kind}


def bind(nodes: dict[str, Node], unlisted: frozenset[str], found: list[Diagnostic]) -> Model:
    """Definitions, songs as every rig sees them, rigs, and the show's own file."""
    definitions = {id: bind_definition(id, n, found) for id, n in _of_kind(nodes, "definition").items()}
    songs = {id: bind_song(id, node, found) for id, node in _of_kind(nodes, "song").items()}
    rig_files, made_of = inherited(_of_kind(nodes, "rig"), found)
    known = None if "definitions" in unlisted else definitions
    rigs = {id: bind_rig(id, node, known, songs, found) for id, node in rig_files.items()}
    root = nodes.get(SHOW_FILE)
    on_disk = None if "rigs" in unlisted else rig_files
    shown = bind_show(root, on_disk, songs, found) if root is not None else None
    show, changes = shown if shown is not None else (None, {})
    return Model(show, changes, definitions, songs, rigs, made_of)


def work_out(model: Model, found: list[Diagnostic]) -> ShowStates:
    """Every song's states on every rig of every leg; songs and rigs with errors are passed over."""
    if model.show is None:
        raise ValueError("a show that could not be read has no states")
    worked = _Workings(model, found)
    runs = [run for leg in model.show.legs for run in worked.leg(leg)]
    sound = tuple(b.rig for id, b in model.rigs.items() if b is not None and worked.sound(id))
    played = {item.name for leg in model.show.legs for item in leg.setlist if not item.standing}
    unused = (
        ()
        if SHOW_FILE in worked.broken
        else tuple(id for id, song in model.songs.items() if id not in played and song is not None)
    )
    return ShowStates(model.show, sound, tuple(runs), unused)


class _Workings:
    """Songs bound to rigs, each once."""

    def __init__(self, model: Model, found: list[Diagnostic]) -> None:
        self.model = model
        self.found = found
        self.bound: dict[tuple[str, str], BoundSong | None] = {}
        self.broken = {d.span.path for d in found if d.severity == "error"}

    def sound(self, rig: str) -> bool:
        """Whether the rig and all that it is made of were read without an error."""
        bound = self.model.rigs.get(rig)
        files = {f"rigs/{id}.yaml" for id in self.model.made_of[rig]}
        if bound is None or files & self.broken or None in bound.scope.devices.values():
            return False
        used = {d.definition.id for d in bound.rig.devices} | {a.definition.id for a in bound.rig.absents}
        complete = None not in bound.scope.absents.values()
        return complete and not any(f"definitions/{id}.yaml" in self.broken for id in used)

    def leg(self, leg: Leg) -> Iterator[Run]:
        for id in leg.rigs:
            bound = self.model.rigs.get(id)
            if bound is None:
                continue
            found: list[Diagnostic] = []
            changes = bind_changes(
                bound.scope,
                f"leg {leg.name}",
                self.model.leg_changes.get(leg.name),
                {**self.model.songs, STANDING: bound.standing_source},
                found,
            )
            songs = self._bound(leg, bound)
            if self.sound(id) and not has_errors(found):
                yield self._run(leg, bound, songs, changes, found)
            self.found += [d.on_rig(id) for d in found]

    def _bound(self, leg: Leg, bound: BoundRig) -> list[tuple[int, BoundSong]]:
        """The leg's songs on the rig, by setlist number; standing scenes as number 0."""
        songs = [(0, bound.rig.standing)] if bound.rig.standing.song.scenes else []
        for number, item in enumerate(leg.setlist, 1):
            source = None if item.standing else self.model.songs.get(item.name)
            song = self._on_rig(bound, source) if source is not None else None
            if song is not None:
                songs.append((number, song))
        return songs

    def _on_rig(self, bound: BoundRig, source: SongSource) -> BoundSong | None:
        key = (bound.rig.id, source.song.id)
        if key not in self.bound:
            found: list[Diagnostic] = []
            song = bind_on_rig(bound.scope, source, bound.instruments, found)
            unsound = has_errors(found) or source.song.span.path in self.broken
            self.bound[key] = None if unsound else song
            self.found += [d.on_rig(bound.rig.id) for d in found]
        return self.bound[key]

    def _run(
        self,
        leg: Leg,
        bound: BoundRig,
        songs: list[tuple[int, BoundSong]],
        changes: dict[str, tuple[Change, ...]],
        found: list[Diagnostic],
    ) -> Run:
        rig = bound.rig
        states_on = RigStates(rig, found)
        worked: list[tuple[int, SongStates]] = []
        for number, song in songs:
            id = song.song.id
            to_song = (*rig.changes.get(id, ()), *changes.get(id, ()))
            wrong: list[Diagnostic] = []
            states = states_on.song(song, to_song, wrong)
            found += wrong
            if not has_errors(wrong):
                worked.append((number, states))
        run = Run(leg, rig, tuple(worked))
        states_of_leg = [scene.state for _, song in run.songs for scene in song.states]
        found += pair_troubles(rig, states_of_leg)
        return run


def check(states: ShowStates) -> list[Diagnostic]:
    """Every check's findings."""
    return [finding for one in CHECKS for finding in one(states)]


def _follows(finding: Diagnostic, found: list[Diagnostic]) -> bool:
    """Whether what is left to chance is so because of a patch that has been said to be missing."""
    return finding.name == names.UNDETERMINED.name and any(
        d.name == names.AS_STORED_NOTHING.name and finding.span in {r.span for r in d.related} for d in found
    )


def _rigs_of(model: Model) -> dict[str, tuple[str, ...]]:
    """For each song's file, and the show's, the rigs that it is used with."""
    used: dict[str, list[str]] = {}
    for leg in model.show.legs if model.show is not None else ():
        used.setdefault(SHOW_FILE, []).extend(leg.rigs)
        for item in leg.setlist:
            if not item.standing:
                used.setdefault(f"{item.name}.yaml", []).extend(leg.rigs)
    return {path: tuple(dict.fromkeys(rigs)) for path, rigs in used.items()}
