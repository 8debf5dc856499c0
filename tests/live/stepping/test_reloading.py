"""The show's files change while it is rehearsed."""

from __future__ import annotations

import pytest

from switchmatrix.live.stepping.actions import Say, Send
from switchmatrix.live.stepping.inputs import Done, Jump, Next, OutputsMuted, Reloaded, ReloadRefused
from tests.live.stepping.kit import CHORUS, MARKET_2, SHOW, VERSE, Rehearsal, hexed, ready, running, show_of


def told(actions: tuple[object, ...]) -> list[str]:
    """What a person is told."""
    return [one.text for one in actions if isinstance(one, Say)]


def test_a_show_with_errors_is_refused_and_the_running_one_goes_on() -> None:
    broken = show_of({"lantern.yaml": ("wah.sweep: 40", "wah.sweap: 40")})
    rehearsal = running()
    assert told(rehearsal.take(ReloadRefused(tuple(broken.found)))) == [
        "the files have 1 error: the running show goes on",
        "lantern.yaml:12:5: error unknown-name: `wah` has no control `sweap`",
    ]
    assert rehearsal.state.show is SHOW
    rehearsal.take(Next())
    rehearsal.finish()
    assert rehearsal.wrong() == []


def test_a_reload_sends_nothing_and_says_that_the_scene_is_not_as_it_was() -> None:
    rehearsal = running(at=CHORUS)
    actions = rehearsal.take(Reloaded(ready(show_of({"lantern.yaml": ("time: 700", "time: 701")}))))
    assert [one for one in actions if isinstance(one, Send)] == []
    assert told(actions) == [
        "the show's files were read again",
        "Nine Lanterns: chorus is not as it was: go there again to hear it",
    ]


def test_after_a_reload_going_there_again_sends_what_has_changed_and_fires_nothing() -> None:
    rehearsal = running(at=CHORUS)
    rehearsal.take(Reloaded(ready(show_of({"lantern.yaml": ("time: 700", "time: 701")}))))
    assert hexed(rehearsal.take(Jump(CHORUS))) == [
        "a-rig echo B0 2C 3D",
        "a-rig sampler B3 1F 7F",
        "a-rig wah B6 0B 28",
    ]


def test_a_reload_waits_until_what_is_under_way_is_over() -> None:
    rehearsal = Rehearsal(SHOW)
    rehearsal.take(OutputsMuted())
    other = ready(show_of())
    rehearsal.take(Reloaded(other))
    assert rehearsal.state.show is SHOW
    rehearsal.take(Done("a-rig", 1))
    assert rehearsal.state.show is other


def test_a_device_that_is_written_otherwise_is_in_doubt_and_no_other() -> None:
    rehearsal = running()
    before = rehearsal.state.rig("a-rig").known
    change = {"rigs/a-rig.yaml": ("room: 1, cave: 200", "room: 2, cave: 200")}
    rehearsal.take(Reloaded(ready(show_of(change))))
    known = rehearsal.state.rig("a-rig").known
    assert [n for n, one in enumerate(known.devices) if one != before.devices[n]] == [4]
    rehearsal.take(Next())
    rehearsal.finish()
    assert rehearsal.wrong() == []


@pytest.mark.parametrize(
    ("setlist", "expected"),
    [
        ("[bell, lantern]", (1, "bell", "market", 2)),
        ("[bell, lantern, bell]", (3, "bell", "market", 2)),
        ("[lantern]", (1, "lantern", "bridge", 1)),
    ],
)
def test_we_stand_at_the_same_song_and_scene_else_at_the_same_place(
    setlist: str, expected: tuple[int, str, str, int]
) -> None:
    rehearsal = running(at=MARKET_2)
    old = "[lantern, {standing: changeover, remark: capo off}, bell]"
    rehearsal.take(Reloaded(ready(show_of({"show.yaml": (old, setlist)}))))
    assert rehearsal.state.at == expected


def test_a_stop_that_is_gone_is_said() -> None:
    rehearsal = running(at=MARKET_2)
    old = "[lantern, {standing: changeover, remark: capo off}, bell]"
    actions = rehearsal.take(Reloaded(ready(show_of({"show.yaml": (old, "[lantern]")}))))
    assert told(actions) == [
        "the show's files were read again",
        "Harbour Bell: market@2 is no longer there: we stand at Nine Lanterns: bridge",
    ]


def test_a_show_that_has_lost_a_rig_is_refused() -> None:
    rehearsal = running()
    actions = rehearsal.take(Reloaded(ready(show_of(), rigs=("a-rig",))))
    assert rehearsal.state.show is SHOW
    assert told(actions) == [
        "the show has lost a rig that is rehearsed, or all its scenes: the running show goes on"
    ]


def test_a_reload_before_anything_was_sent_keeps_the_gate() -> None:
    rehearsal = Rehearsal(SHOW)
    rehearsal.take(Reloaded(ready(show_of())))
    assert rehearsal.state.held_back() == ("a-rig",)
    rehearsal.take(OutputsMuted())
    rehearsal.finish()
    assert (rehearsal.state.at, rehearsal.wrong()) == (VERSE, [])
