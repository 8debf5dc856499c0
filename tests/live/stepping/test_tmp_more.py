"""Whatever happens in a night, the rig is where the tool says, and nothing fires that should not."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings

from switchmatrix.live.stepping.state import Options
from switchmatrix.pipeline import judge
from tests.live.stepping.drawn import Does, nights, play
from tests.live.stepping.kit import SHOW, Rehearsal, ready, show_of

QUIETER = ready(show_of({"bell.yaml": ("mix: 99", "mix: 12")}))
SHORTER = ready(show_of({"lantern.yaml": ("verse: {at: [bar 1, bar 5]", "verse: {at: [bar 1]")}))
REWIRED = ready(
    show_of(
        {
            "rigs/a-rig.yaml": (
                "slap: 4, cliff: {at: 17, stores: {mix: 35",
                "slap: 9, cliff: {at: 17, stores: {mix: 34",
            )
        }
    )
)
HELD = ready(show_of({"rigs/a-rig.yaml": ("hands: [wah.sweep]", "hands: [wah.sweep, echo.engage]")}))
SONGS = judge(Path(__file__).parents[3] / "songs")
TOURING = ready(SONGS, "winter-tour", ("a-rig-tour", "b-rig"))
BENCH = ready(SONGS, "workshop", ("bench", "bench-short"))
OTHERS = (QUIETER, SHORTER, REWIRED, HELD)


@settings(max_examples=1500)
@given(night=nights(SHOW, OTHERS))
def test_after_each_completed_send_the_rig_is_in_its_scene_and_only_steps_have_fired(
    night: list[Does],
) -> None:
    play(Rehearsal(SHOW), night)


@settings(max_examples=800)
@given(night=nights(SHOW, OTHERS))
def test_the_same_holds_where_a_person_has_spoken_in_advance_and_faults_do_not_ask(
    night: list[Does],
) -> None:
    play(Rehearsal(SHOW, Options(said=True, asks_after_fault=False), driven=("a-rig", "b-rig")), night)


@settings(max_examples=250)
@given(night=nights(TOURING))
def test_the_same_holds_of_the_example_show_on_tour(night: list[Does]) -> None:
    play(Rehearsal(TOURING), night)


@settings(max_examples=250)
@given(night=nights(BENCH))
def test_the_same_holds_of_the_example_shows_bench(night: list[Does]) -> None:
    play(Rehearsal(BENCH), night)
