"""Stepping: what is sent when, what fires, what stands before it all."""

from __future__ import annotations

from itertools import pairwise

import pytest

from switchmatrix.live.stepping import core
from switchmatrix.live.stepping.actions import Ask, DropQueue, KeepRemark, Leave, Say, Send
from switchmatrix.live.stepping.gate import CAUTION, MUTED, Gate, Question
from switchmatrix.live.stepping.inputs import (
    Again,
    Back,
    BringBack,
    Doubt,
    Drive,
    Fire,
    Home,
    HomeYes,
    Jump,
    JumpToScene,
    LeavePeek,
    Located,
    Next,
    No,
    OutputsMuted,
    Peek,
    Pin,
    PortBack,
    PortLost,
    Quit,
    Reached,
    SendFailed,
    SetByHand,
    Silence,
    TakeOut,
)
from switchmatrix.live.stepping.log import Resumed
from switchmatrix.live.stepping.prepared import SILENCE
from switchmatrix.live.stepping.state import Options
from switchmatrix.live.stepping.stops import HOME, Key
from tests.live.stepping.kit import (
    BRIDGE,
    CHANGEOVER,
    CHORUS,
    FILES,
    MARKET,
    MARKET_2,
    QUAY,
    SHOW,
    SPARE,
    VERSE,
    VERSE_2,
    Rehearsal,
    hexed,
    ready,
    running,
    show_of,
)


def sends(actions: tuple[object, ...]) -> list[tuple[str, Key, bool]]:
    """Each send: its rig, where to, and whether nothing was taken for known."""
    return [(one.rig, one.key, one.whole) for one in actions if isinstance(one, Send)]


def told(actions: tuple[object, ...]) -> list[str]:
    """What a person is told."""
    return [one.text for one in actions if isinstance(one, Say)]


# The gate: a person speaks before the first live byte, on resuming, and after a fault.


def test_nothing_is_sent_before_a_person_has_spoken() -> None:
    state, first = core.start(SHOW)
    state, on = core.step(state, Next())
    state, whole = core.step(state, Again())
    state, silence = core.step(state, Silence())
    assert sends((*first, *on, *whole, *silence)) == []
    assert state.held_back() == ("a-rig",)


def test_the_gate_names_what_is_set_by_hand_and_asks_for_muted_outputs() -> None:
    _, actions = core.start(SHOW)
    words = (
        "A rig: nothing has been sent yet.\nSet by hand: amp.lead off.\nSet by hand: amp.boost on.\n"
        f"{CAUTION}\n{MUTED}"
    )
    assert [one for one in actions if isinstance(one, Ask)] == [Ask(Question.MUTED, words)]


def test_a_person_has_spoken_and_where_we_stand_is_sent_in_full() -> None:
    rehearsal = Rehearsal(SHOW)
    assert sends(rehearsal.take(OutputsMuted())) == [("a-rig", VERSE, True)]
    rehearsal.finish()
    assert rehearsal.wrong() == []


def test_spoken_in_advance_the_first_stop_is_sent_at_the_start() -> None:
    _, actions = core.start(SHOW, Options(said=True), at=CHORUS)
    assert sends(actions) == [("a-rig", CHORUS, True)]


def test_no_means_that_nothing_is_sent_until_something_is_wanted_again() -> None:
    state, _ = core.start(SHOW)
    state, no = core.step(state, No())
    assert (sends(no), state.asking, state.held_back()) == ([], None, ("a-rig",))
    state, on = core.step(state, Next())
    assert (sends(on), state.asking) == ([], Question.MUTED)


def test_what_was_stepped_to_at_the_gate_is_sent_and_fires_nothing() -> None:
    rehearsal = Rehearsal(SHOW)
    rehearsal.take(Next())
    assert sends(rehearsal.take(OutputsMuted())) == [("a-rig", CHORUS, True)]
    rehearsal.finish()
    assert (rehearsal.wrong(), rehearsal.fired()) == ([], 0)


