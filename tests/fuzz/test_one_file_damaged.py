"""One damaged file of a sound show: what is said of files that have nothing to do with it stays the same."""

from __future__ import annotations

from hypothesis import given, note, settings
from hypothesis import strategies as st

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.pipeline import judge, kind_of
from tests.compile.drawn import Dice
from tests.fuzz.damage import DICE, damaged
from tests.fuzz.holding import on_disk
from tests.fuzz.shows import AS_DRAWN, Files, shows

CHANGED = "lantern.yaml"
"""The one song that rigs and legs of a drawn show change, so that what they say depends on it."""


def unrelated(files: Files, damaged: str) -> frozenset[str]:
    """The files of which nothing may be said differently, whatever becomes of the damaged one.

    Songs know nothing of each other; definitions know nothing of other files; rigs and the show's own file
    know songs by their ids alone, where they do not change them. Where they do, an error of theirs may
    follow from the song, and on a rig with an error no song is judged.
    """
    away = {"definition"}
    if kind_of(damaged) == "song" and damaged != CHANGED:
        away |= {"song", "rig", "show"}
    return frozenset(path for path in files if path != damaged and kind_of(path) in away)


OF_A_LEG = (names.RECALL_OVER_HANDS.name, names.LEFT_TO_REPEAT.name)
"""What is said of a rig's patches because of two scenes of a leg, of whichever songs."""


def _said(files: Files, of: frozenset[str]) -> list[Diagnostic]:
    with on_disk({path: text.encode() for path, text in files.items()}) as folder:
        return [d for d in judge(folder).found if d.span.path in of and d.name not in OF_A_LEG]


@settings(max_examples=80, derandomize=True, phases=AS_DRAWN)
@given(shows(), st.integers(0, 255), DICE)
def test_damage_to_one_file_leaves_what_is_said_of_unrelated_files_as_it_was(
    files: Files, which: int, damage: bytes
) -> None:
    path = sorted(files)[which % len(files)]
    spoilt = {**files, path: damaged(Dice(damage), files[path])}
    note(f"== {path}\n{spoilt[path][:3000]}")
    of = unrelated(files, path)
    assert _said(spoilt, of) == _said(files, of)
