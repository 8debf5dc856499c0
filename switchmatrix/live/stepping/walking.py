"""From stop to stop."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.live.stepping import gate
from switchmatrix.live.stepping.actions import Ask, KeepRemark
from switchmatrix.live.stepping.gate import Gate, Question
from switchmatrix.live.stepping.inputs import Peek, Pin
from switchmatrix.live.stepping.sending import bring, bring_all
from switchmatrix.live.stepping.state import Remark
from switchmatrix.live.stepping.stops import HOME, Key
from switchmatrix.live.stepping.turn import Turn, named


def go(turn: Turn, key: Key, *, fires: bool = False, whole: bool = False) -> None:
    """We stand at that stop, and the rigs go there."""
    show = turn.state.show
    if key not in show.by_key:
        turn.say("the show has no such scene")
        return
    place = show.places.get(key, turn.state.place)
    turn.state = replace(turn.state, at=key, goal=key, place=place, stepped=fires, peek=None)
    turn.forget_home()
    turn.log("at", **named(key))
    bring_all(turn, key, fires=fires, whole=whole)


def on(turn: Turn) -> None:
    """On to the following stop; what it fires goes off where we come from the stop before it."""
    following = turn.state.following
    if following is None:
        turn.say("that was the last scene of the setlist")
        return
    go(turn, following.key, fires=turn.state.show.places.get(turn.state.at) == turn.state.place)


def reached(turn: Turn, key: Key) -> None:
    """Running time has reached a stop; where we stepped there already, nothing fires again."""
    go(turn, key, fires=not (turn.state.at == key and turn.state.stepped))


def back(turn: Turn) -> None:
    """To the stop before."""
    before = turn.state.before
    if before is None:
        turn.say("this is the first scene of the setlist")
        return
    go(turn, before.key)


def to_scene(turn: Turn, number: int) -> None:
    """To a scene of the song we are in: its next visit from here on, else its first."""
    here = turn.state.here.key
    stops = turn.state.show.stops
    fitting = [
        n
        for n, stop in enumerate(stops)
        if (stop.key.item, stop.key.song) == (here.item, here.song) and stop.number == number
    ]
    if not fitting:
        turn.say(f"{turn.state.here.title} has no scene {number} to go to")
        return
    ahead = [n for n in fitting if n >= turn.state.place]
    go(turn, stops[(ahead or fitting)[0]].key)


def again(turn: Turn) -> None:
    """All of the scene where we stand."""
    turn.state = replace(turn.state, goal=turn.state.at, peek=None)
    turn.forget_home()
    bring_all(turn, turn.state.at, whole=True)
    turn.tell_held_back()


def ask_for_home(turn: Turn) -> None:
    """Ask whether the rigs go home."""
    titles = []
    for id in turn.state.driven:
        ready = turn.state.prepared(id)
        if ready.no_home is None:
            titles.append(ready.rig.title)
        else:
            turn.say(f"{ready.rig.title} cannot be sent home: {ready.no_home}")
    if titles:
        turn.state = replace(turn.state, asking=Question.HOME)
        turn.actions.append(Ask(Question.HOME, gate.home_asked(titles)))


def home(turn: Turn) -> None:
    """A person has said yes to going home."""
    if turn.state.asking is not Question.HOME:
        return
    turn.state = replace(turn.state, asking=None, goal=HOME, peek=None)
    bring_all(turn, HOME)


def fire(turn: Turn) -> None:
    """The triggers of where we stand."""
    at = turn.state.at
    for id in turn.state.driven:
        now, ready = turn.state.rig(id), turn.state.prepared(id)
        if not ready.triggers.get(at):
            turn.say(f"{ready.rig.title}: nothing goes off here")
        elif now.gate is not Gate.OPEN or now.inside != at:
            turn.say(f"{ready.rig.title} is not in this scene: nothing goes off")
        else:
            bring(turn, id, at, fires=True)


def peek(turn: Turn, input: Peek) -> None:
    """Look further on, or back."""
    last = len(turn.state.show.stops) - 1
    now = turn.state.place if turn.state.peek is None else turn.state.peek
    turn.state = replace(turn.state, peek=min(max(now + input.by, 0), last) if last >= 0 else None)


def pin(turn: Turn, input: Pin) -> None:
    """Keep a remark about the stop that is looked at."""
    stop = turn.state.looked_at
    remark = Remark(stop.key, stop.label, input.text)
    turn.state = replace(turn.state, pinned=(*turn.state.pinned, remark))
    turn.actions.append(KeepRemark({"at": stop.label, **named(stop.key), "remark": input.text}))
    turn.log("remark", **named(stop.key), remark=input.text)
