"""`switchmatrix send`: one change on the real wires."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import click

from switchmatrix.cli.after_fault import AfterFault
from switchmatrix.cli.common import (
    fail,
    leg_option,
    one_song,
    one_visit,
    rig_option,
    show_argument,
    sound_show,
    triggers_after,
)
from switchmatrix.cli.wiring import (
    NotThere,
    Wiring,
    home_of,
    live_options,
    looked_for,
    one_run,
    pass_gate,
    says,
    silence_of,
    wired,
)
from switchmatrix.compile.known import Known, nothing_known, settled_rig
from switchmatrix.compile.sentence import by_hand, sentences
from switchmatrix.live.changes import Change, Planner, after_fault
from switchmatrix.live.clock import QUARTERS_TOLD, Clock, beside, clocked_ports, quarter_of
from switchmatrix.live.gate import Gate
from switchmatrix.live.interrupt import Asked, stop_asked
from switchmatrix.live.outcome import delivery_said
from switchmatrix.live.records import Due
from switchmatrix.live.sending import deliver
from switchmatrix.live.spacing import extra_us
from switchmatrix.live.stand_in.table import table
from switchmatrix.live.wires import Wires
from switchmatrix.pipeline import Judged
from switchmatrix.states.show import Run
from switchmatrix.states.state import State, Trigger

HOME = "home"


@dataclass(frozen=True, slots=True)
class Goal:
    """What is to be sent: from what is known to a state; `quarter_ms` is the tempo there."""

    run: Run
    title: str
    known: Known
    state: State
    triggers: tuple[Trigger, ...]
    quarter_ms: Fraction | None


@click.command("send", short_help="Send one scene to the rig.")
@show_argument
@click.argument("song", required=False)
@click.argument("scene", required=False)
@click.option("--home", is_flag=True, help="The rig's home state, in place of SONG and SCENE.")
@click.option("--after", metavar="SCENE", help="The scene that the rig is in; default: unknown.")
@click.option("--dry-run", is_flag=True, help="Print what would be sent, and send nothing.")
@leg_option
@rig_option
@live_options
def command(
    show: Path,
    song: str | None,
    scene: str | None,
    home: bool,
    after: str | None,
    dry_run: bool,
    leg: str | None,
    rig: str | None,
    api: str,
    period: float | None,
    stand_in: bool,
    share: bool,
    yes: bool,
) -> None:
    """Send SCENE of SONG (or with --home the rig's home state) to the rig, each message at its time.

    Before the first byte a person says that outputs are muted and people told; --yes says it in advance.
    Without --after nothing is taken for known, and the whole state is sent. Ctrl-C stops between two
    messages. Exit code 1 where not all was sent.
    """
    if home == (song is not None) or (song is None) != (scene is None) or (home and after is not None):
        raise fail("give SONG and SCENE, or --home alone")
    judged = sound_show(show)
    goal = _home(judged, leg, rig) if home else _scene(judged, leg, rig, str(song), str(scene), after)
    period_us = None if period is None else round(period * 1000)
    if dry_run:
        planner = Planner(goal.run.rig, 0)
        change = planner.change(goal.known, goal.title, goal.state, goal.triggers)
        _before(goal, change, click.echo, known=after is not None)
        click.echo("\n".join([*sentences(change.messages), "dry run: nothing was sent"]))
        return
    wiring = wired(goal.run.rig, api, stand_in=stand_in, inputs=False)
    planner = Planner(goal.run.rig, extra_us(wiring.api, period_us))
    change = planner.change(goal.known, goal.title, goal.state, goal.triggers)
    _before(goal, change, wiring.say, known=after is not None)
    gate = Gate(yes)
    pass_gate(wiring, gate)
    asks = judged.worked_out.show.asks_after_fault
    with stop_asked() as asked:
        going_on = _after_fault(goal, wiring, gate, asks, share, asked)
        whole = _sent(wiring, going_on, planner, goal, change)
    sys.exit(0 if whole else 1)


def _home(judged: Judged, leg: str | None, rig: str | None) -> Goal:
    run = one_run(judged, leg, rig)
    return Goal(run, HOME, nothing_known(run.rig), home_of(run.rig), (), None)


def _scene(
    judged: Judged, leg: str | None, rig: str | None, song: str, scene: str, after: str | None
) -> Goal:
    run, states = one_song(judged, leg, rig, song)
    state, visit = one_visit(states, scene)
    known = nothing_known(run.rig)
    triggers: tuple[Trigger, ...] = ()
    if after is not None:
        state_before, before = one_visit(states, after)
        known, triggers = settled_rig(run.rig, state_before), triggers_after(visit, before)
    return Goal(run, f"{song} {scene}", known, state, triggers, quarter_of(states, scene, visit))


def _before(goal: Goal, change: Change, say: Callable[[str], None], *, known: bool) -> None:
    """What a person must see to first, and what cannot be brought about."""
    for line in () if known else by_hand(goal.run.rig):
        say(line)
    for line in (*change.by_hand, *change.unsure):
        say(line)
    if goal.title == HOME and goal.run.rig.hands:
        say("home moves what the player holds too")


def _clocks(goal: Goal, change: Change) -> Callable[[int], Mapping[str, Sequence[Due]]] | None:
    """MIDI clock beside the change and for a few quarter notes, where a device wants it."""
    quarter = goal.quarter_ms
    if quarter is None or not clocked_ports(goal.run.rig):
        return None

    def clocks(start: int) -> Mapping[str, Sequence[Due]]:
        until = start + max(change.us * 1000, int(QUARTERS_TOLD * quarter * 1_000_000))
        planned = [(m.step.port, Due(start + m.starts_us * 1000, m.step.data)) for m in change.messages]
        return beside(goal.run.rig, Clock(quarter, start), start, until, planned)

    return clocks


def _after_fault(goal: Goal, wiring: Wiring, gate: Gate, asks: bool, share: bool, asked: Asked) -> AfterFault:
    """How it goes on after a fault: on ports of the same kind, looked for anew."""

    def look() -> Wiring | NotThere:
        return looked_for(goal.run.rig, wiring.api, stand_in=wiring.stand_in is not None, inputs=False)

    question = "Send again?" if silence_of(goal.run) is None else "Send again, silence first?"
    return AfterFault(
        gate, asks, anybody=True, look=look, share=share, inputs=False, question=question, asked=asked
    )


def _sent(wiring: Wiring, going_on: AfterFault, planner: Planner, goal: Goal, change: Change) -> bool:
    """Send it, and after a fault again, as often as a person says so; whether all was sent in the end."""
    changes: tuple[Change, ...] = (change,)
    wires = wiring.open(going_on.gate, share=going_on.share, inputs=False)
    while True:
        faulty = _once(wiring, wires, planner, goal, changes, going_on.asked)
        if faulty is not True or going_on.asked.times:
            return faulty is None
        changes = after_fault(planner, silence_of(goal.run), goal.title, goal.state)
        _before(goal, changes[-1], wiring.say, known=True)
        again = going_on.again(wiring)
        if again is None:
            return False
        wiring, wires = again


def _once(
    wiring: Wiring, wires: Wires, planner: Planner, goal: Goal, changes: Sequence[Change], asked: Asked
) -> bool | None:
    """Send some changes one after another: None where all was sent, else whether it was a fault."""
    try:
        for change in changes:
            clocks = _clocks(goal, change) if change is changes[-1] else None
            delivery = deliver(wires, change, lambda: asked.times > 0, clocks)
            wiring.say(*delivery_said(planner.rig, delivery))
            if not delivery.whole:
                return delivery.faulty
    finally:
        wires.close()
    if wiring.stand_in is not None:
        for line in table(wiring.stand_in, says):
            click.echo(line)
    return None
