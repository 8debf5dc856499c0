"""A song's plan: what stands for a scene that is not visited, and what is said of a change's length."""

from __future__ import annotations

from switchmatrix.compile.plan import budget_of, lands_on_time, running_messages
from switchmatrix.compile.schedule import schedule
from switchmatrix.pipeline import Judged, plan
from tests.compile.cases import mute, rig_of, unit
from tests.compile.rigs import rig_show

ECHO = """
programs: {count: 8, first: 1, settle: 35 ms, repeat: recalls}
controls: {mix: {kind: level, cc: 30, range: [0, 127]}}
"""
DEVICE = "echo: {port: rack, channel: 1, definition: echo-box, patches: {a: 1, b: 2}}"
HOME = "home: {echo: {patch: a, mix: 5}}"
SCENES = "  verse: {echo.mix: 9}\n  coda: {echo: {patch: b}}\norder: [verse]\n"
STANDING = "\nstanding: {silence: {echo.mix: 0}}"


def show(extra: str = HOME) -> Judged:
    """A rig of one echo; the song has a verse, and a coda that the running order leaves out."""
    return rig_show(DEVICE, {"echo-box": ECHO}, SCENES, extra)


def test_scenes_without_a_visit_come_as_visit_0() -> None:
    (leg,) = plan(show(HOME + STANDING))
    listed = [(id, number, name, m.step.meaning) for id, number, name, m in running_messages(leg)]
    assert listed == [
        ("standing", 0, "silence", "recalls a (panel 1)"),
        ("standing", 0, "silence", "sets mix to 0"),
        ("lantern", 1, "verse", "recalls a (panel 1)"),
        ("lantern", 1, "verse", "sets mix to 9"),
        ("lantern", 0, "coda", "recalls b (panel 2)"),
        ("lantern", 0, "coda", "sets mix to 5"),
    ]


# Recall, settle, control: 640 + 35,000 + 960, which no order could go below.
def test_a_state_says_how_long_it_takes_from_unknown_and_its_bound() -> None:
    (leg,) = plan(show())
    assert [(s.scene.scene, s.change_time_us, s.bound_us) for s in leg.songs[-1].scenes] == [
        ("verse", 36_600, 36_600),
        ("coda", 36_600, 36_600),
    ]


def test_a_name_that_is_no_scene_lands_as_its_song_and_show_say() -> None:
    judged = show()
    assert judged.model.show is not None
    song = plan(judged)[0].songs[-1].states.song.song
    assert not lands_on_time(judged.model.show, song, "nowhere")


def test_a_name_that_is_no_scene_has_the_budget_of_its_song_and_show() -> None:
    judged = show()
    assert judged.model.show is not None
    song = plan(judged)[0].songs[-1].states.song.song
    assert budget_of(judged.model.show, song, "nowhere") is None


# Mixer holds from 960 + 10,000, loop from 1,920; amp is on another port than both, and needs both to hold.
def test_what_two_devices_hold_waits_for_both() -> None:
    both = mute(["amp.voice"], ["mixer.out", "loop.out"])
    rig = rig_of({"rack": "din", "floor": "din"}, (both,))
    steps = (
        *unit("mixer", 3, moves="out", settle_us=10_000),
        *unit("loop", 3, moves="out"),
        *unit("amp", 3, port="floor", moves="voice"),
    )
    assert [(m.step.device, m.starts_us) for m in schedule(rig, steps).messages] == [
        ("mixer", 0),
        ("loop", 960),
        ("amp", 10_960),
    ]


# Gate is not held and covers nothing: it takes no hold away.
def test_a_hold_lasts_while_others_are_sent_to() -> None:
    held = mute(["amp.voice"], ["mixer.out"])
    rig = rig_of({"rack": "din", "floor": "din"}, (held,))
    steps = (
        *unit("mixer", 3, moves="out", settle_us=10_000),
        *unit("gate", 3),
        *unit("amp", 3, port="floor", moves="voice"),
    )
    assert [(m.step.device, m.starts_us) for m in schedule(rig, steps).messages] == [
        ("mixer", 0),
        ("gate", 960),
        ("amp", 10_960),
    ]
