"""Two readers that are not the writer see in every MIDI file of the example show what the plan says."""

from __future__ import annotations

from functools import cached_property
from pathlib import Path

import pytest

from switchmatrix.compile.plan import LegPlan, SongPlan
from switchmatrix.emit.midi_files import song_files
from switchmatrix.pipeline import judge, plan
from tests.outside.expected_files import Run, as_written, event_of, files, landings, too_early
from tests.outside.smf_readers import MESSAGES, READERS, Reader, Smf, by_py_midicsv

LEGS = plan(judge(Path(__file__).parents[2] / "songs"))


class Case:
    """A song of a leg on one rig; its files are read once."""

    def __init__(self, leg: LegPlan, song: SongPlan) -> None:
        self.rig = leg.rig
        self.song = song
        self.id = f"{leg.leg.name}/{leg.rig.id}/{song.states.song.song.id}"

    @cached_property
    def written(self) -> dict[int, dict[str, bytes]]:
        """The files, by format and name."""
        return {format: song_files(self.rig, self.song, format) for format in (1, 0)}

    @cached_property
    def expected(self) -> dict[int, dict[str, Smf]]:
        """The files as they should be, by format and name."""
        return files(self.rig, self.song)

    @cached_property
    def runs(self) -> list[Run]:
        """The files as they were written: where each message stands."""
        return as_written(self.rig, self.song, self.written[0])


SONGS = [pytest.param(case, id=case.id) for case in (Case(leg, song) for leg in LEGS for song in leg.songs)]


def test_example_show_has_more_than_five_songs_in_two_legs_on_two_rigs_each() -> None:
    touring = [leg for leg in LEGS if leg.leg.name != "workshop"]
    assert [len(leg.songs) > 5 for leg in touring] == [True, True, True, True]


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("format", [1, 0])
@pytest.mark.parametrize("case", SONGS)
def test_reader_sees_every_event_of_the_plan_at_its_tick(case: Case, format: int, read: Reader) -> None:
    assert {name: read(data) for name, data in case.written[format].items()} == case.expected[format]


@pytest.mark.parametrize("case", SONGS)
def test_no_message_stands_before_its_moment(case: Case) -> None:
    assert [
        (tick, m)
        for run in case.runs
        for visit in run.as_sent
        for tick, m in visit.messages
        if run.clock.moment(tick) < run.clock.moment(visit.tick) + m.starts_us
    ] == []


# Rounding up costs less than a tick for each message that the port sends, and at most that much has
# piled up by the last message of a change.
@pytest.mark.parametrize("case", SONGS)
def test_message_is_late_by_less_than_a_tick_for_each_message_of_its_change_until_then(case: Case) -> None:
    assert [
        (tick, m)
        for run in case.runs
        for visit in run.visits
        for n, (tick, m) in enumerate(visit.messages, 1)
        if run.clock.moment(tick) >= run.clock.moment(visit.tick) + m.starts_us + n * run.longest_tick_us
    ] == []


# No change of the example show is still under way when the next visit comes.
@pytest.mark.parametrize("case", SONGS)
def test_first_byte_of_a_visit_stands_at_the_visits_tick(case: Case) -> None:
    visits = [visit for run in case.runs for visit in run.as_sent]
    assert [visit.messages[0][0] for visit in visits] == [visit.tick for visit in visits]


@pytest.mark.parametrize("case", SONGS)
def test_visit_that_lands_on_time_has_landed_at_its_tick(case: Case) -> None:
    landed = [(run, *one) for run in case.runs for one in landings(run)]
    assert [
        (visit.tick, float(at))
        for run, visit, at in landed
        if visit.on_time and visit.in_time and at > run.clock.moment(visit.tick)
    ] == []


def test_some_visits_of_the_example_show_land_on_time() -> None:
    visits = [visit for leg in LEGS for song in leg.songs for visit in song.visits if visit.messages]
    assert {visit.on_time for visit in visits} == {True, False}


@pytest.mark.parametrize("case", SONGS)
def test_messages_on_one_port_keep_their_order(case: Case) -> None:
    ports = [p.name for p in case.rig.ports if any(d.port == p.name for d in case.rig.devices)]
    plans = [[m for visit in case.song.visits for m in visit.messages]] if case.song.states.placed else []
    plans += [list(state.messages) for state in case.song.scenes]
    read = [by_py_midicsv(data).tracks[0] for data in case.written[0].values()]
    assert [[e[1:] for e in track if e[1] in MESSAGES] for track in read] == [
        [event_of(0, m)[1:] for m in messages if m.step.port == port] for messages in plans for port in ports
    ]


# 31,250 baud, so 320 microseconds a byte (MIDI 1.0 Detailed Specification 4.2.1, p. 1): where ticks put
# two messages nearer than that, the second waits in the port, and its device settles later for it.
@pytest.mark.parametrize("case", SONGS)
def test_file_played_out_on_its_wires_reaches_no_device_before_it_has_settled(case: Case) -> None:
    assert [early for run in case.runs for early in too_early(run)] == []
