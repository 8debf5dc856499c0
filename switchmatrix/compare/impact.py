"""Which scenes' messages one change of a rig alters, when it alone is taken."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from switchmatrix.compare.reading import Cell, Reader
from switchmatrix.compare.recast import Recast, trigger_on
from switchmatrix.compare.records import Names, Touch
from switchmatrix.compare.sides import RunPair, scene_names
from switchmatrix.compile.known import Known, nothing_known, settled_rig
from switchmatrix.compile.transition import Steps, transition
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.state import DeviceState, Origin, State, Trigger
from switchmatrix.states.visits import SongStates


@dataclass(frozen=True, slots=True)
class OnLeg:
    """A leg on a rig that both sides have, with which song and scene is which."""

    leg: str
    pair: RunPair
    songs: tuple[tuple[Names, SongStates | None, SongStates | None, dict[str, str]], ...]
    was: Reader
    now: Reader


def on_leg(leg: str, pair: RunPair, names: dict[str, str]) -> OnLeg:
    """The songs of a leg on a rig, scenes matched."""
    was, now = Reader(pair.renames), Reader()
    songs = tuple(
        (song, old, new, scene_names(old, new, was, now) if old is not None and new is not None else {})
        for song, old, new in pair.songs(names)
    )
    return OnLeg(leg, pair, songs, was, now)


_Sent = tuple[tuple[str, bytes], ...]
_Heard = dict[str, list[_Sent]]
"""By scene, its messages from unknown and at each of its visits, each with the machine's output."""


def _same(state: DeviceState) -> DeviceState:
    return state


@dataclass(frozen=True, slots=True)
class Taken:
    """A rig with one change, and how the states of its device at `index` become.

    `order` is where each of its devices stood before, where that is what changes.
    """

    rig: Rig
    index: int | None = None
    recast: Recast = _same
    order: tuple[int, ...] | None = None


class Impact:
    """The scenes of some legs on one rig, and what each of them sends."""

    def __init__(self, legs: list[OnLeg]) -> None:
        self.legs = legs
        self.known: dict[tuple[int, int, int | None], _Heard] = {}

    @property
    def scenes(self) -> tuple[tuple[str, str, int], ...]:
        """How many scenes each song of each leg has on the old rig, by its name now."""
        return tuple(
            (on.leg, song.name, len({s.scene for s in old.states}))
            for on in self.legs
            for song, old, _, _ in on.songs
            if old is not None
        )

    def touched(self, taken: Callable[[Rig], Taken]) -> tuple[Touch, ...]:
        """The scenes that send something else once the change is taken; named as they are now."""
        touches: list[Touch] = []
        for on in self.legs:
            rig = on.pair.old.rig if on.pair.old is not None else None
            if rig is None:
                continue
            change = taken(rig)
            alone = change.index if change.index is not None and _alone(rig, change.index) else None
            for n, (song, old, _, names) in enumerate(on.songs):
                if old is not None:
                    before = self._before(on, n, rig, old, alone)
                    after = _heard_if(change, old, alone)
                    if after is None:
                        touches += self._all_that_differs(on, n)
                    else:
                        touches += _touches(on.leg, song, names, before, after)
        return tuple(dict.fromkeys(touches))

    def _all_that_differs(self, on: OnLeg, n: int) -> list[Touch]:
        """The scenes of a song that send something else now, whatever the reason."""
        song, old, new, names = on.songs[n]
        if old is None or new is None or on.pair.old is None or on.pair.new is None:
            return []
        before, after = heard(Taken(on.pair.old.rig), old, None), heard(Taken(on.pair.new.rig), new, None)
        return _touches(on.leg, song, {}, {names.get(s, s): sent for s, sent in before.items()}, after)

    def _before(self, on: OnLeg, n: int, rig: Rig, old: SongStates, alone: int | None) -> _Heard:
        key = (id(on), n, alone)
        if key not in self.known:
            self.known[key] = heard(Taken(rig), old, alone)
        return self.known[key]

    def without(self, device: Device, *, gone: bool) -> tuple[Touch, ...]:
        """The scenes, on both sides, that send the device something (before, where it is gone)."""
        touches: list[Touch] = []
        for on in self.legs:
            run = on.pair.old if gone else on.pair.new
            for song, old, new, names in on.songs if run is not None else ():
                states = old if gone else new
                if run is None or states is None or (not gone and song.was is None):
                    continue
                index = [d.name for d in run.rig.devices].index(device.name)
                sends = heard(Taken(run.rig), states, index)
                both = names if gone else {b: b for b in names.values()}
                touches += _touches(
                    on.leg, song, both, {scene: [()] * len(s) for scene, s in sends.items()}, sends
                )
        return tuple(dict.fromkeys(touches))

    def from_lines(self, fits: Callable[[str, Origin], bool]) -> tuple[Touch, ...]:
        """The scenes in which a control means something else, by a line (of either side) that fits."""
        touches = [
            Touch(leg, song.name, scene)
            for leg, song, scene, pairs in self._scenes()
            if any(_fits(name, cell, fits) for name, cells in pairs.items() for cell in cells)
        ]
        return tuple(dict.fromkeys(touches))

    def from_cells(self, control: str, value: str) -> tuple[Touch, ...]:
        """The scenes in which the control has gone over to a value, or left it."""
        touches = [
            Touch(leg, song.name, scene)
            for leg, song, scene, pairs in self._scenes()
            if any(cell is not None and cell.told.text == value for cell in pairs.get(control, ()))
        ]
        return tuple(dict.fromkeys(touches))

    def from_controls(self, control: str) -> tuple[Touch, ...]:
        """The scenes in which the control means something else."""
        touches = [
            Touch(leg, song.name, scene) for leg, song, scene, pairs in self._scenes() if control in pairs
        ]
        return tuple(dict.fromkeys(touches))

    def _scenes(self) -> Iterator[tuple[str, Names, str, dict[str, tuple[Cell | None, Cell | None]]]]:
        """Every scene that both sides have, with the controls that differ in it."""
        for on in self.legs:
            for song, old, new, names in on.songs:
                if old is None or new is None:
                    continue
                before = {s.scene: on.was.state(s.state) for s in reversed(old.states)}
                for s in new.states:
                    was = next((a for a, b in names.items() if b == s.scene), None)
                    if was is not None:
                        cells, now = before[was], on.now.state(s.state)
                        yield (
                            on.leg,
                            song,
                            s.scene,
                            {
                                name: (cells.get(name), now.get(name))
                                for name in dict.fromkeys((*cells, *now))
                                if _told(cells.get(name)) != _told(now.get(name))
                            },
                        )


