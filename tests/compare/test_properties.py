"""What holds of every diff, over generated shows."""

from __future__ import annotations

import json
from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from switchmatrix.compare.diff import diff
from switchmatrix.compare.sides import Side
from switchmatrix.emit.diff_json import diff_json
from switchmatrix.emit.diff_text import diff_text
from switchmatrix.pipeline import plan_run
from tests.compare.applied import applied, whole
from tests.compare.kit import of
from tests.fuzz.shows import AS_DRAWN, Files
from tests.fuzz.shows import shows as whole_shows
from tests.states.made import Made, Scene, shows
from tests.support import judged


def reaches(old: Side, new: Side) -> None:
    """The JSON's changes, applied to what OLD means, give what NEW means."""
    said = json.loads(diff_json(diff(old, new), "OLD", "NEW", wire=False))
    assert applied(whole(old.states), said) == whole(new.states)


def sound(made: Made) -> Side:
    """A generated show to be compared; shows whose words disagree are passed by."""
    show = made.judged()
    assume(show.sound)
    return of(show)


@settings(max_examples=20)
@given(shows(), shows())
def test_the_changes_applied_to_what_old_means_give_what_new_means(old: Made, new: Made) -> None:
    reaches(sound(old), sound(new))


@settings(max_examples=10)
@given(shows(), st.data())
def test_so_they_do_where_a_scene_has_another_name_now(made: Made, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(made.scenes) - 1))
    was = made.scenes[at].name
    scenes = tuple(_renamed(scene, was) for scene in made.scenes)
    changes = tuple(("other" if name == was else name, lines) for name, lines in made.changes)
    reaches(sound(made), sound(replace(made, scenes=scenes, changes=changes)))


def _renamed(scene: Scene, was: str) -> Scene:
    likes = tuple("other" if like == was else like for like in scene.likes)
    return Scene("other" if scene.name == was else scene.name, likes, scene.lines)


@settings(max_examples=10)
@given(shows())
def test_so_they_do_where_a_device_has_another_name_now(made: Made) -> None:
    files = _files(made)
    new = {path: _echo_renamed(text) for path, text in files.items()}
    old_show, new_show = judged(files, base=None), judged(new, base=None)
    assume(old_show.sound)
    reaches(of(old_show), of(new_show))


def _files(made: Made) -> Files:
    return {path: file.text for path, file in made.judged().files.texts.items()}


def _echo_renamed(text: str) -> str:
    return text.replace("echo:", "delay:").replace("echo.", "delay.")


@settings(max_examples=20, derandomize=True, phases=AS_DRAWN)
@given(whole_shows(), whole_shows())
def test_so_they_do_over_shows_of_several_rigs_songs_and_legs(old: Files, new: Files) -> None:
    reaches(of(judged(old, base=None)), of(judged(new, base=None)))


@settings(max_examples=10)
@given(shows())
def test_nothing_differs_from_itself(made: Made) -> None:
    assert diff(sound(made), sound(made), plan_run).different is False


@settings(max_examples=10, derandomize=True, phases=AS_DRAWN)
@given(whole_shows())
def test_nothing_differs_from_itself_with_several_rigs(files: Files) -> None:
    one, other = of(judged(files, base=None)), of(judged(files, base=None))
    assert diff_text(diff(one, other, plan_run), "OLD", "NEW") == "nothing differs\n"