def test_who_asks_for_more_at_the_gate_is_told_that_the_rig_is_held_back() -> None:
    rehearsal = Rehearsal(SHOW)
    held = "A rig is held back: it is sent nothing until outputs are muted and people told"
    assert [told(rehearsal.take(one)) for one in (Again(), Silence(), Next())] == [[held], [held], []]
    rehearsal.take(OutputsMuted())
    assert held not in told(rehearsal.take(Again()))


def test_a_second_rig_has_a_gate_of_its_own() -> None:
    rehearsal = running()
    assert sends(rehearsal.take(Drive(("a-rig", "b-rig")))) == []
    assert rehearsal.state.held_back() == ("b-rig",)
    assert sends(rehearsal.take(Next())) == [("a-rig", CHORUS, False)]
    assert sends(rehearsal.take(OutputsMuted())) == [("b-rig", CHORUS, True)]


def test_spoken_in_advance_goes_for_a_second_rig_too() -> None:
    rehearsal = running(Options(said=True))
    assert sends(rehearsal.take(Drive(("a-rig", "b-rig")))) == [("b-rig", VERSE, True)]


# Steps, and what fires.


def test_a_step_sends_what_differs_and_then_fires() -> None:
    assert hexed(running().take(Next())) == [
        "a-rig mixer B5 5A 7F",
        "a-rig wah B6 0B 28",
        "a-rig amp B1 5A 7F",
        "a-rig amp B1 5A 00",
        "a-rig sampler B3 1F 7F",
        "a-rig echo C0 10",
        "a-rig echo B0 50 7F",
        "a-rig echo B0 0C 05",
        "a-rig echo B0 2C 3C",
        "a-rig mixer B5 5A 00",
        "a-rig sampler B3 21 7F",
    ]


@pytest.mark.parametrize("input", [Jump(CHORUS), Located(CHORUS), JumpToScene(2)])
def test_a_jump_fires_nothing(input: Jump | Located | JumpToScene) -> None:
    rehearsal = running()
    rehearsal.take(input)
    rehearsal.finish()
    assert (rehearsal.state.at, rehearsal.wrong(), rehearsal.fired()) == (CHORUS, [], 0)


def test_back_fires_nothing() -> None:
    rehearsal = running(at=VERSE_2)
    rehearsal.take(Back())
    rehearsal.finish()
    assert (rehearsal.state.at, rehearsal.fired()) == (CHORUS, 0)


def test_running_time_fires() -> None:
    rehearsal = running()
    rehearsal.take(Reached(QUAY))
    rehearsal.finish()
    assert (rehearsal.wrong(), rehearsal.fired()) == ([], 1)


def test_running_time_that_comes_where_a_person_has_stepped_fires_nothing_again() -> None:
    rehearsal = running()
    rehearsal.take(Next())
    rehearsal.finish()
    rehearsal.take(Reached(CHORUS))
    rehearsal.finish()
    assert rehearsal.fired() == 1


def test_running_time_that_comes_where_a_person_has_jumped_fires() -> None:
    rehearsal = running()
    rehearsal.take(Jump(CHORUS))
    rehearsal.take(Reached(CHORUS))
    rehearsal.finish()
    assert rehearsal.fired() == 1


def test_a_trigger_fires_when_asked_and_nothing_else_is_sent() -> None:
    rehearsal = running(at=QUAY)
    assert hexed(rehearsal.take(Fire())) == ["a-rig sampler B3 1F 00", "a-rig sampler B3 21 7F"]


def test_in_full_fires_nothing() -> None:
    rehearsal = running(at=QUAY)
    assert sends(rehearsal.take(Again())) == [("a-rig", QUAY, True)]
    rehearsal.finish()
    assert (rehearsal.wrong(), rehearsal.fired()) == ([], 0)


def test_the_walk_ends_at_both_ends() -> None:
    assert told(running().take(Back())) == ["this is the first scene of the setlist"]
    assert told(running(at=MARKET_2).take(Next())) == ["that was the last scene of the setlist"]


def test_a_setlists_standing_scene_is_a_stop() -> None:
    rehearsal = running(at=BRIDGE)
    rehearsal.take(Next())
    rehearsal.finish()
    assert (rehearsal.state.at, rehearsal.state.here.remark, rehearsal.wrong()) == (
        CHANGEOVER,
        "capo off",
        [],
    )


