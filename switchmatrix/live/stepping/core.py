"""The stepping core: what happens, and what is then done. Nothing here sends, draws or knows the time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from switchmatrix.compile.known import all_in_doubt, nothing_known
from switchmatrix.live.stepping import devices, faults, lateness, reloading, walking
from switchmatrix.live.stepping import inputs as i
from switchmatrix.live.stepping.actions import Action, DropQueue, Leave
from switchmatrix.live.stepping.gate import Gate, Question
from switchmatrix.live.stepping.log import Resumed
from switchmatrix.live.stepping.prepared import SILENCE, Prepared
from switchmatrix.live.stepping.sending import pass_gate, silence
from switchmatrix.live.stepping.state import Options, Remark, RigNow, Stepping
from switchmatrix.live.stepping.stops import Key
from switchmatrix.live.stepping.turn import Turn, named

Stepped = tuple[Stepping, tuple[Action, ...]]


def start(
    show: Prepared,
    options: Options | None = None,
    *,
    at: Key | None = None,
    driven: Sequence[str] | None = None,
    resumed: Resumed | None = None,
    at_us: int = 0,
) -> Stepped:
    """A rehearsal begins: at the first stop, or at `at`, or where the log says that the last one was.

    The rigs in `driven` (default: the first) are sent to once a person has spoken. ValueError for a leg
    without scenes.
    """
    if not show.by_key:
        raise ValueError("a leg without scenes has nothing to step through")
    first = (show.stops or show.others)[0].key
    if resumed is not None:
        at = resumed.key if resumed.key in show.by_key else at
        driven = [id for id in resumed.driven if id in show.rigs] or driven
    here = at if at in show.by_key and at is not None else first
    rigs = tuple(_found(show, id, resumed) for id in show.rigs)
    chosen = tuple(id for id in show.rigs if id in (driven or list(show.rigs)[:1]))
    pinned = () if resumed is None else tuple(Remark(*one) for one in resumed.remarks)
    state = Stepping(
        show, options or Options(), here, show.places.get(here, 0), here, rigs, chosen, pinned=pinned
    )
    turn = Turn(state, at_us)
    out = {now.id: sorted(now.out) for now in rigs}
    turn.log(
        "start",
        show=show.title,
        leg=show.leg,
        rigs=list(chosen),
        out=out,
        resumed=resumed is not None,
        **named(here),
    )
    if resumed is not None and resumed.key not in show.by_key:
        turn.say(f"{resumed.key.song} {resumed.key.label} is no longer there: we stand at {show.label(here)}")
    if state.options.said:
        _outputs_muted(turn)
    turn.ask_at_gate()
    return turn.state, tuple(turn.actions)


def _found(show: Prepared, id: str, resumed: Resumed | None) -> RigNow:
    """A rig as it is found: after a run that broke off, its switches may stand anywhere."""
    rig = show.rigs[id].rig
    if resumed is None:
        return RigNow(id, Gate.FIRST, nothing_known(rig))
    out = frozenset(resumed.out.get(id, ())) & {device.name for device in rig.devices}
    return RigNow(id, Gate.RESUMED, all_in_doubt(rig), out=out)


def step(state: Stepping, input: i.Input, at_us: int = 0) -> Stepped:
    """What becomes of a rehearsal, and what is to be done, in order; `at_us` is now, on any clock."""
    if state.left:
        return state, ()
    turn = Turn(state, at_us)
    _take(turn, input)
    reloading.take_over(turn)
    return turn.state, tuple(turn.actions)


def _take(turn: Turn, input: i.Input) -> None:
    match input:
        case i.Next():
            walking.on(turn)
        case i.Back():
            walking.back(turn)
        case i.Jump(key) | i.Located(key):
            walking.go(turn, key)
        case i.Reached(key):
            walking.reached(turn, key)
        case i.JumpToScene(number):
            walking.to_scene(turn, number)
        case i.Again():
            walking.again(turn)
        case i.Silence():
            silence(turn)
        case i.Home():
            walking.ask_for_home(turn)
        case i.HomeYes():
            walking.home(turn)
        case i.OutputsMuted():
            _outputs_muted(turn)
        case i.No():
            _no(turn)
        case i.Fire():
            walking.fire(turn)
        case i.Peek():
            walking.peek(turn, input)
        case i.LeavePeek():
            turn.state = replace(turn.state, peek=None)
        case i.Pin():
            walking.pin(turn, input)
        case _:
            _take_other(turn, input)


def _take_other(turn: Turn, input: i.Input) -> None:
    match input:
        case i.TakeOut():
            devices.take_out(turn, input)
        case i.BringBack():
            devices.bring_back(turn, input)
        case i.Drive(rigs):
            devices.drive(turn, rigs)
        case i.SetByHand():
            devices.set_by_hand(turn)
        case i.Doubt():
            devices.doubt(turn, input)
        case i.Reloaded(show):
            reloading.reloaded(turn, show)
        case i.ReloadRefused():
            reloading.refused(turn, input)
        case i.Done():
            faults.done(turn, input)
        case i.Late():
            lateness.late(turn, input)
        case i.PortLost() | i.SendFailed():
            faults.fault(turn, input)
        case i.PortBack():
            faults.back(turn, input)
        case i.Quit():
            _quit(turn)
        case _:
            raise TypeError(f"{input} is no input")


def _outputs_muted(turn: Turn) -> None:
    """A person has spoken for all driven rigs."""
    held = turn.state.held_back()
    if turn.state.asking is Question.MUTED:
        turn.state = replace(turn.state, asking=None)
    if held:
        turn.log("gate", said=True, rigs=list(held))
    for id in held:
        turn.put(replace(turn.state.rig(id), failed=0))
        pass_gate(turn, id)


def _no(turn: Turn) -> None:
    """A person says no: nothing is sent."""
    if turn.state.asking is Question.MUTED:
        turn.say("held back: nothing is sent until the outputs are muted and people told")
        turn.log("gate", said=False, rigs=list(turn.state.held_back()))
    turn.state = replace(turn.state, asking=None)


def _quit(turn: Turn) -> None:
    """Leave, with what was not sent any more."""
    for now in turn.state.rigs:
        if now.pending:
            turn.actions.append(DropQueue(now.id))
            title = turn.state.prepared(now.id).rig.title
            turn.say(f"{title}: the last change was broken off, and where the rig stands is not known")
    turn.log("left")
    turn.actions.append(Leave())
    turn.state = replace(turn.state, left=True)


def warm(state: Stepping) -> None:
    """Work out the likely next moves ahead, so that stepping is instant; it changes nothing else."""
    following, before = state.following, state.before
    for id in state.driven:
        now, ready = state.rig(id), state.prepared(id)
        if now.gate is not Gate.OPEN:
            continue
        absent = now.absent(ready.rig)
        for key, fires in (
            (following.key if following is not None else None, True),
            (before.key if before is not None else None, False),
            (SILENCE, False),
        ):
            if key in ready.states and key is not None:
                triggers = ready.triggers.get(key, ()) if fires else ()
                first = SILENCE.scene if key == SILENCE else None
                ready.moves.move(now.known, key, ready.states[key], triggers, absent, first)
