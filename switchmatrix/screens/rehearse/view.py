"""What a rehearsal shows, in sentences: worked out from where it stands, before any of it is laid out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from switchmatrix.compile.known import DeviceKnown, Unknown, settled_rig
from switchmatrix.live.rehearsing.session import LastSend, Rehearsal
from switchmatrix.live.stepping.changes import changed, lost
from switchmatrix.live.stepping.gate import Gate, Question
from switchmatrix.live.stepping.prepared import SILENCE, Prepared
from switchmatrix.live.stepping.state import RigNow, Stepping
from switchmatrix.live.stepping.stops import HOME, Key, Stop
from switchmatrix.model.rig import Device, Rig
from switchmatrix.model.settings import PATCH
from switchmatrix.model.song import STANDING
from switchmatrix.states.state import State

KEYS = (
    "n next, b back, / find, f in full, s silence, h home, p look ahead, r remark, x take out or bring back, "
    "t fire, d devices, l setlist, q leave"
)


@dataclass(frozen=True, slots=True)
class View:
    """The bands' sentences, each the most important first. `scene` is what stands in block letters.

    `asked` is a question with the sentences before it; `answer` what its keys do.
    """

    mark: str | None
    where: str
    scene: str
    here: tuple[str, ...]
    changed: tuple[str, ...]
    then: tuple[str, ...]
    wire: tuple[str, ...]
    asked: tuple[str, ...]
    keys: tuple[str, ...]


def view(rehearsal: Rehearsal, mark: str | None, clock: Callable[[int], str]) -> View:
    """What is to be seen now; `clock` gives a moment's time of day."""
    state = rehearsal.state
    stop = state.looked_at
    return View(
        mark=mark,
        where=_where(state, stop),
        scene=_scene(state, stop),
        here=_here(state, stop),
        changed=_changed(rehearsal),
        then=_then(state, stop),
        wire=_wire(rehearsal, clock),
        asked=_asked(rehearsal),
        keys=_keys(state),
    )


def _where(state: Stepping, stop: Stop) -> str:
    place = state.show.places.get(stop.key)
    count = "beside the setlist" if place is None else f"scene {place + 1} of {len(state.show.stops)}"
    said = ", ".join(part for part in (stop.title, stop.place) if part)
    return f"{said}, {count}" if state.peek is None else f"looking ahead, nothing is sent: {count}, {said}"


def _scene(state: Stepping, stop: Stop) -> str:
    """The scene, or where the rigs were brought to instead."""
    elsewhere = state.goal in (HOME, SILENCE) and state.peek is None
    return state.goal.scene if elsewhere else stop.key.label


def _here(state: Stepping, stop: Stop) -> tuple[str, ...]:
    out: list[str] = []
    for id in state.driven:
        now, ready = state.rig(id), state.prepared(id)
        title = ready.rig.title
        if now.gate is not Gate.OPEN:
            out.append(f"{title} is held back: {now.gate.value}")
        elif now.inside is not None and now.inside != state.at:
            out.append(f"{title} is in {state.show.label(now.inside)}")
        out += [f"{title}: {hand.text}" for hand in now.by_hand]
    out += [stop.remark] if stop.remark else []
    out += _equipment(stop)
    out += [f"fires {fires}"] if (fires := _fires(state, stop.key)) else []
    for id in state.driven:
        ready = state.prepared(id)
        wanted = ready.states.get(stop.key)
        if wanted is not None:
            out += lost(wanted, state.rig(id).absent(ready.rig))
    out += [f"remark: {one.text}" for one in state.pinned if one.key == stop.key]
    return tuple(out)


def _fires(state: Stepping, key: Key) -> str:
    """What goes off when a stop is stepped on to."""
    found = {
        f"{trigger.device.name}.{trigger.control}": None
        for id in state.driven
        for trigger in state.prepared(id).triggers.get(key, ())
    }
    return ", ".join(found)


def _equipment(stop: Stop) -> list[str]:
    tuning = f", {stop.tuning}" if stop.tuning else ""
    return [f"on {stop.instrument}{tuning}"] if stop.instrument else []


def _changed(rehearsal: Rehearsal) -> tuple[str, ...]:
    """What is otherwise than where we came from; while looking ahead, than in the scene before."""
    state = rehearsal.state
    before, after = rehearsal.came_from, state.at
    if state.peek is not None:
        after = state.looked_at.key
        before = state.show.stops[state.peek - 1].key if state.peek > 0 else None
    elif state.goal != state.at:
        before = None
    if before is None:
        return ()
    out: list[str] = []
    for id in state.driven:
        states = state.prepared(id).states
        if before in states and after in states:
            found = changed(states[before], states[after])
            out += (
                found if len(state.driven) == 1 else [f"{state.prepared(id).rig.title}: {s}" for s in found]
            )
    return tuple(out) or ("nothing",)