def _told(cell: Cell | None) -> object:
    return cell.told if cell is not None else None


def _fits(name: str, cell: Cell | None, fits: Callable[[str, Origin], bool]) -> bool:
    return cell is not None and cell.origin is not None and fits(name, cell.origin)


def _touches(leg: str, song: Names, names: dict[str, str], before: _Heard, after: _Heard) -> list[Touch]:
    return [
        Touch(leg, song.name, names.get(scene, scene))
        for scene, sends in after.items()
        if sends != before.get(scene)
    ]


def _alone(rig: Rig, index: int) -> bool:
    """Whether no mute holds or covers the device: then its messages are its own business."""
    name = rig.devices[index].name
    targets = [t for m in rig.mutes for t in (*m.covers, *(held for held, _ in m.holds))]
    return all(target.device != name for target in targets)


def _heard_if(taken: Taken, song: SongStates, alone: int | None) -> _Heard | None:
    """The same; None where the change cannot be taken without others that go with it."""
    try:
        return heard(taken, song, alone)
    except (KeyError, TypeError, ValueError):
        return None


def heard(taken: Taken, song: SongStates, alone: int | None) -> _Heard:
    """What each scene of the song sends, to one device alone or to all."""
    rig, steps = taken.rig, Steps()
    outs: Mapping[str, str] = {port.name: port.out for port in rig.ports}
    if alone is not None:
        rig = replace(rig, devices=(rig.devices[alone],), mutes=())
    made: dict[tuple[object, ...], _Sent] = {}

    def sent(known: Known, state: State, triggers: tuple[Trigger, ...]) -> _Sent:
        key = (known, tuple(id(d) for d in state.devices), triggers)
        if key not in made:
            out = transition(rig, known, state, triggers, steps)
            made[key] = tuple((outs.get(step.port, step.port), step.data) for step in out)
        return made[key]

    def cast(state: State) -> State:
        devices = list(state.devices)
        if taken.index is not None:
            devices[taken.index] = taken.recast(devices[taken.index])
        if taken.order is not None:
            devices = [devices[n] for n in taken.order]
        return State(tuple(devices if alone is None else devices[alone : alone + 1]))

    found: _Heard = {}
    for scene in song.states:
        found.setdefault(scene.scene, []).append(sent(nothing_known(rig), cast(scene.state), ()))
    known = nothing_known(rig)
    by_name = {device.name: device for device in rig.devices}
    for visit in song.visits:
        state = cast(visit.state)
        fires = _fires(by_name, visit.triggers)
        found[visit.scene].append(sent(known, state, fires))
        known = settled_rig(rig, state)
    return found


def _fires(devices: Mapping[str, Device], triggers: tuple[Trigger, ...]) -> tuple[Trigger, ...]:
    """The triggers as the devices at hand fire them."""
    there = (trigger_on(devices[t.device.name], t) for t in triggers if t.device.name in devices)
    return tuple(trigger for trigger in there if trigger is not None)
