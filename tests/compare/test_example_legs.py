"""The example show's summer against its winter."""

from __future__ import annotations

from pathlib import Path

from tests.cli.kit import run

SONGS = Path(__file__).parents[2] / "songs"


def test_for_the_winter_one_patch_is_stored_elsewhere_and_nothing_else_is_done_at_the_rack() -> None:
    ran = run("diff", f"{SONGS}@summer-season", f"{SONGS}@winter-tour", "--rack")
    assert (ran.code, ran.out) == (
        1,
        "A rig on the road (a-rig-tour)\n\n"
        "echo: two-tap echo, port rack (out rack), channel 6\n"
        "  [ ] store patch cliff at 18: time 480 ms, repeats 35 %, tone grain; it was 17; for 5 scenes\n",
    )


def test_the_show_is_what_it_is() -> None:
    assert run("diff", SONGS, SONGS, "--wire").out == "nothing differs\n"


def test_what_the_spare_cannot_do_is_the_sampler() -> None:
    ran = run("diff", f"{SONGS}@summer-season", "--rigs")
    lost = ran.out.partition("\nScene by scene")[0].splitlines()[3:]
    losses = {line.split(":")[0].strip() for line in lost if line.startswith("      ")}
    assert (ran.code, losses) == (
        1,
        {"sampler.patch", "sampler.level", "bed", "bell", "buoy", "gulls"},
    )
