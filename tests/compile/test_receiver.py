"""Whatever was heard and moved before, the messages of a scene bring every box to what the scene means."""

from __future__ import annotations

from random import Random

from hypothesis import assume, event, given, note, settings
from hypothesis import strategies as st

from tests.compile.drawn import shows
from tests.compile.receiver import found_stage, wrong_after
from tests.compile.shown import on_the_wire
from tests.compile.shows import Show
from tests.support import judged


@settings(max_examples=200)
@given(shows(), st.integers(0, 2**32), st.lists(st.integers(0, 3), min_size=1, max_size=6))
def test_after_any_walk_of_scenes_every_box_stands_as_the_scene_means(
    show: Show, seed: int, walk: list[int]
) -> None:
    note("\n".join(f"== {path}\n{text}" for path, text in show.files().items()))
    compiled = judged(show.files(), base=None)
    event("sound" if compiled.sound else "has an error")
    assume(compiled.sound)
    stage = found_stage(show, Random(seed))
    before: str | None = None
    for step in walk:
        label = show.scenes[step % len(show.scenes)][0]
        note(f"to {label} from {before or 'unknown'}")
        stage.meddle()
        assert wrong_after(stage, label, on_the_wire(compiled, label, before)) == []
        before = label