def test_from_a_scene_that_no_visit_reaches_the_walk_goes_on_where_it_was_left_and_fires_nothing() -> None:
    rehearsal = running(at=VERSE)
    rehearsal.take(Jump(SPARE))
    rehearsal.take(Next())
    rehearsal.finish()
    assert (rehearsal.state.at, rehearsal.fired()) == (CHORUS, 0)


def test_back_from_a_scene_that_no_visit_reaches_is_back_into_the_walk() -> None:
    rehearsal = running(at=CHORUS)
    rehearsal.take(Jump(SPARE))
    rehearsal.take(Back())
    assert rehearsal.state.at == CHORUS


def test_a_scene_by_number_is_its_next_visit_else_its_first() -> None:
    rehearsal = running(at=CHORUS)
    rehearsal.take(JumpToScene(1))
    assert rehearsal.state.at == VERSE_2
    rehearsal.take(Jump(BRIDGE))
    rehearsal.take(JumpToScene(1))
    assert rehearsal.state.at == VERSE
    assert told(rehearsal.take(JumpToScene(8))) == ["Nine Lanterns has no scene 8 to go to"]


def test_steps_in_quick_succession_cut_no_settle_short() -> None:
    rehearsal = running()
    rehearsal.take(Next())
    rehearsal.take(Next())
    starts = [m.starts_us for one in rehearsal.actions if isinstance(one, Send) for m in one.messages]
    echo = [
        (m.starts_us, m.lands_us)
        for one in rehearsal.actions
        if isinstance(one, Send)
        for m in one.messages
        if m.step.device == "echo"
    ]
    assert len(starts) == 18
    assert [late for (_, landed), (late, _) in pairwise(echo) if late < landed] == []


# Silence, home.


def test_silence_drops_what_waits_and_goes_ahead_of_it() -> None:
    rehearsal = running()
    rehearsal.take(Next())
    actions = rehearsal.take(Silence())
    assert [type(one) for one in actions if isinstance(one, DropQueue | Send)] == [DropQueue, Send]
    assert [one.ahead for one in actions if isinstance(one, Send)] == [True]
    rehearsal.finish()
    assert (rehearsal.wrong(), rehearsal.state.at, rehearsal.state.goal) == (
        [],
        CHORUS,
        SILENCE,
    )


def test_silence_starts_at_once_while_a_change_is_under_way() -> None:
    rehearsal = running()
    rehearsal.take(Next())
    actions = rehearsal.take(Silence())
    mixer = [m for one in actions if isinstance(one, Send) for m in one.messages if m.step.device == "mixer"]
    assert mixer[0].starts_us <= rehearsal.at_us + 20_000


def test_after_a_fault_what_silence_says_itself_is_sent_before_all_else_and_again_in_its_place() -> None:
    mutes = next(line for line in FILES["rigs/a-rig.yaml"].splitlines() if line.startswith("mutes:"))
    rehearsal = Rehearsal(ready(show_of({"rigs/a-rig.yaml": (mutes, "")})))
    rehearsal.take(OutputsMuted())
    rehearsal.finish()
    rehearsal.take(SendFailed("a-rig", "rack", "too long"))
    silence = next(one for one in rehearsal.take(OutputsMuted()) if isinstance(one, Send))
    first, *rest = (m.step.data.hex(" ").upper() for m in silence.messages)
    assert (silence.key, first, rest.count("B5 5A 7F")) == (SILENCE, "B5 5A 7F", 1)
    assert min(m.starts_us for m in silence.messages[1:]) >= silence.messages[0].starts_us + 960
    rehearsal.finish()
    assert rehearsal.wrong() == []


def test_silence_of_a_rig_without_it_is_said() -> None:
    files = {
        "rigs/a-rig.yaml": (
            "  silence: {mixer.mute-all: on}\n  changeover: {like: silence, ",
            "  changeover: {",
        )
    }
    rehearsal = Rehearsal(ready(show_of(files)))
    rehearsal.take(OutputsMuted())
    assert told(rehearsal.take(Silence())) == ["A rig has no standing scene `silence`: nothing is sent"]


