"""What the tests of states share: invented definitions, and a state as text."""

from __future__ import annotations

from switchmatrix.pipeline import Judged
from switchmatrix.states.state import AsPatch, Free, PatchIn, Set, State
from tests.support import judged, song, state_of, value

PLAIN_GATE = """\
definition: plain gate
controls:
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100]}
  release: {kind: time, cc: 24, range: [0 ms, 1270 ms], codes: [0, 127]}
"""

TWO_TAP_ECHO = """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  feed: {kind: level, cc: 23, range: [0 %, 100 %], codes: [0, 100]}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], codes: [0, 127], stored: yes}
"""

TREADLE_WAH = """\
definition: treadle wah
controls:
  engage: {kind: switch, cc: 85, main: yes}
  sweep: {kind: level, cc: 11, range: [0 %, 100 %], codes: [0, 100]}
"""

BELL_BOX = """\
definition: bell box
controls:
  bell: {kind: trigger, cc: 60}
  bed: {kind: switch, cc: 61}
"""

DEFINITIONS = {
    "definitions/plain-gate.yaml": PLAIN_GATE,
    "definitions/two-tap-echo.yaml": TWO_TAP_ECHO,
    "definitions/treadle-wah.yaml": TREADLE_WAH,
    "definitions/bell-box.yaml": BELL_BOX,
}

ONE_RIG = """\
show: Tidewrack
rigs: [a-rig]
legs:
  tour: {rigs: [a-rig], setlist: [lantern]}
"""


def show(rig: str, lantern: str, more: dict[str, str] | None = None) -> Judged:
    """A show of one song, `lantern.yaml`, on one rig, `rigs/a-rig.yaml`; `more` adds or replaces files."""
    files = {"show.yaml": ONE_RIG, "rigs/a-rig.yaml": rig, "lantern.yaml": lantern}
    return judged({**DEFINITIONS, **files, **(more or {})}, base=None)


def shown(
    show: Judged, label: str, rig: str | None = None, leg: int = 0, song_id: str = "lantern"
) -> dict[str, str]:
    """Every control and patch of a visit's state, `device.control` to text, triggers apart."""
    _, states = song(show, song_id, leg, rig)
    return as_text(state_of(states, label))


def as_text(state: State) -> dict[str, str]:
    """A state with each value as `40 %`, `as cliff: 35 %`, `as slap`, `held` or `chance`."""
    out = {}
    for device in state.devices:
        controls = (c.name for c in device.device.definition.controls if c.kind != "trigger")
        for name in (*(("patch",) if device.device.patches else ()), *controls):
            full = f"{device.device.name}.{name}"
            out[full] = _text(value(state, full))
    return out


def _text(given: object) -> str:
    match given:
        case Set():
            return str(given.gets)
        case AsPatch(gets=None):
            return f"as {given.patch.name}"
        case AsPatch():
            return f"as {given.patch.name}: {given.gets}"
        case PatchIn():
            return given.patch.name
        case Free.HELD:
            return "held"
        case Free.UNDETERMINED:
            return "chance"
        case _:
            raise TypeError(f"no text for {given!r}")


def order(show: Judged, song_id: str = "lantern", rig: str | None = None, leg: int = 0) -> list[str]:
    """The visits in running order, `SCENE` or `SCENE@2`."""
    _, states = song(show, song_id, leg, rig)
    return [v.scene if v.nth == 1 else f"{v.scene}@{v.nth}" for v in states.visits]


def labels(show: Judged, song_id: str = "lantern") -> list[str]:
    """The distinct states of the song's scenes, by label."""
    _, states = song(show, song_id)
    return [s.label for s in states.states]


def code(show: Judged, label: str, name: str, rig: str | None = None) -> int | None:
    """The code of a control in a visit's state, its own or the patch's."""
    _, states = song(show, "lantern", rig=rig)
    given = value(state_of(states, label), name)
    if not isinstance(given, Set | AsPatch):
        raise TypeError(f"{name} has no code: {given!r}")
    return given.code


def whence(show: Judged, label: str, name: str, rig: str | None = None, leg: int = 0) -> str:
    """Where a value comes from: `path:line, layer, name`."""
    _, states = song(show, "lantern", leg, rig)
    given = value(state_of(states, label), name)
    if not isinstance(given, Set | AsPatch | PatchIn):
        raise TypeError(f"{name} comes from nowhere: {given!r}")
    origin = given.origin
    return f"{origin.span.path}:{origin.span.line}, {origin.layer}, {origin.name}"
