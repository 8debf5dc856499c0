"""The MIDI server dies in mid rehearsal: told soon, nothing hangs, and a new one is taken up by itself."""

from __future__ import annotations

import json
import signal
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

from switchmatrix.live.machine import Machine
from switchmatrix.live.probe import ports
from switchmatrix.live.records import MS, Ports, Watch
from switchmatrix.live.rehearsing.journal import Journal
from switchmatrix.live.rehearsing.lines import RigLines
from switchmatrix.live.rehearsing.opening import opener
from switchmatrix.live.rehearsing.session import Rehearsal, Start
from switchmatrix.live.spacing import extra_us
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.inputs import Next, OutputsMuted
from switchmatrix.live.stepping.prepared import prepare
from switchmatrix.live.stepping.state import Options
from switchmatrix.pipeline import judge
from tests.live.kit import EASY, Server, until
from tests.live.rehearsing.far import FarRig
from tests.live.rigs import SONGS

LEG, RIG = "summer-season", "a-rig"
PERIOD_US = 1_334
"""The test server's period: 64 frames at 48,000 a second."""

ALERT = Watch(silence_ns=5_000 * MS, open_ns=10_000 * MS)
"""The usual beats; only a process that hangs for seconds is taken to be gone."""

TOLD_S, LOOK_S = 0.25, 0.05
SLACK_S = 0.75
"""What a machine may take besides that others use; whoever waits for a dead server waits for seconds."""


class Watched:
    """A rehearsal that notes the longest that a look at its ports took; the last watch is opened with."""

    def __init__(self, rehearsal: Rehearsal, watches: list[Watch]) -> None:
        self.it, self.watches = rehearsal, watches
        self.longest_s = 0.0

    def poll(self) -> None:
        """Look once."""
        start = time.monotonic()
        self.it.poll()
        self.longest_s = max(self.longest_s, time.monotonic() - start)

    def run(self, holds: Callable[[], bool], seconds: float) -> bool:
        """Let the rehearsal go on until something holds."""

        def looked() -> bool:
            self.poll()
            return holds()

        return until(looked, seconds)

    def brought(self, seconds: float) -> bool:
        """Let the rig be brought to a stop; after a beat lost to a busy machine it is asked anew."""

        def through() -> bool:
            now = self.it.state.rig(RIG)
            if now.gate is Gate.FAULT and not now.lost:
                self.it.do(OutputsMuted())
            return now.inside is not None and not now.pending

        return self.run(through, seconds)


@contextmanager
def rehearsed(folder: Path) -> Iterator[Watched]:
    """The example show on real ports, a person having spoken in advance."""
    judged = judge(SONGS)
    prepared = prepare(judged.worked_out, LEG, [RIG], extra_us("jack", PERIOD_US))
    rig = prepared.rigs[RIG].rig
    watches: list[Watch] = []
    open_ = opener(rig, lambda: Machine("jack", watches[-1] if watches else ALERT))
    names = [port.name for port in rig.ports]
    lines = RigLines(RIG, names, open_, open_(names), at_once=False)
    journal = Journal(folder / "log", LEG, lambda: "now")
    rehearsal = Rehearsal(prepared, {RIG: lines}, journal, time.monotonic_ns, Start(Options(said=True)))
    try:
        yield Watched(rehearsal, watches)
    finally:
        rehearsal.close()


@contextmanager
def far_rig() -> Iterator[FarRig]:
    """The rig at the other end."""
    far = FarRig(SONGS, LEG, RIG)
    try:
        yield far
    finally:
        with suppress(BrokenPipeError):
            far.close()


@contextmanager
def again(name: str) -> Iterator[Server]:
    """A server under the name of one that is dead."""
    server = Server(name)
    try:
        assert until(lambda: isinstance(ports("jack"), Ports), 20), "jackd does not answer"
        yield server
    finally:
        server.end()


def logged(rehearsal: Rehearsal) -> list[dict[str, object]]:
    """The log on disk."""
    lines = rehearsal.journal.log.read_text(encoding="utf-8").splitlines()
    return [json.loads(line) for line in lines]


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGSTOP])
def test_server_that_goes_is_told_and_a_new_one_is_taken_up_with_the_rig_right_again(
    doomed: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: signal.Signals
) -> None:
    monkeypatch.setenv("JACK_DEFAULT_SERVER", doomed.name)
    with far_rig(), rehearsed(tmp_path) as watched:
        rehearsal = watched.it
        assert watched.brought(60), list(rehearsal.said)
        rehearsal.do(Next())
        watched.poll()
        under_way = rehearsal.state.rig(RIG).pending
        watched.watches.append(EASY)
        doomed.signal(how)
        died = time.monotonic()
        told = watched.run(lambda: rehearsal.state.rig(RIG).gate is Gate.FAULT, 5)
        took_s = time.monotonic() - died
        watched.run(lambda: False, 3)
        lost = rehearsal.state.rig(RIG).lost
        doomed.end()
        with again(doomed.name), far_rig() as far:
            back = watched.run(lambda: not rehearsal.state.rig(RIG).lost, 60)
            watched.run(lambda: False, 0.5)
            silent = far.ask("heard")
            right = watched.brought(60)
            inside = rehearsal.state.at
            until(lambda: not far.astray(inside), 2)
            astray, health = far.astray(inside), set(rehearsal.lines[RIG].health().values())
            sends = [one for one in logged(rehearsal) if one["event"] == "send"]
    assert under_way
    assert told
    assert took_s < TOLD_S + SLACK_S
    assert lost == {port.name for port in rehearsal.state.prepared(RIG).rig.ports}
    assert (back, silent, right) == (True, 0, True), list(rehearsal.said)
    assert (astray, health) == ([], {"open"})
    assert [one["scene"] for one in sends[-2:]] == ["silence", inside.scene]
    assert watched.longest_s < LOOK_S + SLACK_S
