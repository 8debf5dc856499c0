"""The screen driven by keys, at the two sizes it is made for."""

from __future__ import annotations

import asyncio
import os
import signal
from collections.abc import Awaitable, Callable
from pathlib import Path

import pytest
from textual.pilot import Pilot

from switchmatrix.live.rehearsing.session import Rehearsal
from switchmatrix.live.stepping.inputs import Doubt, Input, Reloaded, ReloadRefused
from switchmatrix.live.stepping.prepared import SILENCE
from switchmatrix.live.stepping.stops import HOME
from switchmatrix.screens.rehearse.app import RehearsalApp
from tests.live.stepping.kit import BRIDGE, CHORUS, MARKET, QUAY, VERSE, VERSE_2, ready, show_of
from tests.screens.kit import LARGE, SMALL, TWO_RIGS, Room, band, room, shown, until
from tests.support import judged

Act = Callable[[RehearsalApp, Pilot[None]], Awaitable[None]]


def play(app: RehearsalApp, act: Act, size: tuple[int, int] = SMALL) -> None:
    """The screen, and a person at it."""

    async def main() -> None:
        async with app.run_test(size=size) as pilot:
            await act(app, pilot)

    asyncio.run(main())


def through(rehearsal: Rehearsal, id: str = "a-rig") -> Callable[[], bool]:
    """Whether all that was sent has gone out."""
    return lambda: not rehearsal.state.rig(id).pending


def test_nothing_is_sent_before_a_person_has_said_yes(tmp_path: Path) -> None:
    with room(tmp_path) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press("n", "n", "f", "s")
            assert "A rig is held back: nothing has been sent yet" in shown(app)
            assert shown(app)[-3] == "y: yes, they are."
            assert one.boxes["a-rig"].heard == 0
            await pilot.press("y")
            await until(pilot, through(one.rehearsal))

        play(one.app(), act)
        assert one.boxes["a-rig"].heard > 0