def test_home_asks_first() -> None:
    rehearsal = running(at=CHORUS)
    assert sends(rehearsal.take(Home())) == []
    assert sends(rehearsal.take(HomeYes())) == [("a-rig", HOME, False)]
    rehearsal.finish()
    assert (rehearsal.wrong(), rehearsal.state.at) == ([], CHORUS)


def test_a_step_makes_the_question_about_home_void() -> None:
    rehearsal = running()
    rehearsal.take(Home())
    rehearsal.take(Next())
    assert sends(rehearsal.take(HomeYes())) == []


def test_after_home_a_step_goes_on_from_where_we_stood() -> None:
    rehearsal = running()
    rehearsal.take(Home())
    rehearsal.take(HomeYes())
    rehearsal.take(Next())
    rehearsal.finish()
    assert (rehearsal.state.at, rehearsal.wrong(), rehearsal.fired()) == (CHORUS, [], 1)


# Faults.


def test_after_a_fault_nothing_is_sent_until_a_person_speaks_and_then_silence_first_and_all_in_full() -> None:
    rehearsal = running()
    rehearsal.lose("a-rig", "rack")
    assert sends(rehearsal.take(Next())) == []
    rehearsal.take(PortBack("a-rig", "rack"))
    assert sends(rehearsal.take(Back())) == []
    assert sends(rehearsal.take(OutputsMuted())) == [("a-rig", SILENCE, True), ("a-rig", VERSE, True)]
    rehearsal.finish()
    assert (rehearsal.wrong(), rehearsal.fired()) == ([], 0)


def test_the_gate_after_a_fault_says_that_silence_goes_first() -> None:
    actions = running().take(PortLost("a-rig", "rack", "the cable is out"))
    words = [one.words for one in actions if isinstance(one, Ask)]
    assert words == [
        "A rig: something went wrong.\n"
        "Then `silence` is sent first, and after it the whole scene, with nothing taken for known.\n"
        f"{CAUTION}\n{MUTED}"
    ]


def test_what_hangs_on_other_ports_can_go_on_without_the_one_that_is_lost() -> None:
    rehearsal = running()
    rehearsal.lose("a-rig", "rack")
    rehearsal.take(OutputsMuted())
    ports = {m.step.port for one in rehearsal.actions if isinstance(one, Send) for m in one.messages}
    assert ports == {"floor"}


def test_a_port_that_comes_back_shuts_the_gate_again() -> None:
    rehearsal = running()
    rehearsal.lose("a-rig", "rack")
    rehearsal.take(OutputsMuted())
    rehearsal.finish()
    rehearsal.take(PortBack("a-rig", "rack"))
    assert rehearsal.state.rig("a-rig").gate is Gate.FAULT


def test_with_no_port_left_the_gate_stays_shut() -> None:
    rehearsal = running()
    rehearsal.lose("a-rig", "rack")
    rehearsal.lose("a-rig", "floor")
    actions = rehearsal.take(OutputsMuted())
    assert (sends(actions), told(actions)) == ([], ["A rig: no port is left to send to"])
    assert rehearsal.state.rig("a-rig").gate is Gate.FAULT


def test_a_show_that_has_opted_out_goes_on_after_a_fault_with_the_caution_said() -> None:
    rehearsal = running(Options(asks_after_fault=False))
    rehearsal.lose("a-rig", "rack")
    actions = rehearsal.take(PortBack("a-rig", "rack"))
    assert sends(actions) == [("a-rig", SILENCE, True), ("a-rig", VERSE, True)]
    assert CAUTION in told(actions)


def test_a_show_that_has_opted_out_asks_all_the_same_when_a_send_fails_again_and_again() -> None:
    rehearsal = running(Options(asks_after_fault=False))
    gates = []
    for _ in range(4):
        rehearsal.take(SendFailed("a-rig", "rack", "too long"))
        gates.append(rehearsal.state.rig("a-rig").gate)
    assert gates == [Gate.OPEN, Gate.OPEN, Gate.OPEN, Gate.FAULT]
    rehearsal.take(OutputsMuted())
    rehearsal.take(SendFailed("a-rig", "rack", "too long"))
    assert rehearsal.state.rig("a-rig").gate is Gate.OPEN


