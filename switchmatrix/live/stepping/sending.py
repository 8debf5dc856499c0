"""Rigs brought to a stop, past the gate and from what is known of them."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.compile.known import Known, all_in_doubt
from switchmatrix.live.stepping.actions import DropQueue, Send
from switchmatrix.live.stepping.breaking import broken, dropped_busy
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.moves import in_time
from switchmatrix.live.stepping.prepared import SILENCE
from switchmatrix.live.stepping.state import Pending, Stepping
from switchmatrix.live.stepping.stops import Key
from switchmatrix.live.stepping.turn import Turn, named


def bring_all(turn: Turn, key: Key, *, fires: bool = False, whole: bool = False) -> None:
    """The driven rigs go to a stop; those at the gate are held back, and a person is asked."""
    for id in turn.state.driven:
        if turn.state.rig(id).gate is Gate.OPEN:
            bring(turn, id, key, fires=fires, whole=whole)
    turn.ask_at_gate()


def bring(
    turn: Turn, id: str, key: Key, *, fires: bool = False, whole: bool = False, ahead: bool = False
) -> None:
    """A rig whose gate is open goes to a stop; `whole` with nothing taken for known."""
    known = all_in_doubt(turn.state.prepared(id).rig) if whole else turn.state.rig(id).known
    _bring(turn, id, key, known, fires=fires, whole=whole, ahead=ahead)


def _bring(
    turn: Turn, id: str, key: Key, known: Known, *, fires: bool, whole: bool, ahead: bool = False
) -> None:
    now, ready, label = turn.state.rig(id), turn.state.prepared(id), turn.state.show.label(key)
    wanted = ready.states.get(key)
    if wanted is None:
        turn.say(f"{ready.rig.title} has no `{label}`: it stays as it is")
        return
    absent = now.absent(ready.rig)
    triggers = ready.triggers.get(key, ()) if fires else ()
    first = SILENCE.scene if key == SILENCE else None
    move = ready.moves.move(known, key, wanted, triggers, absent, first)
    timed = in_time(ready.moves.spaced, move, turn.at_us, now.busy)
    number = turn.state.sends + 1
    if timed.messages:
        fired = tuple(f"{t.device.name}.{t.control}" for t in triggers if t.device.name not in absent)
        turn.state = replace(turn.state, sends=number)
        turn.actions.append(Send(id, number, key, label, timed.messages, whole, ahead, fired))
        _log(turn, turn.actions[-1])
        pending = Pending(number, timed.messages, known, move.after, now.busy, whole)
        now = replace(now, pending=(*now.pending, pending), busy=timed.busy)
    turn.put(replace(now, known=move.after, inside=key, by_hand=move.by_hand))
    for hand in move.by_hand:
        turn.say(f"{ready.rig.title}: {hand.text}")
    for text in move.unsure:
        turn.say(f"{ready.rig.title}: {text}")


def _log(turn: Turn, send: object) -> None:
    if isinstance(send, Send):
        messages = [[m.step.port, m.starts_us - turn.at_us, m.step.data.hex()] for m in send.messages]
        turn.log(
            "send",
            rig=send.rig,
            send=send.send,
            **named(send.key),
            whole=send.whole,
            fires=list(send.fires),
            messages=messages,
        )


def pass_gate(turn: Turn, id: str) -> None:
    """A person has spoken: `silence` first where the rig may stand anywhere, then all of the goal."""
    now, ready, goal = turn.state.rig(id), turn.state.prepared(id), turn.state.goal
    if now.absent(ready.rig) >= {device.name for device in ready.rig.devices}:
        turn.say(f"{ready.rig.title}: no port is left to send to")
        return
    turn.put(replace(now, gate=Gate.OPEN))
    if now.gate is Gate.FIRST:
        _bring(turn, id, goal, now.known, fires=False, whole=True)
        return
    if ready.has_silence and goal != SILENCE:
        bring(turn, id, SILENCE, whole=True)
    bring(turn, id, goal, whole=True)


def silenced(state: Stepping) -> tuple[str, ...]:
    """The rigs that `silence` is sent to at once, ahead of what waits, which is dropped."""
    return tuple(
        id for id in state.driven if state.prepared(id).has_silence and state.rig(id).gate is Gate.OPEN
    )


def silence(turn: Turn) -> None:
    """`silence` for the driven rigs, ahead of what waits, which is dropped."""
    turn.state = replace(turn.state, goal=SILENCE, peek=None)
    turn.forget_home()
    for id in turn.state.driven:
        ready = turn.state.prepared(id)
        if not ready.has_silence:
            turn.say(f"{ready.rig.title} has no standing scene `silence`: nothing is sent")
    for id in silenced(turn.state):
        drop(turn, id)
        bring(turn, id, SILENCE, ahead=True)
    turn.ask_at_gate()
    turn.tell_held_back()


def drop(turn: Turn, id: str) -> None:
    """What a rig still waits for is dropped; how much of it has gone out, nobody knows yet."""
    now, rig = turn.state.rig(id), turn.state.prepared(id).rig
    if not now.pending:
        return
    turn.actions.append(DropQueue(id))
    turn.log("dropped", rig=id, sends=[p.send for p in now.pending if not p.done])
    known = broken(rig, now.pending, ()).known
    busy = dropped_busy(turn.state.prepared(id).moves.spaced, now.pending, turn.at_us)
    turn.put(replace(now, known=known, pending=(), busy=busy))
