"""`send` after a fault: nothing until a person says so, then silence, then the whole scene."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from switchmatrix.cli import wiring
from switchmatrix.live.loop import Loop
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stand_in.rig import StandIn, open_stand_in
from switchmatrix.pipeline import judge
from tests.cli.kit import lay
from tests.cli.wired import answered
from tests.live.rigs import Tapped

WITH_SILENCE = {
    "rigs/a-rig.yaml": """\
rig: A rig
ports:
  rack: {out: rack, speed: din}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches:
      slap: 4
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
standing: {silence: {gate-1.threshold: -20 dB}}
"""
}


def stand_in(show: Path, loop: Tapped) -> StandIn:
    """The show's rig, made of software."""
    box = open_stand_in(judge(show).worked_out.rigs[0], Faults(), loop)
    assert isinstance(box, StandIn)
    return box


def machines(patch: pytest.MonkeyPatch, show: Path) -> tuple[StandIn, StandIn, list[bytes]]:
    """A machine whose server dies after two messages, then one that lives; what the second hears."""
    dying, living = Loop(), Loop()
    first, second = stand_in(show, Tapped(dying)), stand_in(show, tapped := Tapped(living))

    def die() -> None:
        first.work()
        if first.heard == 2:
            dying.cut()

    dying.residents.append(die)

    def live() -> None:
        second.work()

    living.residents.append(live)
    loops: Iterator[Loop] = iter([dying, living])
    patch.setattr(wiring, "Machine", lambda *_: next(loops))
    return first, second, tapped.taps["rack"].kept


def test_no_answer_after_a_fault_sends_nothing_more(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path, WITH_SILENCE)
    first, _, heard = machines(monkeypatch, show)
    code, out = answered("send", show, "lantern", "verse", "--yes", said="")
    assert (code, first.heard, heard) == (1, 2, [])
    assert "`rack` is lost: the MIDI server no longer answers; certain up to message 2\n" in out


def test_yes_in_advance_does_not_count_after_a_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path, WITH_SILENCE)
    _, _, heard = machines(monkeypatch, show)
    code, _ = answered("send", show, "lantern", "verse", "--yes", said="n\n")
    assert (code, heard) == (1, [])


def test_once_a_person_says_so_silence_goes_first_and_then_the_whole_scene(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = lay(tmp_path, WITH_SILENCE)
    machines_ = machines(monkeypatch, show)
    code, out = answered("send", show, "lantern", "chorus", "--after", "verse", "--yes", said="y\n")
    assert code == 0, out
    hexes = [data.hex(" ").upper() for data in machines_[2]]
    # The gate shut; all of silence; all of the chorus, though only the echo differs from the verse.
    assert hexes[0] == "B1 14 64"
    assert sorted(hexes[1:4]) == ["B1 14 64", "B2 50 00", "C2 03"]
    assert sorted(hexes[4:]) == ["B1 14 40", "B2 50 7F", "C2 10"]
    assert out.splitlines()[-1] == "lantern chorus: 3 messages sent"
