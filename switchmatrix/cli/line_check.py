"""`switchmatrix line-check`: whether every device of a rig responds."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import click

from switchmatrix.cli.after_fault import AfterFault
from switchmatrix.cli.common import fail, one_song, one_visit, rig_option, show_argument, sound_show
from switchmatrix.cli.reports import compared, keep
from switchmatrix.cli.stand_in import fault_options, faults_of
from switchmatrix.cli.wiring import (
    NotThere,
    Wiring,
    home_of,
    live_options,
    looked_for,
    one_run,
    pass_gate,
    person,
    silence_of,
    wired,
)
from switchmatrix.compile.sentence import by_hand
from switchmatrix.controls import decode
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.live.changes import Planner
from switchmatrix.live.gate import Gate
from switchmatrix.live.interrupt import stop_asked
from switchmatrix.live.line_check.check import LineCheck
from switchmatrix.live.line_check.found import Wanted
from switchmatrix.live.line_check.records import Report
from switchmatrix.live.line_check.text import report_text
from switchmatrix.live.outcome import delivery_said
from switchmatrix.live.spacing import extra_us
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.model.rig import Rig
from switchmatrix.pipeline import Judged
from switchmatrix.states.show import Run
from switchmatrix.states.state import State

CHANGES_PATCHES = "The line check changes patches and controls: nothing of the rig may be in use."


@click.command("line-check", short_help="Check that every device of a rig responds.")
@show_argument
@rig_option
@click.option("--device", "only", multiple=True, metavar="DEVICE", help="Check this one; may be repeated.")
@click.option("--without", multiple=True, metavar="DEVICE", help="Leave this one alone; may be repeated.")
@click.option("--then", nargs=2, metavar="SONG SCENE", help="Where the rig goes in the end; default: home.")
@click.option("--no-ask", is_flag=True, help="Ask nobody to look: what cannot answer is not checked.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path("line-checks"),
    show_default=True,
    metavar="FOLDER",
    help="Where the reports are kept.",
)
@fault_options
@live_options
def command(
    show: Path,
    rig: str | None,
    only: tuple[str, ...],
    without: tuple[str, ...],
    then: tuple[str, str] | None,
    no_ask: bool,
    out: Path,
    silent: tuple[str, ...],
    wrong_version: tuple[str, ...],
    slow: tuple[tuple[str, int], ...],
    drop: int | None,
    api: str,
    period: float | None,
    stand_in: bool,
    share: bool,
    yes: bool,
) -> None:
    """Check that every device of a rig responds: who can answer is asked, the others are looked at.

    Before the first byte a person says that outputs are muted and people told; --yes says it in advance.
    It begins with the scene silence, where the rig has it, and ends in home. The report is kept as text
    and JSON, and compared with the last one. Exit code 0 only where every device passed.
    """
    judged = sound_show(show)
    run = one_run(judged, None, rig)
    faults = faults_of(run.rig, silent, wrong_version, slow, drop)
    if faults.said() and not stand_in:
        raise fail("--silent, --wrong-version, --slow and --drop are of a stand-in: add --stand-in")
    wanted = _wanted(judged, run, only, without, then)
    wiring = wired(run.rig, api, stand_in=stand_in, inputs=True, devices=wanted.devices, broken=faults)
    there = {one.port.name for one in wiring.ports}
    gone = {device.name for device in run.rig.devices if device.port not in there}
    wanted = replace(wanted, absent=wanted.absent | gone)
    wiring.say(CHANGES_PATCHES, *faults.said(), *by_hand(run.rig))
    gate = Gate(yes)
    pass_gate(wiring, gate)
    period_us = None if period is None else round(period * 1000)
    planner = Planner(run.rig, extra_us(wiring.api, period_us))
    with stop_asked() as asked:
        going_on = AfterFault(
            gate,
            judged.worked_out.show.asks_after_fault,
            anybody=not no_ask,
            look=_looking(wiring, run.rig, faults),
            share=share,
            inputs=True,
            question="Go on?" if wanted.silence is None else "Go on, silence first?",
            asked=asked,
        )
        check = _checked(wiring, going_on, planner, wanted, no_ask)
    title = judged.worked_out.show.title
    report = compared(_report(title, run.rig, check, wanted, wiring), out)
    text = report_text(report)
    click.echo(f"\n{text}", nl=False)
    keep(out, report, text)
    sys.exit(0 if report.passed else 1)


def _wanted(
    judged: Judged, run: Run, only: Iterable[str], without: Iterable[str], then: tuple[str, str] | None
) -> Wanted:
    """The devices to be checked, and where the rig goes in the end."""
    known = [device.name for device in run.rig.devices]
    for name in (*only, *without):
        if name not in known:
            raise fail(f"no device is called {name}: {did_you_mean(name, known, 'devices')}")
    chosen = tuple(name for name in known if (not only or name in only) and name not in without)
    if not chosen:
        raise fail("no device is left to check")
    home = home_of(run.rig)
    end: tuple[str, State] = ("home", home)
    if then is not None:
        _, states = one_song(judged, None, run.rig.id, then[0])
        end = (f"{then[0]} {then[1]}", one_visit(states, then[1])[0])
    return Wanted(chosen, frozenset(without), silence_of(run), home, end)


def _looking(wiring: Wiring, rig: Rig, broken: Faults) -> Callable[[], Wiring | NotThere]:
    """Looks anew for the ports that there were: none of them may be missing."""
    there = {one.port.name for one in wiring.ports}
    names = [device.name for device in rig.devices if device.port in there]
    stand_in = wiring.stand_in is not None
    return lambda: looked_for(rig, wiring.api, stand_in=stand_in, inputs=True, devices=names, broken=broken)


def _checked(
    wiring: Wiring, going_on: AfterFault, planner: Planner, wanted: Wanted, no_ask: bool
) -> LineCheck:
    """The check, gone through as far as it could be; after a fault on, where a person says so."""
    asked = going_on.asked
    wires = wiring.open(going_on.gate, share=going_on.share, inputs=True)
    check = LineCheck(planner, wires, wanted, decode, lambda: asked.times > 0)
    while True:
        try:
            check.run(wiring.say, None if no_ask else person(wiring, asked))
        finally:
            wires.close()
        broken = check.found.broken
        if broken is None:
            return check
        wiring.say(
            *([str(broken)] if broken.delivery is None else delivery_said(planner.rig, broken.delivery))
        )
        if not broken.faulty or asked.times:
            return check
        left = len(check.found.left(wanted))
        wiring.say(f"devices not yet checked: {left} of {len(wanted.devices)}; what was found is kept")
        check.by_hand(wiring.say)
        again = going_on.again(wiring)
        if again is None:
            return check
        wiring, wires = again
        check.again(wires)


def _report(title: str, rig: Rig, check: LineCheck, wanted: Wanted, wiring: Wiring) -> Report:
    results, chains = check.found.report(rig, wanted)
    broken = check.found.broken
    ended = f"the rig is in {wanted.then[0]}"
    if broken is not None:
        stands = check.found.stands
        been = f"it was sent {stands[0]}, last {stands[-1]}" if stands else "nothing was sent whole"
        ended = f"{broken}: the rig was not put back; {been}"
    return Report(
        show=title,
        rig=rig.id,
        at=datetime.now().astimezone().isoformat(timespec="seconds"),
        stand_in=not wiring.is_real,
        results=results,
        chains=chains,
        strangers=tuple(check.found.strangers),
        ended=ended,
        whole=broken is None,
        faults=tuple(check.found.faults),
    )
