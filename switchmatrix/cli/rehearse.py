"""`switchmatrix rehearse`: the setlist stepped through, scene by scene."""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

import click

from switchmatrix.bind.places import Clock, place
from switchmatrix.cli.common import fail, leg_option, runs, show_argument, sound_show
from switchmatrix.cli.watching import Watching
from switchmatrix.cli.wiring import (
    NO_FAULTS,
    NOT_REAL,
    confirmed,
    in_process,
    live_options,
    machine,
    stop_with,
)
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.live.gate import CAUTIONS
from switchmatrix.live.loop import API
from switchmatrix.live.records import Ports
from switchmatrix.live.rehearsing.following import Following, Kind
from switchmatrix.live.rehearsing.journal import Journal, last_run
from switchmatrix.live.rehearsing.lines import RigLines
from switchmatrix.live.rehearsing.opening import Open, Opening, opener
from switchmatrix.live.rehearsing.session import Rehearsal, Start
from switchmatrix.live.rig_ports import is_stand_in
from switchmatrix.live.spacing import extra_us
from switchmatrix.live.stepping.log import Resumed
from switchmatrix.live.stepping.prepared import Prepared, prepare
from switchmatrix.live.stepping.state import Options
from switchmatrix.live.stepping.stops import Key
from switchmatrix.model.rig import Rig
from switchmatrix.pipeline import Judged
from switchmatrix.source import Span
from switchmatrix.states.show import Run
from switchmatrix.states.timeline import place_tick
from switchmatrix.syntax.nodes import Scalar

MARK = f"stand-in: {NOT_REAL}"
OTHERS = "stand-in: these ports are of a rig made of software, not of the real one"
"""What stands on top where the stand-in is another process."""


@dataclass(frozen=True, slots=True)
class _Wired:
    """The lines of each rig, the MIDI server, and whether what hangs on it is software."""

    lines: dict[str, RigLines]
    api: str
    stand_in: bool


@click.command("rehearse", short_help="Step through the setlist.")
@show_argument
@leg_option
@click.option("--rig", "rigs", multiple=True, metavar="RIG", help="A rig's id; twice for two rigs.")
@click.option("--from", "song", metavar="SONG", help="Begin at this song; default: the first.")
@click.option("--at", metavar="SCENE", help="Begin at this scene of it, SCENE@2, or at a place: `bar 33`.")
@click.option("--resume", is_flag=True, help="Take up where the last run of the log was.")
@click.option(
    "--follow",
    type=click.Choice(["time-code", "clock"]),
    help="Follow MIDI Time Code, or MIDI clock with song position.",
)
@click.option(
    "--log",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path("rehearsals"),
    show_default=True,
    metavar="FOLDER",
    help="Where the log and the remarks are kept.",
)
@live_options
def command(
    show: Path,
    leg: str | None,
    rigs: tuple[str, ...],
    song: str | None,
    at: str | None,
    resume: bool,
    follow: str | None,
    folder: Path,
    api: str,
    period: float | None,
    stand_in: bool,
    share: bool,
    yes: bool,
) -> None:
    """Walk a leg's setlist scene by scene: by keys, by pedals, or by time code.

    Before the first byte a person says that outputs are muted and people told; --yes says it in advance.
    On a machine without MIDI ports a stand-in rig is offered. Every step is logged, and --resume takes up
    a run that broke off. When the show's files change on disk they are read again.
    """
    if at is not None and song is None:
        raise fail("--at is a scene of a song: give --from too")
    if resume and song is not None:
        raise fail("--resume begins where the last run was: leave --from out")
    if not on_terminal():
        raise fail("a rehearsal is played on a terminal: its keys and its screen must be one")
    judged = sound_show(show)
    chosen = _chosen(judged, leg, rigs)
    wired = _wired(chosen, api, stand_in=stand_in, share=share)
    extra = extra_us(wired.api, None if period is None else round(period * 1000))
    name = chosen[0].leg.name
    prepared = prepare(judged.worked_out, name, [run.rig.id for run in chosen], extra)
    if not prepared.by_key:
        raise fail(f"the leg {name} has no scene to step through")
    options = Options(said=yes, asks_after_fault=judged.worked_out.show.asks_after_fault)
    start = _start(prepared, song, at, options)
    log = _log_name(name, wired.stand_in)
    resumed = _resumed(folder, log) if resume else None
    start = replace(start, resumed=resumed)
    journal = _journal(folder, log)
    _played(show, prepared, wired, journal, start, follow, extra)


def on_terminal() -> bool:
    """Whether keys come from a terminal and the screen goes to one."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def _chosen(judged: Judged, leg: str | None, rigs: Sequence[str]) -> list[Run]:
    """The runs of one leg: of the rigs named in that order, else of its first rig."""
    found = [runs(judged, leg, rig or None) for rig in rigs or [""]]
    first = next((one for one in found[0]), None)
    if first is None:
        raise fail("no leg of the show has a rig that can be compiled")
    out = [run for some in found for run in some if run.leg.name == first.leg.name]
    if rigs and len(out) < len(set(rigs)):
        raise fail(f"the leg {first.leg.name} has not all of the rigs {', '.join(rigs)}")
    return list({run.rig.id: run for run in out}.values()) if rigs else [first]


def _wired(chosen: Sequence[Run], api: str, *, stand_in: bool, share: bool) -> _Wired:
    """The rigs' ports open; where the machine has none of them, a stand-in if a person wants one."""
    if not stand_in:
        found = _real(chosen, api, share)
        if isinstance(found, _Wired):
            return found
        for line in found:
            click.echo(line)
        if not confirmed("None of the rig's ports is there. Rehearse with a rig made of software?"):
            stop_with("nothing was sent")
    openers = {run.rig.id: _on_stand_in(run.rig) for run in chosen}
    first = {run.rig.id: openers[run.rig.id](_ports(run.rig)) for run in chosen}
    return _Wired(_lines(chosen, openers, first), API, True)


