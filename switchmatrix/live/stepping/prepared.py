"""A leg of a sound show made ready for stepping: its stops, and for each rig what each of them means."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from switchmatrix.diagnostics.diagnostic import Diagnostic, has_errors
from switchmatrix.live.stepping.moves import Moves
from switchmatrix.live.stepping.stops import HOME, Key, Stop, beside, walk
from switchmatrix.model.rig import Rig
from switchmatrix.model.song import STANDING
from switchmatrix.states.resolve import Resolver
from switchmatrix.states.scenes import RigScenes
from switchmatrix.states.show import Run, ShowStates
from switchmatrix.states.state import State, Trigger
from switchmatrix.states.visits import SongStates

SILENCE = Key(0, STANDING, "silence", 1)
"""The standing scene that is sent ahead of all else, where a rig has it."""


@dataclass(frozen=True, slots=True, eq=False)
class PreparedRig:
    """One rig: the state and the triggers of each stop that it has, HOME among them where it can be sent.

    `no_home` says why it cannot. Compared by identity.
    """

    rig: Rig
    states: dict[Key, State]
    triggers: dict[Key, tuple[Trigger, ...]]
    no_home: str | None
    moves: Moves

    @property
    def has_silence(self) -> bool:
        """Whether the rig has the standing scene `silence`."""
        return SILENCE in self.states


@dataclass(frozen=True, slots=True, eq=False)
class Prepared:
    """A leg on some of its rigs. `stops` is the walk; `others` are reached by search alone.

    `songs` are the first rig's, by setlist number. Compared by identity.
    """

    title: str
    leg: str
    stops: tuple[Stop, ...]
    others: tuple[Stop, ...]
    rigs: dict[str, PreparedRig]
    songs: dict[int, SongStates]
    places: dict[Key, int] = field(init=False)
    """Where in the walk each of its stops is, from 0."""
    by_key: dict[Key, Stop] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "places", {stop.key: n for n, stop in enumerate(self.stops)})
        object.__setattr__(self, "by_key", {stop.key: stop for stop in (*self.stops, *self.others)})

    def label(self, key: Key) -> str:
        """What people call a stop, or home."""
        return HOME.scene if key == HOME else self.by_key[key].label


def prepare(states: ShowStates, leg: str, rigs: Sequence[str], extra_us: int = 0) -> Prepared:
    """The leg on those rigs, the first of them leading; KeyError for a leg or a rig that it has not got.

    Every wait is `extra_us` longer than devices ask: see `live/spacing.py`.
    """
    by_rig = {run.rig.id: run for run in states.runs if run.leg.name == leg}
    runs = [by_rig[id] for id in rigs]
    return Prepared(
        title=states.show.title,
        leg=leg,
        stops=walk(states.show, runs),
        others=beside(states.show, runs),
        rigs={run.rig.id: _rig(run, extra_us) for run in runs},
        songs=dict(runs[0].songs),
    )


def _rig(run: Run, extra_us: int) -> PreparedRig:
    states: dict[Key, State] = {}
    triggers: dict[Key, tuple[Trigger, ...]] = {}
    standing: dict[str, State] = {}
    for item, song in run.songs:
        id, visited = song.song.song.id, {visit.scene for visit in song.visits}
        for visit in song.visits:
            key = Key(item, id, visit.scene, visit.nth)
            states[key], triggers[key] = visit.state, visit.triggers
        for scene in song.states:
            if scene.scene not in visited:
                states[Key(item, id, scene.scene, 1)] = scene.state
        if id == STANDING:
            standing = {scene.scene: scene.state for scene in song.states}
    for item, entry in enumerate(run.leg.setlist, 1):
        if entry.standing and entry.name in standing:
            states[Key(item, STANDING, entry.name, 1)] = standing[entry.name]
    home, why_not = home_state(run.rig)
    if home is not None:
        states[HOME] = home
    return PreparedRig(run.rig, states, triggers, why_not, Moves(run.rig, extra_us))


def home_state(rig: Rig) -> tuple[State | None, str | None]:
    """The rig's home as a state, or why it cannot be sent.

    Home names what the player holds too, and that is part of this state.
    """
    found: list[Diagnostic] = []
    state = Resolver(rig).state(RigScenes(rig, found).home, rig.hands, None, found)
    if has_errors(found):
        return None, found[0].message
    by_name = {device.device.name: device for device in state.devices}
    for mute in rig.mutes:
        for target, _ in mute.holds:
            device = by_name[target.device]
            names = [control.name for control in device.device.definition.controls]
            if not isinstance(device.wants[names.index(target.control)], int):
                return None, f"home gives `{target}` no value, and a mute holds it"
    return state, None