def test_a_rig_goes_on_while_the_other_waits_at_the_gate() -> None:
    rehearsal = running(driven=("a-rig", "b-rig"))
    rehearsal.lose("b-rig", "rack")
    assert sends(rehearsal.take(Next())) == [("a-rig", CHORUS, False)]


def test_broken_off_inside_a_mute_is_said() -> None:
    rehearsal = running()
    rehearsal.take(Next())
    rehearsal.actions.clear()
    rehearsal.lose("a-rig", "floor", more=2, counted=(2, 2))
    assert "A rig: broken off inside a mute, mixer.mute-all may still be held" in rehearsal.said()


def test_a_send_that_a_port_refuses_is_a_fault() -> None:
    rehearsal = running()
    rehearsal.take(Next())
    rehearsal.take(SendFailed("a-rig", "rack", "too long"))
    assert rehearsal.state.rig("a-rig").gate is Gate.FAULT
    assert rehearsal.state.rig("a-rig").lost == frozenset()


# Doubt, devices out, switches that can only be flipped.


def test_what_someone_else_has_moved_is_sent_with_the_next_change_and_no_more() -> None:
    rehearsal = running(at=QUAY)
    rehearsal.elsewhere("a-rig", "rack", bytes.fromhex("B0 15 07"))
    assert rehearsal.said() == ["A rig: echo was changed from elsewhere, in doubt: mix"]
    assert hexed(rehearsal.take(Jump(QUAY))) == ["a-rig echo B0 15 23", "a-rig sampler B3 1F 00"]


def test_what_is_in_doubt_already_is_not_said_again() -> None:
    rehearsal = running()
    doubt = Doubt("a-rig", "echo", frozenset({"engage"}), patch=False, bank=False)
    assert len(told(rehearsal.take(doubt))) == 1
    assert told(rehearsal.take(doubt)) == []


def test_a_bank_that_someone_else_has_chosen_is_not_counted_on() -> None:
    rehearsal = running(at=BRIDGE)
    rehearsal.elsewhere("a-rig", "rack", bytes.fromhex("B4 00 07"))
    rehearsal.take(Jump(BRIDGE))
    rehearsal.take(Next())
    rehearsal.finish()
    assert rehearsal.wrong() == []


def test_a_device_that_is_out_is_sent_nothing_and_what_returns_is_sent_in_full() -> None:
    rehearsal = running()
    rehearsal.take(TakeOut("a-rig", "echo"))
    assert [one for one in hexed(rehearsal.take(Next())) if "echo" in one] == []
    rehearsal.finish()
    actions = rehearsal.take(BringBack("a-rig", "echo"))
    assert [one for one in hexed(actions) if "echo" in one] == [
        "a-rig echo C0 10",
        "a-rig echo B0 50 7F",
        "a-rig echo B0 0C 05",
        "a-rig echo B0 2C 3C",
    ]
    rehearsal.finish()
    assert (rehearsal.wrong(), rehearsal.fired()) == ([], 1)


def test_nothing_is_muted_for_a_device_that_is_out() -> None:
    rehearsal = running()
    rehearsal.take(TakeOut("a-rig", "echo"))
    assert [one for one in hexed(rehearsal.take(Next())) if "mixer" in one] == []


def test_a_flipped_switch_in_doubt_is_left_out_and_said() -> None:
    rehearsal = running()
    rehearsal.take(Again())
    assert [one for one in rehearsal.said() if "by hand" in one] == [
        "A rig: set amp.lead on by hand",
        "A rig: set amp.boost on by hand",
    ]
    rehearsal.finish()
    rehearsal.take(Next())
    assert "A rig: set amp.lead off by hand" in rehearsal.said()


def test_a_switch_that_a_person_has_set_is_flipped_again() -> None:
    rehearsal = running()
    rehearsal.take(Again())
    rehearsal.by_hand()
    assert [one for one in hexed(rehearsal.take(Next())) if " amp " in one] == [
        "a-rig amp B1 5A 7F",
        "a-rig amp B1 5A 00",
    ]