def _real(chosen: Sequence[Run], api: str, share: bool) -> _Wired | list[str]:
    """The machine's own ports, as many of them as are there; if none is, why."""
    there = machine(api).ports()
    if not isinstance(there, Ports):
        return [there.reason]
    server = there.api
    openers = {run.rig.id: opener(run.rig, lambda: machine(server), share) for run in chosen}
    first = {run.rig.id: openers[run.rig.id](_ports(run.rig)) for run in chosen}
    names = [line.output.name for opening in first.values() for line in opening.lines]
    if names:
        return _Wired(_lines(chosen, openers, first), server, any(is_stand_in(name) for name in names))
    for opening in first.values():
        opening.transport.close()
    return [
        f"{run.rig.title}, {port}: {why}" for run in chosen for port, why in first[run.rig.id].shut.items()
    ]


def _ports(rig: Rig) -> list[str]:
    return [port.name for port in rig.ports]


def _lines(chosen: Sequence[Run], openers: dict[str, Open], first: dict[str, Opening]) -> dict[str, RigLines]:
    rigs = {run.rig.id: run.rig for run in chosen}
    return {id: RigLines(id, _ports(rig), openers[id], first[id], at_once=False) for id, rig in rigs.items()}


def _on_stand_in(rig: Rig) -> Open:
    """Opens ports of a rig made of software, a new one each time."""
    return opener(rig, lambda: in_process(rig, NO_FAULTS)[0])


def _start(show: Prepared, song: str | None, at: str | None, options: Options) -> Start:
    if song is None:
        return Start(options)
    stops = [stop for stop in (*show.stops, *show.others) if stop.key.song == song]
    if not stops:
        known = {stop.key.song for stop in show.stops}
        raise fail(f"no song is called {song}: {did_you_mean(song, known, 'songs')}")
    if at is None:
        return Start(options, stops[0].key)
    found = [stop.key for stop in stops if stop.key.label == at]
    return Start(options, found[0] if found else _at_place(show, stops[0].key, at))


def _at_place(show: Prepared, song: Key, text: str) -> Key:
    """The stop that is in force at a place of a song."""
    whole = show.songs[song.item].song.song
    wrong: list[Diagnostic] = []
    span = Span("--at", 1, 1, 1, len(text) + 1)
    where = place(Scalar(text, span), Clock(whole.start, whole.rate, whole.meters), wrong)
    stops = [stop for stop in show.stops if stop.key.item == song.item and stop.tick is not None]
    if where is None:
        known = [stop.key.label for stop in (*show.stops, *show.others) if stop.key.song == song.song]
        raise fail(f"{song.song} has no scene or place {text}: {did_you_mean(text, known, 'scenes')}")
    if not stops:
        raise fail(f"the scenes of {song.song} have no places: name a scene")
    tick = place_tick(show.songs[song.item].timeline, where)
    before = [stop for stop in stops if stop.tick is not None and stop.tick <= tick]
    return (before or stops[:1])[-1].key


def _log_name(leg: str, stand_in: bool) -> str:
    """What a stand-in was sent is no news of the real rig: each has its own log."""
    plain = "".join(c if c.isalnum() or c in "-_" else "-" for c in leg)
    return f"{plain}-stand-in" if stand_in else plain


def _resumed(folder: Path, name: str) -> Resumed:
    try:
        found = last_run(folder, name)
    except OSError as error:
        raise click.ClickException(f"cannot read {folder / name}.jsonl: {error.strerror or error}") from None
    if found is None:
        raise fail(f"{folder / name}.jsonl has no run to take up: leave --resume out")
    return found


def _journal(folder: Path, name: str) -> Journal:
    try:
        return Journal(folder, name, lambda: datetime.now().astimezone().isoformat(timespec="milliseconds"))
    except OSError as error:
        raise click.ClickException(f"cannot write into {folder}: {error.strerror or error}") from None


def _played(
    show: Path,
    prepared: Prepared,
    wired: _Wired,
    journal: Journal,
    start: Start,
    follow: str | None,
    extra: int,
) -> None:
    """The screen, until a person leaves it."""
    from switchmatrix.screens.rehearse.app import RehearsalApp

    following = None if follow is None else Following(Kind(follow.replace("-", " ")))
    rehearsal = Rehearsal(prepared, wired.lines, journal, time.monotonic_ns, start, following)
    rehearsal.say(CAUTIONS[0])
    watching = Watching(show, prepared.leg, tuple(prepared.rigs), extra)
    app = RehearsalApp(
        rehearsal,
        time.monotonic_ns,
        None if not wired.stand_in else MARK if wired.api == API else OTHERS,
        watching.changes,
    )
    try:
        app.run()
    finally:
        rehearsal.close()
    for _, text in rehearsal.said:
        click.echo(text)
    click.echo(f"logged in {journal.log}")
    if app.return_code:
        raise RuntimeError("the screen broke off, for the reason above")
