"""MIDI clock: 24 a quarter note, exact over any length, and never in the way of a scene."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.compile.known import nothing_known
from switchmatrix.live.clock import CLOCK, Clock, beside, clear_of, clocked_ports, quarter_of
from switchmatrix.live.machine import Machine
from switchmatrix.live.records import MS, Due
from switchmatrix.live.sending import deliver
from tests.live.rigs import played, run_on, states_of

BENCH = run_on("bench")
BYTE_NS = 320_000


@pytest.mark.parametrize(
    ("bpm", "interval_ns"), [(60, 41_666_666), (120, 20_833_333), (137, 18_248_175), (174, 14_367_816)]
)
def test_clocks_lie_a_24th_of_a_quarter_note_apart(bpm: int, interval_ns: int) -> None:
    # MIDI 1.0 Detailed Specification 4.2.1, p. 30: 24 MIDI clocks per quarter note.
    clock = Clock(Fraction(60_000, bpm), 0)
    assert clock.between(0, 2 * interval_ns + 1)[1] == interval_ns


def test_clock_does_not_drift_over_an_hour() -> None:
    clock = Clock(Fraction(60_000, 137), 7)
    assert clock.moment(24 * 137 * 60) == 7 + 3_600_000 * MS


def test_clocks_asked_for_piece_by_piece_are_those_asked_for_at_once() -> None:
    clock = Clock(Fraction(60_000, 97), 1_000)
    pieces = [m for n in range(10) for m in clock.between(n * 100 * MS, (n + 1) * 100 * MS)]
    assert pieces == list(clock.between(0, 1_000 * MS))


def test_clock_that_would_be_on_the_wire_when_a_message_is_due_goes_after_it() -> None:
    due, ends = 1_000_000, 1_000_000 + 3 * BYTE_NS
    assert clear_of([due - BYTE_NS + 1], [(due, ends)], BYTE_NS) == (ends,)


def test_clock_that_is_off_the_wire_in_time_stays() -> None:
    due = 1_000_000
    assert clear_of([due - BYTE_NS], [(due, due + 3 * BYTE_NS)], BYTE_NS) == (due - BYTE_NS,)


def test_clock_goes_after_a_whole_run_of_messages() -> None:
    run = [(n * 3 * BYTE_NS, (n + 1) * 3 * BYTE_NS) for n in range(5)]
    assert clear_of([10], run, BYTE_NS) == (15 * BYTE_NS,)


spans = st.lists(st.tuples(st.integers(0, 50_000_000), st.integers(1, 5_000_000)), max_size=12).map(
    lambda given: [(start, start + length) for start, length in given]
)


@given(moments=st.lists(st.integers(0, 60_000_000), max_size=12).map(sorted), taken=spans)
def test_no_clock_is_lost_early_out_of_order_or_in_the_way(
    moments: list[int], taken: list[tuple[int, int]]
) -> None:
    out = clear_of(moments, taken, BYTE_NS)
    assert len(out) == len(moments)
    assert min((late - due for due, late in zip(moments, out, strict=True)), default=0) >= 0
    assert all(later - earlier >= BYTE_NS for earlier, later in pairwise(out))
    assert [at for at in out for begins, ends in taken if at < ends and begins < at + BYTE_NS] == []


def test_only_ports_with_a_device_that_wants_clock_get_it() -> None:
    assert (clocked_ports(BENCH.rig), clocked_ports(run_on("a-rig").rig)) == (("bench",), ())


def test_clock_beside_a_change_leaves_its_messages_their_moments() -> None:
    message = Due(41_666_600, bytes.fromhex("C5 10"))
    clocks = beside(BENCH.rig, Clock(Fraction(1000), 0), 0, 100 * MS, [("bench", message)])
    wire_ns = 2 * BYTE_NS
    assert clocks == {
        "bench": (Due(0, CLOCK), Due(message.moment_ns + wire_ns, CLOCK), Due(83_333_333, CLOCK))
    }


def test_message_on_another_port_moves_no_clock() -> None:
    message = Due(0, bytes.fromhex("C5 10"))
    clocks = beside(BENCH.rig, Clock(Fraction(1000), 0), 0, 10 * MS, [("shelf", message)])
    assert clocks == {"bench": (Due(0, CLOCK),)}


def test_tempo_of_a_visit_is_that_of_its_place() -> None:
    song = next(song for _, song in run_on("a-rig").songs if song.song.song.id == "nine-lanterns")
    visit = song.visits[0]
    assert quarter_of(song, visit.scene, visit) == Fraction(60_000, 96)


def test_clock_on_real_ports_changes_nothing_of_a_scene(jack: Machine) -> None:
    one = played(BENCH.rig, jack, extra_us=2_334)
    title, state = states_of(BENCH)[1]
    change = one.planner.change(nothing_known(BENCH.rig), title, state)
    clock = Fraction(500)

    def clocks(start: int) -> dict[str, tuple[Due, ...]]:
        planned = [(m.step.port, Due(start + m.starts_us * 1000, m.step.data)) for m in change.messages]
        return beside(BENCH.rig, Clock(clock, start), start, start + 1_000 * MS, planned)

    delivery = deliver(one.wires, change, lambda: False, clocks)
    one.box.work()
    came = one.taps["bench"].kept
    assert min(delivery.late_ns.values()) >= 0
    assert came.count(CLOCK) == 48
    assert [data for data in came if data != CLOCK] == [
        m.step.data for m in change.messages if m.step.port == "bench"
    ]
    assert CLOCK not in one.taps["shelf"].kept
