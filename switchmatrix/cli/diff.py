"""`switchmatrix diff`: what differs between two shows, legs, revisions or rigs."""

from __future__ import annotations

import sys

import click

from switchmatrix.cli.common import fail
from switchmatrix.cli.sides import TROUBLE, Given, given, judged_side, one_leg, rigs_of, sound_side
from switchmatrix.compare.diff import diff
from switchmatrix.compare.parity import parity
from switchmatrix.compare.rack import rack as whole_rack
from switchmatrix.compare.rack import rack_of_diff
from switchmatrix.compare.records import Diff, RackList
from switchmatrix.compare.sides import Side
from switchmatrix.emit.diff_json import diff_json
from switchmatrix.emit.diff_text import diff_text
from switchmatrix.emit.parity_text import parity_text
from switchmatrix.emit.rack_csv import rack_csv
from switchmatrix.emit.rack_text import rack_text
from switchmatrix.model.rig import Rig
from switchmatrix.pipeline import plan_run

SAME, DIFFERENT = 0, 1


@click.command("diff", short_help="Say what differs between two shows, legs or rigs.")
@click.argument("old")
@click.argument("new", required=False)
@click.option("--old-rev", metavar="REV", help="OLD is this folder at a revision of its git repository.")
@click.option("--wire", is_flag=True, help="Hold the messages themselves against each other too.")
@click.option("--rack", is_flag=True, help="Print what is to be done at the rack instead.")
@click.option("--rigs", is_flag=True, help="Lay the rigs of one leg of OLD side by side.")
@click.option("--leg", metavar="LEG", help="With --rigs; default: the first leg with several rigs.")
@click.option(
    "--format", "form", type=click.Choice(["text", "json", "csv"]), default="text", show_default=True
)
def command(
    old: str,
    new: str | None,
    old_rev: str | None,
    wire: bool,
    rack: bool,
    rigs: bool,
    leg: str | None,
    form: str,
) -> None:
    """Say what differs between OLD and NEW: songs, scenes, controls, rigs.

    Each is a show's folder or one leg of it, FOLDER@LEG. With --old-rev there is no NEW: the folder as it
    was is held against the folder as it is. Exit codes: 0 nothing differs, 1 something does, 2 trouble.
    """
    _check_usage(new, old_rev, wire, rack, rigs, leg, form)
    if rigs:
        _rigs(given(old), leg)
    before, after = given(old, old_rev), given(new if new is not None else old)
    was, now = sound_side(before), sound_side(after)
    found = _compared(was, now, wire)
    if rack:
        lists = racks(found, was, now)
        click.echo(rack_csv(lists) if form == "csv" else rack_text(lists), nl=False)
    elif form == "json":
        click.echo(diff_json(found, before.called, after.called, wire=wire), nl=False)
    else:
        click.echo(diff_text(found, before.called, after.called), nl=False)
    sys.exit(DIFFERENT if found.different else SAME)


def _check_usage(
    new: str | None, old_rev: str | None, wire: bool, rack: bool, rigs: bool, leg: str | None, form: str
) -> None:
    """Refuse what does not go together."""
    if rigs and (new is not None or old_rev is not None or wire or rack or form != "text"):
        raise fail("--rigs goes with one show, and with --leg alone")
    if leg is not None and not rigs:
        raise fail("--leg goes with --rigs; to compare legs write FOLDER@LEG")
    if not rigs and new is None and old_rev is None:
        raise fail("name what OLD is held against: NEW, or --old-rev REV, or --rigs")
    if new is not None and old_rev is not None:
        raise fail("with --old-rev name one folder: it is held against itself as it was")
    if rack and (wire or form == "json"):
        raise fail("--rack prints text or csv, and no messages")
    if form == "csv" and not rack:
        raise fail("csv is a form of --rack")


def _compared(old: Side, new: Side, wire: bool) -> Diff:
    return diff(old, new, plan_run if wire else None)


def racks(found: Diff, old: Side, new: Side) -> tuple[RackList, ...]:
    """What is to be done at each rig that differs, and at each that is new on a leg."""
    was, now = _by_id(old), _by_id(new)
    lists = {
        rig.rig.now: rack_of_diff(rig, was[rig.rig.was], now[rig.rig.now], new.states.runs)
        for rig in found.rigs
        if rig.rig.was is not None and rig.rig.now is not None
    }
    come = [rig.rig for leg in found.legs for rig in leg.rigs if rig.rig.was is None]
    for names in come:
        if names.now is not None and names.now not in was:
            lists.setdefault(names.now, whole_rack(now[names.now], new.states.runs))
    return tuple(lists.values())


def _by_id(side: Side) -> dict[str, Rig]:
    return {rig.id: rig for rig in side.states.rigs}


def _rigs(side: Given, leg: str | None) -> None:
    """Lay the rigs of a leg side by side, and end: 0 where nothing is lost."""
    if side.leg is not None and leg is not None and side.leg != leg:
        raise fail(f"{side.text} and --leg {leg} name two legs")
    judged = judged_side(side)
    if judged.states is None:
        click.echo(f"{side.called} is no show that can be read: see `switchmatrix check`", err=True)
        sys.exit(TROUBLE)
    chosen = one_leg(judged, leg or side.leg)
    found = parity(chosen.name, rigs_of(side.called, judged, chosen))
    click.echo(parity_text(found), nl=False)
    sys.exit(SAME if found.lossless else DIFFERENT)
