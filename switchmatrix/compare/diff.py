"""Two shows, two legs or two rigs of them: everything that differs."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from switchmatrix.compare.impact import Impact, OnLeg, on_leg
from switchmatrix.compare.records import (
    Change,
    Diff,
    LegDiff,
    Names,
    RigDiff,
    RigOnLeg,
    SongFields,
    Told,
    WireDiff,
)
from switchmatrix.compare.renames import renames
from switchmatrix.compare.rigs import rig_diff
from switchmatrix.compare.setlists import setlist_diff
from switchmatrix.compare.sides import LegPair, RunPair, Side, leg_pairs, song_names
from switchmatrix.compare.songs import show_words, song_fields, song_on_rig
from switchmatrix.compare.wire import wire_diff
from switchmatrix.compile.plan import LegPlan
from switchmatrix.model.rig import Rig
from switchmatrix.model.show import Show
from switchmatrix.model.song import STANDING
from switchmatrix.states.show import Run

Planner = Callable[[Run, Show], LegPlan]
"""The messages of a run; given where messages are to be held against each other too."""


def diff(old: Side, new: Side, planner: Planner | None = None) -> Diff:
    """Everything that differs between two sides."""
    legs = leg_pairs(old, new)
    names = song_names(old, new, legs)
    on = {
        id(run): on_leg(leg.leg.name, run, names)
        for leg in legs
        for run in leg.runs
        if run.old is not None and run.new is not None
    }
    found = tuple(d for d in (_leg(leg, names, on) for leg in legs) if d is not None)
    wire = [d for leg in legs for d in _wire(leg, on, old, new, planner)] if planner is not None else []
    show = _show(old.states.show, new.states.show)
    rigs = (*_rigs(legs, on), *(_idle(old, new) if old.leg is None and new.leg is None else ()))
    return Diff(show, rigs, found, tuple(wire))


def _show(old: Show, new: Show) -> tuple[Change, ...]:
    was, now = _of_show(old), _of_show(new)
    return tuple(Change(what, was[what], now[what]) for what in now if was[what] != now[what])


def _of_show(show: Show) -> dict[str, Told | None]:
    said = {"title": Told(show.title, show.span), "rigs": Told(", ".join(show.rigs), show.span)}
    asks = "yes" if show.asks_after_fault else "no"
    return {**said, **show_words(show.on_time, show.budget), "ask-after-fault": Told(asks, None)}


def _idle(old: Side, new: Side) -> Iterator[RigDiff]:
    """The rigs that no leg plays on, on either side: nothing of theirs alters a message."""
    played = {run.rig.id for side in (old, new) for run in side.states.runs}
    was = {rig.id: rig for rig in old.states.rigs}
    for rig in new.states.rigs:
        before = was.get(rig.id)
        if before is not None and rig.id not in played:
            found = rig_diff(before, rig, renames(before, rig), Impact([]))
            if found is not None:
                yield found


def _rigs(legs: tuple[LegPair, ...], on: dict[int, OnLeg]) -> tuple[RigDiff, ...]:
    """Each pair of rigs once, with all the legs that it plays."""
    pairs: dict[Names, list[OnLeg]] = {}
    rigs: dict[Names, tuple[Rig, Rig]] = {}
    for leg in legs:
        for run in leg.runs:
            if run.old is not None and run.new is not None:
                pairs.setdefault(run.rig, []).append(on[id(run)])
                rigs[run.rig] = (run.old.rig, run.new.rig)
    found = []
    for names, played in pairs.items():
        same = played[0].pair.renames
        if same is not None:
            found.append(rig_diff(*rigs[names], same, Impact(played)))
    return tuple(d for d in found if d is not None)


def _leg(leg: LegPair, names: dict[str, str], on: dict[int, OnLeg]) -> LegDiff | None:
    setlist = setlist_diff(leg.old, leg.new, names)
    rigs = tuple(r for r in (_rig(run, names, on.get(id(run))) for run in leg.runs) if r is not None)
    songs = _songs(leg, names)
    if setlist is None and not rigs and not songs and leg.leg.was == leg.leg.now:
        return None
    played = tuple(run.rig for run in leg.runs if run.old is not None and run.new is not None)
    return LegDiff(leg.leg, _order(leg), played, setlist, songs, rigs)


def _order(leg: LegPair) -> tuple[str, ...]:
    """The songs now in setlist order, standing scenes first."""
    setlist = leg.new.setlist if leg.new is not None else ()
    return (STANDING, *dict.fromkeys(item.name for item in setlist if not item.standing))


def _songs(leg: LegPair, names: dict[str, str]) -> tuple[SongFields, ...]:
    """What differs in the songs themselves, each once, where a rig plays them on both sides."""
    found: dict[Names, SongFields] = {}
    for run in (run for run in leg.runs if run.old is not None and run.new is not None):
        for song, old, new in run.songs(names):
            fields = song_fields(song, old, new)
            if fields is not None:
                found.setdefault(song, fields)
    return tuple(found.values())


def _rig(run: RunPair, names: dict[str, str], on: OnLeg | None) -> RigOnLeg | None:
    """What the leg's songs mean differently on one rig; all that they are, where only one side has it."""
    matched = on if on is not None else on_leg("", run, names)
    found = [
        song_on_rig(song, old, new, scenes, matched.was, matched.now)
        for song, old, new, scenes in matched.songs
    ]
    songs = tuple(song for song in found if song is not None)
    return RigOnLeg(run.rig, songs) if songs or run.rig.was != run.rig.now else None


def _wire(leg: LegPair, on: dict[int, OnLeg], old: Side, new: Side, planner: Planner) -> Iterator[WireDiff]:
    for run in leg.runs:
        if run.old is not None and run.new is not None:
            songs = [(song, scenes) for song, _, _, scenes in on[id(run)].songs]
            was, now = planner(run.old, old.states.show), planner(run.new, new.states.show)
            yield from wire_diff(leg.leg, run.rig, was, now, songs)