def test_a_switch_is_not_taken_for_set_while_a_change_could_still_flip_it() -> None:
    rehearsal = running()
    rehearsal.take(Again())
    assert told(rehearsal.take(SetByHand())) == [
        "A rig: a change is still under way, say so once more when it is over"
    ]


def test_a_rig_that_was_left_is_sent_in_full_when_it_is_driven_again() -> None:
    rehearsal = running(driven=("a-rig", "b-rig"))
    rehearsal.take(Drive(("b-rig",)))
    assert sends(rehearsal.take(Next())) == [("b-rig", CHORUS, False)]
    rehearsal.finish()
    sent = hexed(rehearsal.take(Drive(("a-rig",))))
    assert "a-rig reverb B4 00 00" in sent


def test_a_rig_that_lacks_a_scene_stays_as_it_is_and_that_is_said() -> None:
    rehearsal = running(driven=("a-rig", "b-rig"), at=VERSE_2)
    actions = rehearsal.take(Next())
    assert (sends(actions), told(actions)) == (
        [("a-rig", BRIDGE, False)],
        ["B rig has no `Nine Lanterns: bridge`: it stays as it is"],
    )


# Looking ahead, remarks, the end, a run that broke off.


def test_peeking_sends_nothing_and_a_step_goes_from_where_we_stand() -> None:
    rehearsal = running()
    assert sends((*rehearsal.take(Peek(2)), *rehearsal.take(Peek(1)))) == []
    assert (rehearsal.state.looked_at.key, rehearsal.state.at) == (BRIDGE, VERSE)
    rehearsal.take(Next())
    assert (rehearsal.state.peek, rehearsal.state.at) == (None, CHORUS)


def test_leaving_a_peek_looks_at_where_we_stand() -> None:
    rehearsal = running(at=MARKET)
    rehearsal.take(Peek(-9))
    assert rehearsal.state.looked_at.key == VERSE
    rehearsal.take(LeavePeek())
    assert rehearsal.state.looked_at.key == MARKET


def test_a_remark_is_kept_with_where_it_was_made() -> None:
    actions = running(at=CHORUS).take(Pin("bell too loud"))
    assert [one.entry for one in actions if isinstance(one, KeepRemark)] == [
        {
            "at": "Nine Lanterns: chorus",
            "item": 1,
            "song": "lantern",
            "scene": "chorus",
            "nth": 1,
            "remark": "bell too loud",
        }
    ]


def test_leaving_in_the_middle_of_a_change_says_what_is_not_known() -> None:
    rehearsal = running()
    rehearsal.take(Next())
    actions = rehearsal.take(Quit())
    assert [type(one) for one in actions if isinstance(one, DropQueue | Leave)] == [DropQueue, Leave]
    assert told(actions) == ["A rig: the last change was broken off, and where the rig stands is not known"]
    assert rehearsal.take(Next()) == ()


def test_a_run_that_broke_off_is_taken_up_in_full_once_a_person_has_spoken() -> None:
    resumed = Resumed(CHORUS, ("a-rig",), {"a-rig": ("echo",)})
    rehearsal = Rehearsal(SHOW, resumed=resumed)
    assert (rehearsal.state.at, sends(rehearsal.take(Next()))) == (CHORUS, [])
    rehearsal.take(Back())
    actions = rehearsal.take(OutputsMuted())
    assert sends(actions) == [("a-rig", SILENCE, True), ("a-rig", CHORUS, True)]
    assert [one for one in hexed(actions) if "echo" in one or "amp B1 5A" in one or "amp B1 5B" in one] == []


def test_a_leg_without_scenes_cannot_be_rehearsed() -> None:
    files = {
        "show.yaml": ("setlist: [lantern, {standing: changeover, remark: capo off}, bell]", "setlist: []"),
        "rigs/a-rig.yaml": (
            "standing:\n  silence: {mixer.mute-all: on}\n  changeover: {like: silence, gate-level: 0}\n",
            "",
        ),
    }
    with pytest.raises(ValueError, match="a leg without scenes"):
        core.start(ready(show_of(files)))


def test_working_ahead_changes_nothing_that_is_sent() -> None:
    one, other = running(), running()
    core.warm(other.state)
    assert hexed(one.take(Next())) == hexed(other.take(Next()))
