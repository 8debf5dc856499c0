"""What tests share: small shows from text, their findings and messages as text."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from switchmatrix.compile.known import Known, nothing_known, settled_rig
from switchmatrix.compile.schedule import Timed, schedule
from switchmatrix.compile.transition import transition
from switchmatrix.diagnostics.lines import render
from switchmatrix.pipeline import Judged, judge
from switchmatrix.states.show import Run
from switchmatrix.states.state import State, Visit
from switchmatrix.states.visits import SongStates

BASE_SHOW = Path(__file__).parent / "base_show"
"""A small show that compiles with nothing to say; tests lay files over it."""


def judged(files: Mapping[str, str] | None = None, base: Path | None = BASE_SHOW) -> Judged:
    """The base show with `files` (path to text) laid over it, judged; `base` None for `files` alone."""
    with tempfile.TemporaryDirectory() as folder:
        show = Path(folder) / "show"
        if base is None:
            show.mkdir()
        else:
            shutil.copytree(base, show)
        for path, text in (files or {}).items():
            place = show / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_text(text, encoding="utf-8")
        return judge(show)


def findings(show: Judged) -> list[str]:
    """Each finding as `path:line:col: severity name: message`."""
    return render(show.found).splitlines()


def names(show: Judged) -> list[str]:
    """Each finding's name and place, `name path:line`, in order."""
    return [f"{d.name} {d.span.path}:{d.span.line}" for d in show.found]


def song(show: Judged, id: str, leg: int = 0, rig: str | None = None) -> tuple[Run, SongStates]:
    """A song of a sound show on one rig (default: the first run) of its first leg."""
    assert show.sound, "\n".join(findings(show))
    assert show.states is not None
    legs = list(dict.fromkeys(run.leg.name for run in show.states.runs))
    run = next(r for r in show.states.runs if r.leg.name == legs[leg] and rig in (None, r.rig.id))
    return run, next(states for _, states in run.songs if states.song.song.id == id)


def visit(states: SongStates, label: str) -> Visit:
    """`SCENE` or `SCENE@2`."""
    name, _, nth = label.partition("@")
    return next(v for v in states.visits if v.scene == name and v.nth == int(nth or 1))


def state_of(states: SongStates, label: str) -> State:
    """The state of `SCENE` or `SCENE@2`; of a scene that is never visited, its own."""
    if any(v.scene == label.partition("@")[0] for v in states.visits):
        return visit(states, label).state
    return next(s.state for s in states.states if s.scene == label)


def timed(show: Judged, id: str, label: str, after: str | None = None, rig: str | None = None) -> list[Timed]:
    """The messages of a scene in time, from unknown or from another scene; no triggers."""
    run, states = song(show, id, rig=rig)
    known: Known = nothing_known(run.rig)
    if after is not None:
        known = settled_rig(run.rig, visit(states, after).state)
    return list(schedule(run.rig, transition(run.rig, known, visit(states, label).state)).messages)


def sent(show: Judged, id: str, label: str, after: str | None = None, rig: str | None = None) -> list[str]:
    """The messages of a scene as `device meaning HEX`, in order."""
    return [
        f"{m.step.device} {m.step.meaning} {m.step.data.hex(' ').upper()}"
        for m in timed(show, id, label, after, rig)
    ]


def value(state: State, name: str) -> object:
    """The ControlState (or patch) of `device.control` in a state."""
    device_name, _, control = name.partition(".")
    device = next(d for d in state.devices if d.device.name == device_name)
    if control == "patch":
        return device.patch
    labels = [c.name for c in device.device.definition.controls]
    return device.controls[labels.index(control)]
