"""Every scene of the example show through real JACK ports: byte for byte the plan, and the rig gets there."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from switchmatrix.compile.known import Known, nothing_known
from switchmatrix.compile.step import Step
from switchmatrix.live.changes import Planner
from switchmatrix.live.line_check.check import only_toggles
from switchmatrix.live.machine import Machine
from switchmatrix.live.sending import Delivery, deliver
from switchmatrix.live.spacing import extra_us
from switchmatrix.pipeline import plan_run
from switchmatrix.states.state import State
from tests.live.rigs import Played, astray, example, played, run_on, states_of

PERIOD_US = 1_334
"""The test server's period: 64 frames at 48,000 a second."""

SCENES = {rig: states_of(run_on(rig)) for rig in ("a-rig", "b-rig", "bench")}


def sent(one: Played, known: Known, title: str, state: State) -> tuple[Delivery, dict[str, list[bytes]]]:
    """The state sent, and what came in on each port."""
    for tap in one.taps.values():
        tap.kept.clear()
    change = one.planner.change(known, title, state)
    delivery = deliver(one.wires, change, lambda: False)
    one.box.work()
    return delivery, {port: list(tap.kept) for port, tap in one.taps.items()}


@pytest.mark.parametrize("rig", SCENES)
def test_each_scene_arrives_as_planned_and_the_rig_stands_there(jack: Machine, rig: str) -> None:
    run = run_on(rig)
    one = played(run.rig, jack, extra_us=extra_us("jack", PERIOD_US))
    known = nothing_known(run.rig)
    faults = []
    for title, state in SCENES[rig]:
        delivery, came = sent(one, known, title, state)
        wanted = {
            port: [m.step.data for m in delivery.change.messages if m.step.port == port] for port in came
        }
        faults += [] if came == wanted else [(title, f"came {came}; lost {delivery.lost}")]
        faults += [(title, name) for name in astray(one.box, state)]
        # A switch that can only be flipped stands where the last scene left it.
        known = only_toggles(run.rig, delivery.change.after)
    assert faults == []


def _by_device(steps: Iterable[Step]) -> dict[str, list[bytes]]:
    found: dict[str, list[bytes]] = {}
    for step in steps:
        found.setdefault(step.device, []).append(step.data)
    return found


@pytest.mark.parametrize("rig", SCENES)
def test_each_device_is_sent_live_what_the_files_hold(rig: str) -> None:
    run = run_on(rig)
    planned = {
        f"{song.states.song.song.id} {scene.scene.label}": _by_device(m.step for m in scene.messages)
        for song in plan_run(run, example().worked_out.show).songs
        for scene in song.scenes
    }
    planner = Planner(run.rig, extra_us("jack", None))
    live = {
        title: _by_device(m.step for m in planner.change(nothing_known(run.rig), title, state).messages)
        for title, state in SCENES[rig]
    }
    assert live == planned