def test_keys_step_on_and_back(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:
        stood = []

        async def act(_app: RehearsalApp, pilot: Pilot[None]) -> None:
            for key in ("n", "pagedown", "b", "pageup"):
                await pilot.press(key)
                stood.append(one.rehearsal.state.at)

        play(one.app(), act)
    assert stood == [CHORUS, VERSE_2, CHORUS, VERSE]


def test_space_and_enter_do_nothing(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(_app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press("space", "enter", "escape", "tab")

        before = one.rehearsal.steps
        play(one.app(), act)
        assert (one.rehearsal.state.at, one.rehearsal.state.sends) == (VERSE, 1)
        assert one.rehearsal.steps - before <= 1


@pytest.mark.parametrize("size", [SMALL, LARGE])
def test_bands_say_where_we_are_what_changed_and_what_comes(tmp_path: Path, size: tuple[int, int]) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await until(pilot, through(one.rehearsal))
            await pilot.press("n")
            await until(pilot, through(one.rehearsal))
            await pilot.pause(0.1)
            rows = shown(app)
            assert rows[0] == "stand-in: no rig"
            assert rows[1] == "HERE  Nine Lanterns, bar 3, scene 2 of 8"
            tall = [n for n, row in enumerate(rows) if "█" in row]
            assert len(tall) >= (3 if size == SMALL else 5)
            assert band(app, "CHANGED")[:2] == ["echo: slap to cliff", "echo.engage: off to on"]
            assert "fires sampler.bell" in rows
            assert band(app, "THEN") == [
                "next: verse@2, bar 5",
                "next song: Harbour Bell, on baritone tuned low B",
            ]
            assert band(app, "WIRE")[1] == "rack open, floor open"

        play(one.app(), act, size)


def test_next_song_on_another_instrument_says_what_to_hand_over(tmp_path: Path) -> None:
    show = ready(
        show_of(
            {
                "bell.yaml": ("instrument: baritone\ntuning: low B", "instrument: mandola"),
                "rigs/a-rig.yaml": (
                    "instruments: {baritone: {tuning: B standard}}",
                    "instruments: {baritone: {tuning: B standard}, mandola: {tuning: C G D A}}",
                ),
            }
        ),
        rigs=["a-rig"],
    )
    with room(tmp_path, show, said=True, at=BRIDGE) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.pause(0.1)
            assert band(app, "THEN") == [
                "next: changeover, capo off",
                "next song: Harbour Bell, on mandola tuned C G D A",
                "hand over: mandola",
            ]
            assert "hand over the mandola" in shown(app)

        play(one.app(), act)


def test_search_goes_to_what_was_chosen(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press("slash", *"quay")
            await pilot.pause(0.1)
            assert "Harbour Bell: quay" in shown(app)
            await pilot.press("enter")
            assert (one.rehearsal.state.at, app.typing) == (QUAY, None)

        play(one.app(), act)


def test_escape_leaves_a_search_and_goes_nowhere(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press("slash", *"quay", "escape", "n")
            assert (one.rehearsal.state.at, app.typing) == (CHORUS, None)

        play(one.app(), act)


def test_arrow_keys_choose_among_what_was_found(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(_app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press("slash", *"verse", "down", "enter")

        play(one.app(), act)
    assert one.rehearsal.state.at == VERSE_2


def test_peek_looks_ahead_and_sends_nothing(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await until(pilot, through(one.rehearsal))
            heard = one.boxes["a-rig"].heard
            await pilot.press("p", "p")
            await pilot.pause(0.1)
            assert shown(app)[1] == "HERE  looking ahead, nothing is sent: scene 3 of 8, Nine Lanterns, bar 5"
            assert band(app, "CHANGED")[0] == "echo: cliff to slap"
            await pilot.press("P")
            assert one.rehearsal.state.looked_at.key == CHORUS
            await pilot.press("escape")
            assert (one.rehearsal.state.looked_at.key, one.boxes["a-rig"].heard) == (VERSE, heard)

        play(one.app(), act)


def test_home_is_sent_only_after_a_yes(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press("h")
            await pilot.pause(0.1)
            assert "Bring A rig to the home state? The player's controls move too." in shown(app)
            await pilot.press("n")
            assert (one.rehearsal.state.rig("a-rig").inside, one.rehearsal.state.at) == (VERSE, VERSE)
            await pilot.press("h", "y")
            assert one.rehearsal.state.rig("a-rig").inside == HOME

        play(one.app(), act)


def test_silence_goes_ahead_and_the_screen_says_where_the_rig_is(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press("s")
            await until(pilot, through(one.rehearsal))
            await pilot.pause(0.1)
            assert one.rehearsal.state.rig("a-rig").inside == SILENCE
            assert "A rig is in silence" in shown(app)
            assert not any(row.startswith("CHANGED") for row in shown(app))

        play(one.app(), act)


def test_full_send_takes_nothing_for_known(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await until(pilot, through(one.rehearsal))
            await pilot.press("f")
            await until(pilot, through(one.rehearsal))
            await pilot.pause(0.1)
            assert "in full" in band(app, "WIRE")[0]
            assert one.rehearsal.last["a-rig"].messages > 10

        play(one.app(), act)


def test_remark_is_kept_beside_the_log_and_shown_where_it_belongs(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press("r", *"too", "space", *"loud", "escape", "enter")
            await pilot.pause(0.1)
            assert "remark: too loud" in shown(app)

        play(one.app(), act)
    kept = (tmp_path / "log" / "tour-remarks.jsonl").read_text(encoding="utf-8")
    assert '"remark":"too loud"' in kept


def test_device_is_taken_out_and_brought_back(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press("x", *"echo", "enter")
            await pilot.pause(0.1)
            assert one.rehearsal.state.rig("a-rig").out == {"echo"}
            assert "without echo: slap, engage off" in shown(app)
            await pilot.press("x", "enter")
            assert one.rehearsal.state.rig("a-rig").out == frozenset()

        play(one.app(), act)


def test_rigs_are_driven_one_the_other_or_both(tmp_path: Path) -> None:
    with room(tmp_path, TWO_RIGS, said=True) as one:
        driven = []

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            for key in ("B", "T", "A"):
                await pilot.press(key)
                driven.append(one.rehearsal.state.driven)
            await pilot.pause(0.1)
            assert "drive: A A rig, B B rig, T all together" in shown(app)

        play(one.app(), act)
    assert driven == [("b-rig",), ("a-rig", "b-rig"), ("a-rig",)]


def test_pages_show_devices_and_setlist_and_steps_go_on(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press("d")
            assert shown(app)[1] == "DEVICES  A rig, in Nine Lanterns: verse"
            assert "echo: slap, engage off" in shown(app)
            await pilot.press("l", "n")
            await pilot.pause(0.1)
            assert "   here: chorus, bar 3" in shown(app)
            await pilot.press("pagedown", "pageup", "down", "up")
            assert one.rehearsal.state.at == CHORUS
            await pilot.press("l")
            assert shown(app)[1].startswith("HERE")

        play(one.app(), act)


def test_what_somebody_else_has_moved_is_in_doubt_until_it_is_sent(tmp_path: Path) -> None:
    moved = Doubt("a-rig", "echo", frozenset({"mix"}), patch=False, bank=False)
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await until(pilot, through(one.rehearsal))
            app.do(moved)
            await pilot.pause(0.1)
            assert band(app, "WIRE")[1] == "A rig, in doubt: echo"
            await pilot.press("d")
            assert "echo: slap, engage off, in doubt: mix" in shown(app)
            await pilot.press("d", "f")
            await until(pilot, through(one.rehearsal))
            # What can only be flipped is sent to nobody then: a person sets it.
            await until(pilot, lambda: "A rig: set amp.lead on by hand" in shown(app))
            await pilot.press("o")
            await until(pilot, lambda: band(app, "WIRE")[1] == "rack open, floor open")

        play(one.app(), act)


def test_reload_with_an_error_is_refused_with_its_findings(tmp_path: Path) -> None:
    broken = judged({"songs/none.yaml": "", "show.yaml": "show: 1\nrigs: [none]\n"})
    assert not broken.sound
    said: list[Input | str | None] = [ReloadRefused(tuple(broken.found))]

    async def changes() -> Input | str | None:
        await asyncio.sleep(0.05)
        return said.pop() if said else None

    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await until(pilot, lambda: any("the running show goes on" in row for row in shown(app)))
            assert any("error missing" in row or "error " in row for row in shown(app))
            await pilot.press("n")
            assert one.rehearsal.state.at == CHORUS

        play(one.app(changes), act, LARGE)


def test_reload_of_a_sound_show_takes_over_where_we_stand(tmp_path: Path) -> None:
    newer = ready(show_of({"bell.yaml": ("song: Harbour Bell", "song: Harbour Bells")}), rigs=["a-rig"])
    said: list[Input | str | None] = [Reloaded(newer)]

    async def changes() -> Input | str | None:
        await asyncio.sleep(0.05)
        return said.pop() if said else None

    with room(tmp_path, said=True, at=MARKET) as one:

        async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
            await until(pilot, lambda: shown(app)[1].startswith("HERE  Harbour Bells"))
            assert one.rehearsal.state.at == MARKET

        play(one.app(changes), act)


def lost_and_back(one: Room) -> Act:
    """Ports go and come back; a person says so; the rig is right again."""

    async def act(app: RehearsalApp, pilot: Pilot[None]) -> None:
        await until(pilot, through(one.rehearsal))
        one.cut()
        await until(pilot, lambda: any("lost" in row for row in band(app, "WIRE")))
        assert "A rig is held back: something went wrong" in shown(app)
        await pilot.press("n")
        assert one.rehearsal.state.rig("a-rig").pending == ()
        one.there = True
        await until(pilot, lambda: "rack open, floor open" in band(app, "WIRE"))
        assert one.boxes["a-rig"].heard == 0
        await pilot.press("y")
        await until(pilot, through(one.rehearsal))
        assert one.rehearsal.state.rig("a-rig").inside == CHORUS

    return act


@pytest.mark.parametrize("size", [SMALL, LARGE])
def test_port_that_is_lost_is_told_and_comes_back(tmp_path: Path, size: tuple[int, int]) -> None:
    with room(tmp_path, said=True) as one:
        play(one.app(), lost_and_back(one), size)


@pytest.mark.parametrize("key", ["q", "ctrl+c", "ctrl+q"])
def test_q_leaves_and_the_log_says_so(tmp_path: Path, key: str) -> None:
    with room(tmp_path, said=True) as one:

        async def act(_app: RehearsalApp, pilot: Pilot[None]) -> None:
            await pilot.press(key)

        play(one.app(), act)
        assert one.rehearsal.left
    assert '"event":"left"' in (tmp_path / "log" / "tour.jsonl").read_text(encoding="utf-8")


def test_terminal_that_is_closed_leaves_as_q_does(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(_app: RehearsalApp, pilot: Pilot[None]) -> None:
            os.kill(os.getpid(), signal.SIGHUP)
            await until(pilot, lambda: one.rehearsal.left)

        play(one.app(), act)
    assert '"event":"left"' in (tmp_path / "log" / "tour.jsonl").read_text(encoding="utf-8")


def test_real_rig_is_not_marked(tmp_path: Path) -> None:
    with room(tmp_path, said=True) as one:

        async def act(app: RehearsalApp, _pilot: Pilot[None]) -> None:
            assert shown(app)[0].startswith("HERE")

        play(one.app(mark=None), act)
