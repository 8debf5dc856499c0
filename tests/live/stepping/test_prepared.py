"""A leg made ready: its stops in order, on rigs that do not have the same."""

from __future__ import annotations

import pytest

from switchmatrix.compile.known import all_in_doubt, nothing_known
from switchmatrix.live.stepping.moves import MOST_KEPT
from switchmatrix.live.stepping.prepared import SILENCE, Prepared, prepare
from switchmatrix.live.stepping.stops import HOME, Key
from tests.live.stepping.kit import (
    BRIDGE,
    CHANGEOVER,
    CHORUS,
    MARKET,
    MARKET_2,
    QUAY,
    SHOW,
    SPARE,
    VERSE,
    VERSE_2,
    ready,
    show_of,
)


def test_stops_are_walked_in_setlist_order_standing_items_in_their_place() -> None:
    assert [stop.key for stop in SHOW.stops] == [
        VERSE,
        CHORUS,
        VERSE_2,
        BRIDGE,
        CHANGEOVER,
        MARKET,
        QUAY,
        MARKET_2,
    ]


def test_scenes_without_visits_and_standing_scenes_stand_beside_the_walk() -> None:
    assert [stop.key for stop in SHOW.others] == [SILENCE, Key(0, "standing", "changeover", 1), SPARE]


def test_a_stop_has_its_place_remark_instrument_and_tuning() -> None:
    stop = SHOW.by_key[BRIDGE]
    assert (stop.label, stop.place, stop.tick, stop.remark, stop.instrument, stop.tuning) == (
        "Nine Lanterns: bridge",
        "bar 7",
        23_040,
        "hand over the mandola",
        "baritone",
        "B standard",
    )
    assert (stop.on_time, stop.number) == (True, 3)


def test_a_songs_own_tuning_beats_the_instruments() -> None:
    assert SHOW.by_key[QUAY].tuning == "low B"


def test_a_setlists_remark_beats_the_scenes() -> None:
    assert SHOW.by_key[CHANGEOVER].remark == "capo off"


def test_a_rig_lacks_the_stops_that_it_drops() -> None:
    lacking = [stop.key for stop in SHOW.stops if stop.key not in SHOW.rigs["b-rig"].states]
    assert lacking == [BRIDGE]


@pytest.mark.parametrize("rigs", [("a-rig", "b-rig"), ("b-rig", "a-rig")])
def test_the_walk_of_two_rigs_holds_what_either_has_in_the_songs_order(rigs: tuple[str, str]) -> None:
    walk = [stop.key.label for stop in ready(show_of(), rigs=rigs).stops]
    assert walk == ["verse", "chorus", "verse@2", "bridge", "changeover", "market", "quay", "market@2"]


def test_what_the_second_rig_alone_has_of_a_song_without_places_stands_where_its_order_puts_it() -> None:
    change = {
        "rigs/b-rig.yaml": (
            "changes: {lantern: {scenes: {bridge: {drop: yes}}}}",
            "changes: {bell: {scenes: {quay: {drop: yes}}}}",
        )
    }
    walk = ready(show_of(change), rigs=("b-rig", "a-rig")).stops
    assert [stop.key for stop in walk[-3:]] == [MARKET, QUAY, MARKET_2]


def test_an_unknown_rig_or_leg_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        prepare(show_of().worked_out, "tour", ("c-rig",))
    with pytest.raises(KeyError):
        prepare(show_of().worked_out, "detour", ("a-rig",))


def test_home_is_a_state_with_the_players_controls_in_it() -> None:
    files = {"rigs/a-rig.yaml": ("  reverb: room\n  mixer", "  reverb: room\n  wah: {sweep: 64}\n  mixer")}
    home = ready(show_of(files)).rigs["a-rig"].states[HOME]
    assert home.devices[6].wants == (64,)
    assert home.devices[6].held == {0}


def test_home_that_leaves_open_what_a_mute_holds_cannot_be_sent() -> None:
    home = ("mixer: {mute-all: off, in-1: 64}", "mixer: {in-1: 64}")
    songs = {
        "lantern.yaml": ("instrument: baritone", "instrument: baritone\nbase: {mixer.mute-all: off}"),
        "bell.yaml": ("tuning: low B", "tuning: low B\nbase: {mixer.mute-all: off}"),
        "rigs/a-rig.yaml": home,
    }
    rig = ready(show_of(songs)).rigs["a-rig"]
    assert HOME not in rig.states
    assert rig.no_home == "home gives `mixer.mute-all` no value, and a mute holds it"


def test_a_move_is_worked_out_once() -> None:
    rig = ready(show_of()).rigs["a-rig"]
    known = nothing_known(rig.rig)
    assert rig.moves.move(known, VERSE, rig.states[VERSE]) is rig.moves.move(known, VERSE, rig.states[VERSE])


def test_a_move_that_fires_is_not_taken_for_one_that_does_not() -> None:
    rig = SHOW.rigs["a-rig"]
    known, state, triggers = all_in_doubt(rig.rig), rig.states[CHORUS], rig.triggers[CHORUS]
    plain, fires = (rig.moves.move(known, CHORUS, state, t) for t in ((), triggers))
    assert len(fires.steps) == len(plain.steps) + 1


def test_no_more_moves_are_kept_than_can_be_needed() -> None:
    rig = ready(show_of()).rigs["a-rig"]
    known = all_in_doubt(rig.rig)
    for n in range(MOST_KEPT + 10):
        rig.moves.move(known, n, rig.states[VERSE])
    assert len(rig.moves._kept) == MOST_KEPT


def test_waits_are_longer_by_what_a_server_may_take_from_them() -> None:
    plain, longer = SHOW.rigs["a-rig"], ready_with(20_000)
    for_echo = []
    for rig in (plain, longer.rigs["a-rig"]):
        move = rig.moves.move(all_in_doubt(rig.rig), CHORUS, rig.states[CHORUS])
        echo = [m.starts_us for m in move.scheduled.messages if m.step.device == "echo"]
        for_echo.append(echo[1] - echo[0])
    assert for_echo[1] - for_echo[0] >= 20_000


def ready_with(extra_us: int) -> Prepared:
    """The show with every wait that much longer."""
    return prepare(show_of().worked_out, "tour", ("a-rig", "b-rig"), extra_us)
