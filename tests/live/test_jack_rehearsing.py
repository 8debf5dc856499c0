"""The example show's whole setlist rehearsed over real JACK ports, by foot switch and by time code."""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path

import pytest

from switchmatrix.live.machine import Machine
from switchmatrix.live.rehearsing.following import Following, Kind
from switchmatrix.live.rehearsing.journal import Journal
from switchmatrix.live.rehearsing.lines import RigLines
from switchmatrix.live.rehearsing.opening import opener
from switchmatrix.live.rehearsing.session import Rehearsal, Start
from switchmatrix.live.spacing import extra_us
from switchmatrix.live.stepping.prepared import Prepared, prepare
from switchmatrix.live.stepping.state import Options
from switchmatrix.live.stepping.stops import Key
from switchmatrix.midi.timecode import RATES, Rate
from switchmatrix.pipeline import judge
from tests.live.kit import EASY, until
from tests.live.rehearsing.far import FarRig
from tests.live.rigs import SONGS
from tests.live.stepping.code import full, label_at, quarter_frames

LEG, RIG = "summer-season", "a-rig"
PERIOD_US = 1_334
"""The test server's period: 64 frames at 48,000 a second."""

AHEAD_S = Fraction(45, 100)
"""Time code begins so long before a visit: it is followed once it has run for a quarter of a second."""

TRIES = 3
"""Code that a busy machine brings unevenly is not followed, as it should be: then it is played again."""

STARTS = tuple(RATES)
PEDAL, BACK = bytes.fromhex("BF 40 7F"), bytes.fromhex("BF 40 00")


def with_code(folder: Path) -> Path:
    """The example show with a start in time code for every song, the four rates in turn."""
    show = folder / "show"
    shutil.copytree(SONGS, show)
    songs = sorted(path for path in show.glob("*.yaml") if path.name != "show.yaml")
    without = [path for path in songs if "\nstart:" not in path.read_text(encoding="utf-8")]
    for n, path in enumerate(without):
        with path.open("a", encoding="utf-8") as file:
            file.write(f'start: "{n + 11:02}:00:00:00"\nrate: {STARTS[n % 4]}\n')
    return show


@contextmanager
def rehearsed(show: Path, folder: Path, following: Following | None) -> Iterator[tuple[Rehearsal, FarRig]]:
    """A rehearsal of it on real ports, and the rig at the other end."""
    judged = judge(show)
    assert judged.sound, judged.found
    prepared = prepare(judged.worked_out, LEG, [RIG], extra_us("jack", PERIOD_US))
    rig = prepared.rigs[RIG].rig
    far = FarRig(show, LEG, RIG)
    open_ = opener(rig, lambda: Machine("jack", EASY))
    ports = [port.name for port in rig.ports]
    lines = RigLines(RIG, ports, open_, open_(ports), at_once=False)
    journal = Journal(folder / "log", LEG, lambda: "now")
    start = Start(Options(said=True))
    rehearsal = Rehearsal(prepared, {RIG: lines}, journal, time.monotonic_ns, start, following)
    try:
        yield rehearsal, far
    finally:
        rehearsal.close()
        far.close()


def run(rehearsal: Rehearsal, holds: Callable[[], bool], seconds: float) -> bool:
    """Let the rehearsal go on until something holds."""

    def looked() -> bool:
        rehearsal.poll()
        rehearsal.idle()
        return holds()

    return until(looked, seconds)


def at(rehearsal: Rehearsal, key: Key) -> Callable[[], bool]:
    """Whether the rig has been brought to a stop, all of it through."""
    return lambda: rehearsal.state.rig(RIG).inside == key and not rehearsal.state.rig(RIG).pending


def wrong(rehearsal: Rehearsal, far: FarRig, key: Key) -> list[object]:
    """What is amiss once a stop should have been reached; a change may take its last half second to land."""
    if not run(rehearsal, at(rehearsal, key), 8):
        return [(key, "not reached", rehearsal.state.at, list(rehearsal.said)[-3:])]
    until(lambda: not far.astray(key), 2)
    astray = far.astray(key)
    return [(key, astray, far.ask("heard"), rehearsal.state.rig(RIG))] if astray else []


@pytest.mark.usefixtures("jack")
def test_whole_setlist_is_walked_by_a_foot_switch_and_every_state_is_right(tmp_path: Path) -> None:
    faults: list[object] = []
    walked: list[Key] = []
    with rehearsed(SONGS, tmp_path, None) as (rehearsal, far):
        stops = rehearsal.state.show.stops
        faults += wrong(rehearsal, far, stops[0].key)
        for stop in stops[1:]:
            far.play("pedalboard", [(0, PEDAL), (4, BACK), (6, PEDAL), (80, BACK)])
            faults += wrong(rehearsal, far, stop.key)
            walked.append(rehearsal.state.at)
            # Two presses of a pedal lie its rest apart.
            run(rehearsal, lambda: False, 0.26)
    assert faults == []
    assert walked == [stop.key for stop in stops[1:]]


@pytest.mark.usefixtures("jack")
def test_every_visit_is_reached_by_time_code_after_a_locate_just_before_it(tmp_path: Path) -> None:
    faults: list[object] = []
    rates: set[str] = set()
    following = Following(Kind.TIME_CODE)
    with rehearsed(with_code(tmp_path), tmp_path, following) as (rehearsal, far):
        show = rehearsal.state.show
        timed = [stop for stop in show.stops if stop.tick is not None]
        for stop in timed:
            rate, moment = place_of(show, stop.key)
            frame = int((moment - AHEAD_S) * rate.frames_per_second) // 2 * 2
            seconds = float(AHEAD_S) + 0.1
            code = [(us / 1000, data) for us, data in quarter_frames(rate, frame, seconds)]
            for _ in range(TRIES):
                far.play("rack", [(0, full(label_at(frame, rate), rate)), *code])
                run(rehearsal, lambda: False, seconds)
                if run(rehearsal, at(rehearsal, stop.key), 1):
                    break
            faults += wrong(rehearsal, far, stop.key)
            rates.add(rate.label)
    assert faults == []
    assert rates == set(RATES)
    placed = {item for item, song in show.songs.items() if song.placed}
    assert {stop.key.item for stop in timed} == placed


def place_of(show: Prepared, key: Key) -> tuple[Rate, Fraction]:
    """The rate of a visit's song, and where in its code the visit stands, in seconds."""
    song = show.songs[key.item]
    whole = song.song.song
    assert whole.rate is not None
    assert whole.start is not None
    visit = next(one for one in song.visits if (one.scene, one.nth) == (key.scene, key.nth))
    assert visit.tick is not None
    return whole.rate, whole.start + Fraction(song.timeline.moment(visit.tick), 960 * 1_000_000)
