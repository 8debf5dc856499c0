"""Messages at ticks: what a player does with the file breaks no rule that the schedule keeps.

A player merges the tracks of a file, at one tick those of the first track first, and each port sends one
byte after another, 320 microseconds each (MIDI 1.0 Detailed Specification 4.2.1, p. 1).
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from switchmatrix.compile.plan import PlannedVisit, land
from switchmatrix.compile.schedule import Busy, Timed, schedule
from switchmatrix.compile.step import Role, Step
from switchmatrix.compile.ticks import Placed, scene_ticks, song_ticks
from switchmatrix.model.rig import Rig
from switchmatrix.states.state import State, Visit
from switchmatrix.states.timeline import TempoChange, Timeline
from tests.compile.cases import drawn, mute, rig_of, unit, with_devices
from tests.compile.drawn import Dice
from tests.compile.rules import broken, wire_us

TICK_US = 500


def steady(tick_us: int) -> Timeline:
    """One tempo, at which a tick lasts so many whole microseconds."""
    return Timeline((TempoChange(0, 0, tick_us * 960, Fraction(tick_us * 960, 1000)),), ())


def planned(tick: int, messages: tuple[Timed, ...], on_time: bool = False) -> PlannedVisit:
    """A visit at a tick, with its messages."""
    visit = Visit(1, "verse", 1, tick, "", None, None, State(()), ())
    return PlannedVisit(visit, messages, 0, 0, on_time)


def played(rig: Rig, placed: list[Placed], tick_us: int) -> list[Timed]:
    """The messages as a player's wires carry them: tracks merged, ports one byte after another."""
    track = {device.name: n for n, device in enumerate(rig.devices)}
    merged = sorted(placed, key=lambda one: (one[1], track[one[0].step.device]))
    free: dict[str, int] = {}
    out = []
    for message, tick in merged:
        step = message.step
        starts = max(tick * tick_us, free.get(step.port, 0))
        free[step.port] = starts + wire_us(rig, step)
        out.append(Timed(step, starts, free[step.port] + step.settle_us))
    return out


def ticks(rig: Rig, *steps: Step) -> list[tuple[str, int]]:
    """Each message's device and tick, where a tick lasts 500 microseconds."""
    sent = schedule(rig, steps).messages
    return [(m.step.device, tick) for m, tick in scene_ticks(rig, steady(TICK_US), sent)]


USB = with_devices(rig_of({"rack": "usb", "floor": "usb"}), "alder", "birch", "cedar")


def test_messages_of_one_moment_that_stand_in_the_order_of_the_tracks_stand_at_one_tick() -> None:
    assert ticks(USB, *unit("alder", 3), *unit("birch", 3), *unit("birch", 3), *unit("cedar", 3)) == [
        ("alder", 0),
        ("birch", 0),
        ("birch", 0),
        ("cedar", 0),
    ]


def test_a_message_whose_track_comes_before_takes_the_next_tick() -> None:
    steps = (*unit("cedar", 3, settle_us=9000), *unit("alder", 3, settle_us=1000), *unit("birch", 3))
    assert ticks(USB, *steps) == [("cedar", 0), ("alder", 1), ("birch", 1)]


def test_ports_have_orders_of_their_own() -> None:
    steps = (*unit("cedar", 3, settle_us=9000), *unit("alder", 3, port="floor"))
    assert ticks(USB, *steps) == [("cedar", 0), ("alder", 0)]


# Birch holds while alder moves. The player's merged tracks have alder's first at one tick.
def test_what_a_mute_covers_takes_the_next_tick_on_another_port_too() -> None:
    rig = with_devices(
        rig_of({"rack": "usb", "floor": "usb"}, (mute(["alder.mix"], ["birch.out"]),)), "alder", "birch"
    )
    steps = (
        *unit("birch", 3, port="floor", moves="out", role=Role.MUTE_ON),
        *unit("alder", 3),
        *unit("birch", 3, port="floor", moves="out", role=Role.MUTE_OFF),
    )
    assert ticks(rig, *steps) == [("birch", 0), ("alder", 1), ("birch", 1)]