def _then(state: Stepping, stop: Stop) -> tuple[str, ...]:
    """The scene after the one that is looked at, and the song after its song."""
    show = state.show
    place = state.place if state.peek is None else state.peek
    following = show.stops[place + 1] if place + 1 < len(show.stops) else None
    if following is None:
        return ("this is the last scene of the setlist",)
    fires = _fires(state, following.key)
    out = [f"next: {_named(stop, following)}" + (f", fires {fires}" if fires else "")]
    song = next(
        (
            one
            for one in show.stops[place + 1 :]
            if one.key.song != STANDING and (one.key.item, one.key.song) != (stop.key.item, stop.key.song)
        ),
        None,
    )
    if song is not None:
        out.append(f"next song: {song.title}{_on(song)}")
        if song.instrument and song.instrument != stop.instrument:
            out.append(f"hand over: {song.instrument}")
    return tuple(out)


def _named(stop: Stop, following: Stop) -> str:
    same = (stop.key.item, stop.key.song) == (following.key.item, following.key.song)
    name = following.key.label if same else following.label
    parts = [name, following.place, following.remark or ""]
    return ", ".join(part for part in parts if part)


def _on(song: Stop) -> str:
    tuning = f" tuned {song.tuning}" if song.tuning else ""
    return f", on {song.instrument}{tuning}" if song.instrument else ""


def _wire(rehearsal: Rehearsal, clock: Callable[[int], str]) -> tuple[str, ...]:
    state = rehearsal.state
    out: list[str] = []
    for id in state.driven:
        title = state.prepared(id).rig.title
        last = rehearsal.last.get(id)
        out.append(f"{title}: {'nothing sent yet' if last is None else _sent(last, clock)}")
        doubt = in_doubt(state, state.rig(id)) if state.rig(id).gate is Gate.OPEN else ()
        out += [f"{title}, in doubt: {', '.join(doubt)}"] if doubt else []
        health = rehearsal.lines[id].health()
        out.append(", ".join(f"{port} {said}" for port, said in health.items()))
    if rehearsal.following is not None:
        out.append(rehearsal.following.said())
    if rehearsal.hears is not None:
        out.append(f"hears: {rehearsal.hears}")
    if rehearsal.journal.trouble is not None:
        out.append(rehearsal.journal.trouble)
    return (*out, *(f"{clock(moment)}  {text}" for moment, text in reversed(rehearsal.said)))


def _sent(last: LastSend, clock: Callable[[int], str]) -> str:
    count = f"{last.messages} message{'' if last.messages == 1 else 's'}"
    whole = " in full" if last.whole else ""
    ending = "" if last.done else ", broken off" if last.broken else ", on their way"
    return (
        f"{clock(last.start_ns)}  {count} for {last.label}{whole} in {last.change_us / 1000:.0f} ms{ending}"
    )


def in_doubt(state: Stepping, now: RigNow) -> tuple[str, ...]:
    """The devices of which something is not known that would be, had nobody touched them; in rig order."""
    ready = state.prepared(now.id)
    wanted = ready.states.get(now.inside) if now.inside is not None else None
    if wanted is None:
        return tuple(device.name for device in ready.rig.devices)
    absent = now.absent(ready.rig)
    return tuple(
        name for name, doubts in doubts_of(ready.rig, now, wanted).items() if name not in absent and doubts
    )


def doubts_of(rig: Rig, now: RigNow, wanted: State) -> dict[str, list[str]]:
    """What of each device is not known, though the scene wants it.

    What the player holds, or somebody else's controller reaches, is never known, and is left out.
    """
    pairs = zip(now.known.devices, settled_rig(rig, wanted).devices, strict=True)
    return {device.name: _doubts(device, *pair) for device, pair in zip(rig.devices, pairs, strict=True)}


def _doubts(device: Device, known: DeviceKnown, settled: DeviceKnown) -> list[str]:
    patch = isinstance(known.patch, Unknown) and not isinstance(settled.patch, Unknown)
    return ([PATCH] if patch else []) + [
        control.name
        for n, control in enumerate(device.definition.controls)
        if isinstance(known.controls[n], Unknown) and not isinstance(settled.controls[n], Unknown)
    ]


def _asked(rehearsal: Rehearsal) -> tuple[str, ...]:
    if rehearsal.asked is None:
        return ()
    answer = "y: yes. Any other key: no." if rehearsal.state.asking is Question.HOME else "y: yes, they are."
    return (*rehearsal.asked.split("\n"), answer)


def _keys(state: Stepping) -> tuple[str, ...]:
    out = [KEYS]
    rigs = list(state.show.rigs)
    if len(rigs) > 1:
        named = [f"{chr(65 + n)} {state.prepared(id).rig.title}" for n, id in enumerate(rigs)]
        out.append(f"drive: {', '.join(named)}, T all together")
    if any(state.rig(id).by_hand for id in state.driven):
        out.append("o: what was to be set by hand is set")
    return tuple(out)


def label(show: Prepared, key: Key) -> str:
    """A stop as a line of a list has it."""
    stop = show.by_key[key]
    return ", ".join(part for part in (stop.label, stop.place, stop.remark or "") if part)
