"""A rig made of software: it acts on what it hears, says who it is, and is as broken as it is told to be."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.compile.known import nothing_known
from switchmatrix.live.identity import REQUEST, Reply, read_reply
from switchmatrix.live.loop import Loop
from switchmatrix.live.records import MS, Due
from switchmatrix.live.sending import deliver
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stand_in.table import row, table
from switchmatrix.simulate.standing import UNKNOWN
from tests.live.rigs import Played, played, run_on, states_of

BENCH = run_on("bench")
A_RIG = run_on("a-rig")


def replies(one: Played, port: str, ms: int = 100) -> list[tuple[float, Reply | None]]:
    """What comes back on a port that is asked who is there, with the milliseconds that it takes."""
    start = one.wires.transport.now_ns()
    one.wires.hand({port: [Due(start, REQUEST)]})
    while one.wires.transport.now_ns() < start + ms * MS:
        one.wires.wait(start + ms * MS)
    return [((came.moment_ns - start) / MS, read_reply(came.data)) for came in one.wires.heard()[port]]


def identity(name: str, rig: str = "bench") -> Reply:
    """What a device answers as its definition says, ids as the rig has them."""
    device = run_on(rig).rig.device(name)
    assert device is not None
    assert device.definition.identity is not None
    who = device.definition.identity
    return Reply(device.id or 0, replace(who, version=who.version or (0, 0, 0, 0)))


def test_device_answers_as_its_definition_says() -> None:
    assert replies(played(BENCH.rig, Loop()), "shelf") == [(2.0, identity("acoustic"))]


def test_gang_answers_once_a_box() -> None:
    assert replies(played(BENCH.rig, Loop()), "bench") == [(2.0, identity("reverb"))] * 2


def test_dead_device_says_nothing() -> None:
    assert replies(played(BENCH.rig, Loop(), Faults(silent=frozenset(["acoustic"]))), "shelf") == []


def test_slow_device_answers_so_much_later() -> None:
    one = played(BENCH.rig, Loop(), Faults(slow_ms={"acoustic": 40}))
    assert replies(one, "shelf") == [(42.0, identity("acoustic"))]


def test_device_of_another_version_differs_in_its_version_alone() -> None:
    one = played(BENCH.rig, Loop(), Faults(wrong_version=frozenset(["acoustic"])))
    right = identity("acoustic")
    wrong = replace(right, identity=replace(right.identity, version=(0, 0, 1, 1)))
    assert replies(one, "shelf") == [(2.0, wrong)]


def test_what_hangs_behind_a_dead_device_hears_nothing() -> None:
    one = played(BENCH.rig, Loop(), Faults(silent=frozenset(["acoustic"])))
    title, state = states_of(BENCH)[0]
    deliver(one.wires, one.planner.change(nothing_known(BENCH.rig), title, state), lambda: False)
    heard = {name for name in ("acoustic", "filter", "pedal", "board") if _has_heard(one, name)}
    assert heard == {"board"}


def _has_heard(one: Played, name: str) -> bool:
    return any(standing is not UNKNOWN for standing in one.box.now[name].controls)


def test_lost_messages_are_every_nth() -> None:
    one = played(A_RIG.rig, Loop(), Faults(drop=5))
    count = 20
    one.wires.hand({"rack": [Due(n * MS, bytes([0xB8, 0x14, n])) for n in range(count)]})
    one.wires.run(lambda: False)
    assert one.box.heard == 16


def test_toggle_stands_as_it_powers_up() -> None:
    assert row(played(BENCH.rig, Loop()).box, "amp") == "stand-in: amp  lead on, boost off, reverb unknown"


def test_every_line_of_the_table_says_that_it_is_a_stand_in() -> None:
    lines = table(played(A_RIG.rig, Loop()).box)
    assert len(lines) == len(A_RIG.rig.devices)
    assert [line for line in lines if not line.startswith("stand-in: ")] == []
