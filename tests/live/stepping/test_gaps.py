"""A box's gap holds from one step to the next, for what it hears of another box on its channel too."""

from __future__ import annotations

from switchmatrix.compile.known import nothing_known
from switchmatrix.compile.schedule import Busy
from switchmatrix.live.stepping.moves import Moves, begun, in_time
from switchmatrix.states.state import State
from tests.support import judged, song

FILES = {
    "rigs/a-rig.yaml": """
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  flange: {port: rack, channel: 1, definition: flange}
  drone: {port: rack, channel: 1, definition: drone}
home: {flange.rate: 5, drone.level: 1}
""",
    "definitions/flange.yaml": """
definition: flange
gap: 2 ms
controls: {rate: {kind: level, cc: 20, range: [0, 127]}}
""",
    "definitions/drone.yaml": """
definition: drone
controls: {level: {kind: level, cc: 21, range: [0, 127]}}
""",
    "lantern.yaml": """
song: Lantern
scenes: {low: {}, high: {drone.level: 2}, fast: {drone.level: 2, flange.rate: 6}}
""",
}
SENT_US = 960
"""Three bytes on a DIN wire: 320 microseconds each (MIDI 1.0 Detailed Specification 4.2.1, p. 1)."""


def states() -> tuple[Moves, dict[str, State]]:
    """The rig's moves, their waits a millisecond longer, and its scenes."""
    run, lantern = song(judged({path: text.lstrip("\n") for path, text in FILES.items()}), "lantern")
    return Moves(run.rig, extra_us=1_000), {scene.scene: scene.state for scene in lantern.states}


def test_next_step_waits_for_the_gap_after_what_the_box_only_heard() -> None:
    moves, scenes = states()
    low = moves.move(nothing_known(moves.spaced), "low", scenes["low"])
    high = moves.move(low.after, "high", scenes["high"])
    fast = moves.move(high.after, "fast", scenes["fast"])
    first = in_time(moves.spaced, high, 50_000, Busy())
    then = in_time(moves.spaced, fast, 50_000 + SENT_US, first.busy)
    assert [(m.step.device, m.starts_us) for m in (*first.messages, *then.messages)] == [
        ("drone", 50_000),
        ("flange", 50_000 + SENT_US + 3_000),
    ]


def test_gap_holds_after_what_had_begun_when_the_rest_was_dropped() -> None:
    moves, scenes = states()
    low = moves.move(nothing_known(moves.spaced), "low", scenes["low"])
    high = moves.move(low.after, "high", scenes["high"])
    first = in_time(moves.spaced, high, 50_000, Busy())
    assert begun(moves.spaced, Busy(), first.messages, 50_000).gaps == {"flange": 50_000 + SENT_US + 3_000}
