"""Damaged shows: never a crash; each finding at its place; bytes for a sound show, and none for any other."""

from __future__ import annotations

from hypothesis import event, given, note, settings
from hypothesis import strategies as st

from switchmatrix.pipeline import judge, plan
from tests.cli.kit import run
from tests.compile.drawn import Dice
from tests.fuzz.damage import DICE, folder_damaged
from tests.fuzz.holding import counted_in_each_form, ill_formed, messages, misplaced, on_disk, tree
from tests.fuzz.shows import AS_DRAWN, Files, shows

DAMAGE = st.lists(DICE, min_size=1, max_size=2)


def _spoilt(files: Files, damage: list[bytes]) -> dict[str, bytes]:
    """The show's folder after the pieces of damage."""
    out = {path: text.encode() for path, text in files.items()}
    for data in damage:
        out = folder_damaged(Dice(data), out)
    note(
        "\n".join(f"== {path}\n{data[:3000].decode('utf-8', errors='replace')}" for path, data in out.items())
    )
    return out


@settings(max_examples=120, derandomize=True, phases=AS_DRAWN)
@given(shows(), DAMAGE)
def test_a_damaged_show_is_judged_and_each_finding_said_in_each_form_at_a_place_in_it(
    files: Files, damage: list[bytes]
) -> None:
    spoilt = _spoilt(files, damage)
    with on_disk(spoilt) as folder:
        judged = judge(folder)
        for finding in judged.found:
            event(f"{finding.severity} {finding.name}")
        assert misplaced(judged, spoilt) == []
        assert counted_in_each_form(judged) == [len(judged.found)] * 3


@settings(max_examples=80, derandomize=True, phases=AS_DRAWN)
@given(shows(), DAMAGE)
def test_a_damaged_show_has_a_plan_of_well_formed_messages_or_none(files: Files, damage: list[bytes]) -> None:
    with on_disk(_spoilt(files, damage)) as folder:
        judged = judge(folder)
        event("sound" if judged.sound else "has an error")
        assert [data for data in messages(plan(judged) if judged.sound else ()) if ill_formed(data)] == []


@settings(max_examples=50, derandomize=True, phases=AS_DRAWN)
@given(shows(), DAMAGE)
def test_compile_writes_the_same_bytes_twice_or_nothing(files: Files, damage: list[bytes]) -> None:
    with on_disk(_spoilt(files, damage)) as folder:
        once, again = folder.parent / "once", folder.parent / "again"
        codes = {run("compile", folder, "--out", out).code for out in (once, again)}
        event(f"exits with {codes}")
        assert codes == {0 if judge(folder).sound else 1}
        assert (tree(once) != {}) == (codes == {0})
        assert tree(once) == tree(again)