DIN = with_devices(rig_of({"rack": "din"}), "alder", "birch", "cedar")


# Alder's two bytes are out at 640, tick 1.28; its settle of 1,400 is over at 2,040, tick 4.08.
def test_a_settle_is_rounded_up() -> None:
    steps = (*unit("alder", 2, settle_us=1400), *unit("alder", 3))
    assert ticks(DIN, *steps) == [("alder", 0), ("alder", 5)]


# Birch goes at 960, tick 1.92; at tick 2 it keeps the wire until 1,960. Cedar goes at 1,920, tick 3.84:
# at tick 4 the wire is free.
def test_rounding_makes_the_port_wait_and_not_the_file() -> None:
    assert ticks(DIN, *unit("alder", 3), *unit("birch", 3), *unit("cedar", 3)) == [
        ("alder", 0),
        ("birch", 2),
        ("cedar", 4),
    ]


def at_place(tick: int, *steps: Step, free: int = 0) -> PlannedVisit:
    """A visit that lands on time, none of it before `free`."""
    moment = tick * TICK_US
    sent = land(DIN, steps, moment, Busy(), free).messages
    return planned(
        tick, tuple(Timed(m.step, m.starts_us - moment, m.lands_us - moment) for m in sent), on_time=True
    )


# 640 and 1,400 and 960 are 3,000, six ticks. Sent at tick 94, the recall is over at 49,040, so the control
# goes at tick 99, out half a tick too late: so all goes a tick earlier.
def test_a_visit_that_rounding_would_make_late_begins_a_tick_earlier() -> None:
    visit = at_place(100, *unit("alder", 2, settle_us=1400), *unit("alder", 3))
    assert [m.starts_us for m in visit.messages] == [-3000, -960]
    assert [tick for _, tick in song_ticks(DIN, steady(TICK_US), [visit])] == [93, 98]


def test_a_visit_that_lands_on_time_as_it_is_is_left() -> None:
    visit = at_place(100, *unit("alder", 2, settle_us=360))
    assert [tick for _, tick in song_ticks(DIN, steady(TICK_US), [visit])] == [98]


def test_a_visit_at_the_songs_start_stays_there() -> None:
    visit = at_place(0, *unit("alder", 2, settle_us=1400), *unit("alder", 3))
    assert [tick for _, tick in song_ticks(DIN, steady(TICK_US), [visit])] == [0, 5]


def test_a_visit_is_not_brought_forward_past_the_place_of_the_one_before() -> None:
    steps = (*unit("alder", 2, settle_us=1400), *unit("alder", 3))
    visits = [planned(97, ()), at_place(100, *steps, free=97 * TICK_US)]
    assert [tick for _, tick in song_ticks(DIN, steady(TICK_US), visits)] == [97, 102]


@pytest.mark.parametrize("tick_us", [63, 500, 1042])
@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.binary(min_size=120, max_size=120), min_size=1, max_size=3),
    st.lists(st.integers(0, 120), min_size=3, max_size=3),
    st.lists(st.booleans(), min_size=3, max_size=3),
)
def test_a_file_played_out_breaks_no_rule(
    tick_us: int, data: list[bytes], after: list[int], on_time: list[bool]
) -> None:
    cases = [drawn(Dice(one), devices=4, most=10) for one in data]
    rig = with_devices(cases[0].rig, "alder", "birch", "cedar", "dogwood")
    visits, steps, busy, tick, free = [], list[Step](), Busy(), 0, 0
    for n, case in enumerate(cases):
        tick += after[n]
        here = tuple(replace(step) for step in case.steps)
        moment = tick * tick_us
        lands = on_time[n]
        timed = land(rig, here, moment, busy, free) if lands else schedule(rig, here, moment, busy)
        sent = tuple(Timed(m.step, m.starts_us - moment, m.lands_us - moment) for m in timed.messages)
        visits.append(planned(tick, sent, lands))
        busy, free = timed.busy, max([free, moment, *(m.starts_us for m in timed.messages)])
        steps += here
    wires = played(rig, song_ticks(rig, steady(tick_us), visits), tick_us)
    assert broken(rig, steps, wires) == []
