"""What a patch would undo is no loss on a rig that does without the patch."""

from __future__ import annotations

from tests.support import BASE_SHOW, judged, names

RIG = (BASE_SHOW / "rigs/a-rig.yaml").read_text(encoding="utf-8")
WET = RIG.replace("vocabulary:\n", "vocabulary:\n  wash: {wet: {echo.mix: 60 %}, dry: {echo.mix: 0 %}}\n")
LANTERN = """\
song: Lantern
tempo: 120
base: {wash: wet}
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo.patch: cliff, echo.engage: on}
"""
SMALL = "rig: Small rig\nlike: a-rig\nwithout: [echo]\n"
SHOW = "show: T\nrigs: [a-rig, small]\nlegs:\n  tour: {rigs: [RIG], setlist: [lantern]}\n"


def said_on(rig: str) -> list[str]:
    """The findings of a leg on one of the rigs."""
    show = SHOW.replace("[RIG]", f"[{rig}]")
    return names(
        judged({"rigs/a-rig.yaml": WET, "rigs/small.yaml": SMALL, "lantern.yaml": LANTERN, "show.yaml": show})
    )


def test_a_patch_that_undoes_a_word_is_told_on_the_rig_that_has_it() -> None:
    assert said_on("a-rig") == ["patch-undoes-word lantern.yaml:6"]


def test_a_patch_that_is_done_without_undoes_nothing() -> None:
    assert said_on("small") == []


def test_a_tuning_without_an_instrument_is_told() -> None:
    song = LANTERN.replace("tempo: 120", "tempo: 120\ntuning: drop A").replace("base: {wash: wet}\n", "")
    assert names(judged({"lantern.yaml": song})) == ["missing-key lantern.yaml:3"]
