"""The stages in order: the table of contents."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from switchmatrix.bind.acceptances import accept
from switchmatrix.bind.whole import Model, Roots, bind
from switchmatrix.checks import CHECKS
from switchmatrix.compile.pairs import pair_troubles
from switchmatrix.compile.plan import LegPlan, plan_song
from switchmatrix.compile.transition import Steps
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, has_errors, merged
from switchmatrix.files import SHOW_FILE, ShowFiles, read_show
from switchmatrix.model.show import Show
from switchmatrix.source import whole_file
from switchmatrix.states.runs import work_out
from switchmatrix.states.show import Run, ShowStates
from switchmatrix.syntax.nodes import Broken, Node
from switchmatrix.syntax.reader import read
from switchmatrix.syntax.shape import check_shape


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

    @property
    def worked_out(self) -> ShowStates:
        """The states of a sound show; ValueError where the show has an error."""
        if not self.sound or self.states is None:
            raise ValueError("a show with errors has no plan")
        return self.states


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
    return judge_read(*read_show(folder))


def judge_read(files: ShowFiles, read: list[Diagnostic]) -> Judged:
    """The same for a show whose files have been read, with what reading them found."""
    with _no_collector():
        found = [*read]
        nodes = read_nodes(files, found)
        model = bind(roots_of(nodes, files.unlisted), found)
        states = work_out(model, found) if model.show is not None else None
        if states is not None:
            found += judge_pairs(states)
            found += [d for d in check(states) if not _follows(d, found)]
        found = merged(found, _rigs_of(model))
        if model.show is not None:
            found = accept(found, model.show.accepted)
        return Judged(files, nodes, model, states, found)


def plan(judged: Judged) -> tuple[LegPlan, ...]:
    """The messages of every leg on each of its rigs; ValueError where the show has an error."""
    states = judged.worked_out
    with _no_collector():
        return tuple(plan_run(run, states.show) for run in states.runs)


def plan_run(run: Run, show: Show) -> LegPlan:
    """The messages of one leg on one rig."""
    steps = Steps()
    songs = tuple(plan_song(run.rig, n, song, steps, show) for n, song in run.songs)
    return LegPlan(run.leg, run.rig, songs)


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


def roots_of(nodes: dict[str, Node], unlisted: frozenset[str]) -> Roots:
    """The files by kind and id."""
    return Roots(
        show=nodes.get(SHOW_FILE),
        definitions=_of_kind(nodes, "definition"),
        rigs=_of_kind(nodes, "rig"),
        songs=_of_kind(nodes, "song"),
        definitions_unlisted="definitions" in unlisted,
        rigs_unlisted="rigs" in unlisted,
    )


def judge_pairs(states: ShowStates) -> list[Diagnostic]:
    """What no transition can do surely, between any two states of a leg."""
    return [
        finding.on_rig(run.rig.id)
        for run in states.runs
        for finding in pair_troubles(run.rig, (s.state for _, song in run.songs for s in song.states))
    ]


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
