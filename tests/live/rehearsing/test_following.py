"""Running time followed from one port at a time, with the cues of where we stand."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.live.rehearsing.following import OTHER_US, Following, Kind, kind_of
from switchmatrix.live.stepping import core
from switchmatrix.live.stepping.inputs import Drive, Jump, Located, Reached, Reloaded
from switchmatrix.live.stepping.mtc import Followed
from switchmatrix.live.stepping.state import Stepping
from switchmatrix.live.stepping.stops import Key
from switchmatrix.midi.timecode import RATES
from switchmatrix.simulate.stream import heard
from tests.live.stepping.code import quarter_frames
from tests.live.stepping.kit import BRIDGE, CHORUS, MARKET, SHOW, VERSE, ready, show_of

RACK, FLOOR = ("a-rig", "rack"), ("a-rig", "floor")
PAL = RATES["25"]
HOUR = 3_600 * 25

TWICE = ready(
    show_of({"show.yaml": ("remark: capo off}, bell]", "remark: capo off}, bell, lantern]")}),
)
"""A setlist with the same song, and so the same start, as its first entry and its fourth."""

AGAIN = Key(4, "lantern", "verse", 1)
LATER = ready(show_of({"lantern.yaml": ("start: 1:00:00:00", "start: 1:00:02:00")}))


def state() -> Stepping:
    """A rehearsal that has just begun."""
    return core.start(SHOW)[0]


def following(kind: Kind = Kind.TIME_CODE, at: Stepping | None = None) -> Following:
    """A follower with the cues of the show."""
    one = Following(kind)
    one.prepare(at or state())
    return one


def listen(
    one: Following, frame: int, seconds: float, at_us: int = 0, source: tuple[str, str] = RACK
) -> list[Followed]:
    """What comes of time code from a frame on."""
    found: list[Followed] = []
    for moment, data in quarter_frames(PAL, frame, seconds, at_us):
        for event in heard(data):
            found += one.pass_by(moment)
            found += one.hear(source, event, moment)
    return found


def test_running_time_is_told_apart_from_all_else() -> None:
    datas = (
        "F1 00",
        "F0 7F 7F 01 01 21 00 00 00 F7",
        "F8",
        "FA",
        "FB",
        "FC",
        "F2 00 00",
        "B0 07 01",
        "F0 7F 7F 06 02 F7",
    )
    kinds = [kind_of(event) for data in datas for event in heard(bytes.fromhex(data))]
    code, clock = Kind.TIME_CODE, Kind.CLOCK
    assert kinds == [code, code, clock, clock, clock, clock, clock, None, None]


def test_time_code_that_runs_locates_and_then_reaches() -> None:
    # Bar 3 at 120 a minute is 4 seconds after the song's start.
    found = listen(following(), HOUR + 3 * 25, 1.5)
    assert [one for one in found if isinstance(one, Located | Reached)] == [Located(VERSE), Reached(CHORUS)]


def test_second_source_is_not_heard_while_the_first_runs() -> None:
    one = following()
    first = listen(one, HOUR + 25, 0.5)
    event = heard(bytes.fromhex("F1 00"))[0]
    steady = one.steady
    assert one.hear(FLOOR, event, 500_000) == ()
    assert (steady, one.steady, one._source) == (True, True, RACK)
    assert [found for found in first if isinstance(found, Located)] == [Located(VERSE)]


def test_second_source_is_heard_once_the_first_has_been_silent_for_long() -> None:
    one = following()
    listen(one, HOUR, 0.5)
    found = listen(one, HOUR + 60 * 25, 0.5, at_us=500_000 + OTHER_US, source=FLOOR)
    assert (one._source, [f for f in found if isinstance(f, Located)]) == (FLOOR, [Located(BRIDGE)])


def test_clock_is_nothing_to_who_follows_time_code() -> None:
    one = following()
    assert (one.hear(FLOOR, heard(b"\xf8")[0], 0), one._source) == ((), None)


def test_what_is_followed_runs_on_when_we_stand_elsewhere() -> None:
    one = following()
    listen(one, HOUR, 0.5)
    one.prepare(core.step(state(), Jump(MARKET))[0])
    assert one.steady


def test_where_two_songs_start_at_one_place_the_one_where_we_stand_is_followed() -> None:
    begun = core.start(TWICE)[0]
    one = following(at=begun)
    one.prepare(core.step(begun, Jump(AGAIN))[0])
    found = listen(one, HOUR + 25, 0.5)
    assert [f for f in found if isinstance(f, Located)] == [Located(AGAIN)]


def test_cues_are_those_of_the_show_that_was_read_last() -> None:
    one = following()
    reloaded = core.step(state(), Reloaded(LATER))[0]
    assert reloaded.show is LATER
    one.prepare(reloaded)
    found = listen(one, HOUR + 3 * 25, 1.5)
    assert [f for f in found if isinstance(f, Located | Reached)] == [Located(VERSE)]


def test_cues_are_worked_out_anew_for_other_rigs() -> None:
    one = following()
    before = one._for
    one.prepare(core.step(state(), Drive(("b-rig",)))[0])
    assert before is not None
    assert one._for == replace(before, driven=("b-rig",))


def test_clock_is_followed_in_the_song_where_we_stand() -> None:
    one = following(Kind.CLOCK)
    events = [event for data in (b"\xf2\x00\x00", b"\xfa", *[b"\xf8"] * 50) for event in heard(data)]
    found: list[Followed] = []
    for n, event in enumerate(events):
        found += one.hear(RACK, event, n * 20_833)
    assert [f for f in found if isinstance(f, Located | Reached)] == [Reached(VERSE)]
    assert (one.steady, one.said()) == (True, "following MIDI clock")


def test_where_it_is_is_said_in_words() -> None:
    one = following()
    before = one.said()
    listen(one, HOUR, 0.5)
    assert before == "waiting for time code"
    assert one.said() == "following time code, 1:00:00:10 at 25 frames"


def test_time_is_wanted_when_the_next_cue_is_due() -> None:
    one = following()
    before = one.due_us()
    listen(one, HOUR + 3 * 25, 0.5)
    due = one.due_us()
    assert before is None
    assert due is not None
    assert due >= 480_000
