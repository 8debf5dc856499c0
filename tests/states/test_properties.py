"""What holds of every song on every rig, over generated small ones."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.states.made import Made, Scene, one_line, shows, states
from tests.states.reading import reading
from tests.support import findings, names

few = settings(max_examples=12)


def sound_states(made: Made) -> dict[str, dict[str, str]]:
    """The states of a generated show; shows whose words disagree are passed by."""
    show = made.judged()
    assume(show.sound)
    return states(show)


@settings(max_examples=40)
@given(shows())
def test_every_scenes_state_is_what_a_second_reading_of_the_rules_gives(made: Made) -> None:
    show = made.judged()
    assume(show.sound)
    assert states(show) == {s.name: reading(made, s.name) for s in made.scenes}


@settings(max_examples=20)
@given(shows())
def test_words_disagree_exactly_where_a_second_reading_of_the_rules_says_so(made: Made) -> None:
    disagree = any(line.startswith("words-disagree ") for line in names(made.judged()))
    assert disagree == (None in [reading(made, s.name) for s in made.scenes])


@few
@given(shows(), one_line, st.data())
def test_an_outright_line_always_wins_in_its_scene(
    made: Made, line: tuple[str, str], data: st.DataObject
) -> None:
    scene = data.draw(st.sampled_from([s.name for s in made.scenes]))
    unchanged = replace(made, changes=tuple(c for c in made.changes if c[0] != scene))
    sound_states(unchanged)
    assert states(unchanged.with_line(scene, line).judged())[scene][line[0]] == line[1]


@few
@given(shows(), one_line, st.data())
def test_a_line_changes_nothing_but_its_own_control(
    made: Made, line: tuple[str, str], data: st.DataObject
) -> None:
    scene = data.draw(st.sampled_from([s.name for s in made.scenes]))
    before = sound_states(made)
    after = states(made.with_line(scene, line).judged())
    moved = {(s, name) for s in before for name in before[s] if before[s][name] != after[s][name]}
    assert moved <= {(s, line[0]) for s in made.below(scene)}


@few
@given(shows(), st.sampled_from(["slap", "cliff"]), st.data())
def test_a_patch_changes_nothing_but_what_its_device_stores(
    made: Made, patch: str, data: st.DataObject
) -> None:
    scene = data.draw(st.sampled_from([s.name for s in made.scenes]))
    before = sound_states(made)
    after = states(made.with_line(scene, ("echo.patch", patch)).judged())
    moved = {(s, name) for s in before for name in before[s] if before[s][name] != after[s][name]}
    assert moved <= {(s, f"echo.{name}") for s in made.below(scene) for name in ("patch", "mix", "time")}


@few
@given(shows(), st.data())
def test_a_scene_like_another_with_nothing_added_is_that_scene(made: Made, data: st.DataObject) -> None:
    scene = data.draw(st.sampled_from([s.name for s in made.scenes]))
    sound_states(made)
    after = states(replace(made, scenes=(*made.scenes, Scene("twin", (scene,), ()))).judged())
    assert after["twin"] == after[scene]


@few
@given(shows(), st.data())
def test_the_order_of_lines_in_a_block_does_not_matter(made: Made, data: st.DataObject) -> None:
    before = sound_states(made)
    shuffled = replace(
        made,
        base=tuple(data.draw(st.permutations(made.base))),
        scenes=tuple(replace(s, lines=tuple(data.draw(st.permutations(s.lines)))) for s in made.scenes),
        changes=tuple((name, tuple(data.draw(st.permutations(lines)))) for name, lines in made.changes),
    )
    assert states(shuffled.judged()) == before


@few
@given(shows())
def test_the_same_show_has_the_same_findings_and_states(made: Made) -> None:
    one, two = made.judged(), made.judged()
    assert (findings(one), one.states) == (findings(two), two.states)


@few
@given(shows(), st.data())
def test_a_dropped_scene_changes_no_other_scene(made: Made, data: st.DataObject) -> None:
    scene = data.draw(st.sampled_from([s.name for s in made.scenes]))
    kept = replace(made, changes=tuple(c for c in made.changes if c[0] != scene))
    before = sound_states(kept)
    after = states(replace(kept, dropped=scene).judged())
    assert after == {name: state for name, state in before.items() if name != scene}


@few
@given(shows(), st.data())
def test_a_change_that_repeats_its_block_changes_nothing(made: Made, data: st.DataObject) -> None:
    scene = data.draw(st.sampled_from(made.scenes))
    plain = replace(made, changes=())
    before = sound_states(plain)
    # A device's own line is wider than the dotted ones, which may have decided otherwise.
    repeated = tuple(line for line in scene.lines if line[0] != "echo")
    assert states(replace(plain, changes=((scene.name, repeated),)).judged()) == before


A_DEVICES = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  wah: {port: rack, channel: 4, definition: treadle-wah}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches:
      slap: {at: 4, stores: {mix: 10 %, time: 120 ms}}
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
"""

# The same model of echo stands on the B rig, but under another name and with other patches.
B_DEVICES = """\
rig: B rig
ports: {rack: {out: spare, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  wah: {port: rack, channel: 4, definition: treadle-wah}
  unit:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {U1: {at: 1, stores: {mix: 99 %, time: 990 ms}}, U2: 2}
absent: {echo: two-tap-echo}
"""

B_WORDS = """\
  echo.engage: unit.engage
  echo.feed: unit.feed
  echo.mix: unit.mix
  echo.time: unit.time
  echo.patch:
    slap: {unit: {patch: U1, mix: 10 %, time: 120 ms}}
    cliff: {unit: {patch: U2, mix: 35 %, time: 480 ms}}
"""


def plain(state: dict[str, str]) -> dict[str, str]:
    """The controls' values under the names of the A rig, whether a patch stores them or not."""
    return {
        name.replace("unit.", "echo."): value.partition(": ")[2] or value
        for name, value in state.items()
        if not name.endswith(".patch")
    }


@few
@given(shows())
def test_a_song_means_on_the_b_rig_what_it_means_on_the_a_rig(made: Made) -> None:
    rig = replace(made.rig, hands=("wah.sweep",))
    show = made.judged({"a-rig": rig.text(A_DEVICES), "b-rig": rig.text(B_DEVICES, B_WORDS)})
    assume(show.sound)
    a, b = states(show, "a-rig"), states(show, "b-rig")
    assert {s: plain(state) for s, state in a.items()} == {s: plain(state) for s, state in b.items()}
