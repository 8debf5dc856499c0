"""`switchmatrix diff`: what it is given, what it prints, how it ends."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from tests.cli.kit import TWO_LEGS, lay, run
from tests.compare.kit import A_RIG, LANTERN
from tests.files.test_revisions import committed

LOUDER = {"lantern.yaml": LANTERN.replace("gate: tight", "gate: loose")}
SONGS = """\
{old}, now {new}

The songs
  tour
    lantern
      verse, chorus
        gate-1.threshold was -38 dB (lantern.yaml:4), now -55 dB (lantern.yaml:4)
"""


def two(folder: Path, new: dict[str, str], old: dict[str, str] | None = None) -> tuple[Path, Path]:
    """Two shows, `old` and `new` laid over the base show."""
    (folder / "a").mkdir()
    (folder / "b").mkdir()
    return lay(folder / "a", old or {}), lay(folder / "b", new)


def test_a_show_held_against_itself_ends_with_0(tmp_path: Path) -> None:
    show = lay(tmp_path)
    ran = run("diff", show, show)
    assert (ran.code, ran.out, ran.err) == (0, "nothing differs\n", "")


def test_two_shows_that_differ_end_with_1(tmp_path: Path) -> None:
    old, new = two(tmp_path, LOUDER)
    ran = run("diff", old, new)
    assert (ran.code, ran.out, ran.err) == (1, SONGS.format(old=old, new=new), "")


def test_two_legs_of_one_show(tmp_path: Path) -> None:
    show = lay(tmp_path, TWO_LEGS)
    ran = run("diff", f"{show}@summer", f"{show}@winter")
    assert (ran.code, ran.out) == (
        1,
        f"{show}@summer, now {show}@winter\n\nThe songs\n  summer, now winter\n    setlist\n"
        "      lantern is gone; it was number 1\n"
        "      changeover (standing) is gone; it was number 2\n"
        "    the rig b-rig is gone from this leg\n"
        "    lantern is gone from this leg\n",
    )


def test_a_folder_as_it_was_is_held_against_itself_as_it_is(tmp_path: Path) -> None:
    show = lay(tmp_path)
    committed(tmp_path)
    (show / "lantern.yaml").write_text(LOUDER["lantern.yaml"], encoding="utf-8")
    ran = run("diff", show, "--old-rev", "HEAD")
    assert (ran.code, ran.out) == (1, SONGS.format(old=f"{show} at HEAD", new=show))


def test_one_leg_as_it_was_is_held_against_itself_as_it_is(tmp_path: Path) -> None:
    show = lay(tmp_path, TWO_LEGS)
    committed(tmp_path)
    (show / "lantern.yaml").write_text(LOUDER["lantern.yaml"], encoding="utf-8")
    codes = [run("diff", f"{show}@{leg}", "--old-rev", "HEAD").code for leg in ("summer", "winter")]
    assert codes == [1, 0]


def test_a_folder_whose_name_has_an_at_is_a_folder(tmp_path: Path) -> None:
    show = lay(tmp_path).rename(tmp_path / "show@pier")
    assert run("diff", show, show).code == 0


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("{show}",), "name what OLD is held against: NEW, or --old-rev REV, or --rigs"),
        (
            ("{show}", "{show}", "--old-rev", "HEAD"),
            "with --old-rev name one folder: it is held against itself",
        ),
        (("{show}", "{show}", "--format", "csv"), "csv is a form of --rack"),
        (("{show}", "{show}", "--rack", "--format", "json"), "--rack prints text or csv, and no messages"),
        (("{show}", "{show}", "--leg", "tour"), "--leg goes with --rigs; to compare legs write FOLDER@LEG"),
        (("{show}", "{show}", "--rigs"), "--rigs goes with one show, and with --leg alone"),
        (("{show}@tuor", "{show}"), "{show} has no leg tuor: did you mean `tour`?"),
        (("{show}", "--old-rev", "HEAD"), "{show} lies in no git repository"),
        (("{show}", "--rigs"), "no leg of the show has more than one rig"),
        (("{show}", "--rigs", "--leg", "tour"), "the leg tour has one rig: there is nothing beside it"),
    ],
)
def test_what_is_given_wrongly_ends_with_2(tmp_path: Path, args: tuple[str, ...], said: str) -> None:
    show = lay(tmp_path)
    ran = run("diff", *(arg.format(show=show) for arg in args))
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines()[-1].startswith(f"Error: {said.format(show=show)}")


@pytest.mark.parametrize("broken", ["old", "new"])
def test_the_errors_of_the_side_that_has_them_are_printed_and_it_ends_with_2(
    tmp_path: Path, broken: str
) -> None:
    wrong = {"lantern.yaml": LANTERN.replace("gate: tight", "gate: tigth")}
    old, new = two(tmp_path, wrong if broken == "new" else {}, wrong if broken == "old" else {})
    ran = run("diff", old, new)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == (
        f"{old if broken == 'old' else new}:\n\n"
        "error unknown-word: `gate` has no word `tigth`\n"
        "  at lantern.yaml:4:28\n"
        "    4 |   verse: {at: bar 1, gate: tigth}\n"
        "                                   ^^^^^\n"
        "  what to do: did you mean `tight`?\n\n"
        "1 error: nothing was compared\n"
    )


def test_a_folder_that_is_not_there_ends_with_2(tmp_path: Path) -> None:
    ran = run("diff", lay(tmp_path), tmp_path / "nowhere")
    assert (ran.code, ran.out) == (2, "")


def test_messages_are_held_against_each_other_where_that_is_asked(tmp_path: Path) -> None:
    old, new = two(tmp_path, LOUDER)
    ran = run("diff", old, new, "--wire")
    assert (ran.code, ran.out) == (
        1,
        SONGS.format(old=old, new=new)
        + "\nThe messages\n"
        + "  tour: a-rig: lantern: verse, visit 1\n"
        + "    was    gate-1 sets threshold to -38 dB  rack  B1 14 40\n"
        + "    now    gate-1 sets threshold to -55 dB  rack  B1 14 1E\n",
    )


def test_json_says_the_same_as_text(tmp_path: Path) -> None:
    old, new = two(tmp_path, LOUDER)
    ran = run("diff", old, new, "--format", "json")
    said = json.loads(ran.out)
    was = {"is": "-38 dB", "asked": None, "stored_in": None, "file": "lantern.yaml", "line": 4}
    change = {"what": "gate-1.threshold", "was": was, "now": {**was, "is": "-55 dB"}}
    names = {"was": "lantern", "now": "lantern"}
    scenes = [
        {"was": s, "now": s, "visits": [1], "every_visit": True, "fields": [], "controls": [change]}
        for s in ("verse", "chorus")
    ]
    rig = {"was": "a-rig", "now": "a-rig", "songs": [{**names, "running": None, "scenes": scenes}]}
    leg = {"was": "tour", "now": "tour", "setlist": None, "songs": [], "rigs": [rig]}
    assert (ran.code, said) == (
        1,
        {
            "format": 1,
            "old": str(old),
            "new": str(new),
            "different": True,
            "show": [],
            "rigs": [],
            "legs": [leg],
            "wire": None,
        },
    )


REPATCHED = {
    "rigs/a-rig.yaml": A_RIG.replace("at: 17", "at: 18")
    .replace("slap: 4", "well: {at: 9, stores: {mix: 20 %}}")
    .replace("channel: 2", "channel: 7")
    .replace("patch: slap", "patch: well")
}


def test_what_is_to_be_done_at_the_rack_is_a_list_with_boxes(tmp_path: Path) -> None:
    old, new = two(tmp_path, REPATCHED)
    ran = run("diff", old, new, "--rack")
    assert (ran.code, ran.out) == (
        1,
        "A rig (a-rig)\n\n"
        "gate-1: plain gate, port rack (out rack), channel 7\n"
        "  [ ] channel 7; it was 2; for 2 scenes\n\n"
        "echo: two-tap echo, port rack (out rack), channel 3\n"
        "  [ ] patch 4, slap, is no longer called; for 1 scene\n"
        "  [ ] store patch cliff at 18: mix 35 %, time 480 ms; it was 17; for 1 scene\n"
        "  [ ] patch 9, well: mix 20 %; for 1 scene\n",
    )


def test_the_same_list_as_csv(tmp_path: Path) -> None:
    old, new = two(tmp_path, REPATCHED)
    rows = list(csv.DictReader(io.StringIO(run("diff", old, new, "--rack", "--format", "csv").out)))
    told = [(r["done"], r["device"], r["do"], r["what"], r["number"], r["was"], r["scenes"]) for r in rows]
    assert told == [
        ("[ ]", "gate-1", "set", "channel", "", "2", "2"),
        ("[ ]", "echo", "remove", "slap", "4", "", "1"),
        ("[ ]", "echo", "renumber", "cliff", "18", "17", "1"),
        ("[ ]", "echo", "make", "well", "9", "", "1"),
    ]


def test_where_no_panel_is_concerned_there_is_nothing_to_do(tmp_path: Path) -> None:
    old, new = two(tmp_path, LOUDER)
    assert run("diff", old, new, "--rack").out == "nothing to do at the rack\n"


def test_a_rig_that_is_new_is_to_be_built_whole(tmp_path: Path) -> None:
    show = "show: Tidewrack\nrigs: [a-rig, b-rig]\n"
    show += "legs:\n  tour: {rigs: [a-rig, b-rig], setlist: [lantern]}\n"
    old, new = two(tmp_path, {"show.yaml": show, "rigs/b-rig.yaml": A_RIG.replace("A rig", "B rig")})
    assert run("diff", old, new, "--rack").out == run("rack", new, "--rig", "b-rig").out


def test_a_rig_that_no_leg_plays_on_is_compared_too(tmp_path: Path) -> None:
    show = "show: Tidewrack\nrigs: [a-rig, b-rig]\nlegs:\n  tour: {rigs: [a-rig], setlist: [lantern]}\n"
    spare = {"show.yaml": show, "rigs/b-rig.yaml": A_RIG}
    old, new = two(tmp_path, {**spare, "rigs/b-rig.yaml": A_RIG.replace("channel: 3", "channel: 4")}, spare)
    assert run("diff", old, new).out == (
        f"{old}, now {new}\n\nTo do at the rack\n  b-rig\n"
        "    echo: channel was 3 (rigs/b-rig.yaml:6), now 4 (rigs/b-rig.yaml:6)\n"
        "      alters no message\n"
    )


def test_a_leg_that_was_not_there_yet_is_wrong_usage(tmp_path: Path) -> None:
    show = lay(tmp_path)
    committed(tmp_path)
    (show / "show.yaml").write_text(TWO_LEGS["show.yaml"].replace(", b-rig", ""), encoding="utf-8")
    ran = run("diff", f"{show}@winter", "--old-rev", "HEAD")
    assert (ran.code, ran.err.splitlines()[-1]) == (
        2,
        f"Error: {show} has no leg winter at HEAD: known here as legs: `tour`",
    )


B_RIG = """\
rig: B rig
ports: {rack: {out: spare, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: coarse-gate}
absent: {echo: two-tap-echo}
vocabulary:
  gate: {tight: {gate-1.threshold: -38 dB}, loose: nothing}
  echo: nothing
home: {gate-1.threshold: -50 dB}
"""
SPARE = {
    "show.yaml": "show: Tidewrack\nrigs: [a-rig, b-rig]\n"
    "legs:\n  tour: {rigs: [a-rig, b-rig], setlist: [lantern]}\n",
    "rigs/b-rig.yaml": B_RIG,
    "definitions/coarse-gate.yaml": "definition: coarse gate\ncontrols:\n"
    "  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 5], tolerance: 20 %}\n",
}


def test_rigs_side_by_side_say_first_what_the_spare_cannot_do(tmp_path: Path) -> None:
    ran = run("diff", lay(tmp_path, SPARE), "--rigs")
    assert (ran.code, ran.out) == (
        1,
        "tour: a-rig and b-rig\n\n"
        "What b-rig cannot do, in 1 scene\n"
        "  lantern\n"
        "    chorus\n"
        "      echo.patch: cliff (lantern.yaml:5): echo.patch is done without here\n"
        "      echo.engage: cliff (lantern.yaml:5): echo.engage is done without here\n\n"
        "Scene by scene\n\n"
        "lantern\n\n"
        "  verse          a-rig                    b-rig\n"
        "    gate: tight  gate-1 threshold -38 dB  gate-1 threshold -40 dB\n\n"
        "  chorus                a-rig                    b-rig\n"
        "    gate: tight         gate-1 threshold -38 dB  gate-1 threshold -40 dB\n"
        "    echo.patch: cliff   echo patch cliff         nothing\n"
        "    echo.engage: cliff  echo engage on           nothing\n",
    )


def test_rigs_that_can_all_do_everything_end_with_0(tmp_path: Path) -> None:
    ran = run("diff", lay(tmp_path, TWO_LEGS), "--rigs", "--leg", "summer")
    assert (ran.code, ran.out.splitlines()[2]) == (0, "b-rig can do everything")


def test_a_leg_may_be_named_either_way(tmp_path: Path) -> None:
    show = lay(tmp_path, TWO_LEGS)
    assert run("diff", f"{show}@summer", "--rigs").out == run("diff", show, "--rigs", "--leg", "summer").out


def lost(tmp_path: Path, files: dict[str, str]) -> tuple[int, list[str]]:
    """The exit code, and what is said of the spare before the scenes."""
    ran = run("diff", lay(tmp_path, {**SPARE, **files}), "--rigs")
    return ran.code, ran.out.partition("\nScene by scene")[0].splitlines()[2:]


def test_a_word_that_stands_for_nothing_is_lost(tmp_path: Path) -> None:
    song = "song: Lantern\nscenes:\n  verse: {gate: loose}\n"
    assert lost(tmp_path, {"lantern.yaml": song}) == (
        1,
        [
            "What b-rig cannot do, in 1 scene",
            "  lantern",
            "    verse",
            "      gate: loose (lantern.yaml:3): stands for nothing here",
        ],
    )


def test_a_word_that_the_spare_has_not_got_is_lost_with_its_song(tmp_path: Path) -> None:
    song = "song: Lantern\nscenes:\n  verse: {gate: tight}\n  bridge: {gate: loose}\n"
    rig = B_RIG.replace(", loose: nothing", "")
    assert lost(tmp_path, {"lantern.yaml": song, "rigs/b-rig.yaml": rig}) == (
        1,
        [
            "What b-rig cannot do, in 2 scenes",
            "  lantern",
            "    verse",
            "      the song cannot be compiled for this rig: see what is wrong in another scene",
            "    bridge",
            "      `gate` has no word `loose` (lantern.yaml:4)",
        ],
    )


def test_a_value_out_of_the_spares_range_is_lost(tmp_path: Path) -> None:
    song = "song: Lantern\nscenes:\n  verse: {echo.mix: 80 %, echo.patch: slap}\n"
    rig = B_RIG.replace("  echo: nothing", "  echo.mix: gate-1.mix\n  echo.patch: nothing")
    gate = SPARE["definitions/coarse-gate.yaml"] + "  mix: {kind: level, cc: 21, range: [0 %, 50 %]}\n"
    files = {"lantern.yaml": song, "rigs/b-rig.yaml": rig, "definitions/coarse-gate.yaml": gate}
    assert lost(tmp_path, files) == (
        1,
        [
            "What b-rig cannot do, in 1 scene",
            "  lantern",
            "    verse",
            "      `echo.mix: 80 %` becomes `gate-1.mix` on this rig: `80 %` is out of range"
            " (lantern.yaml:3)",
        ],
    )


def test_a_value_that_the_spare_rounds_away_is_lost(tmp_path: Path) -> None:
    song = "song: Lantern\nscenes:\n  verse: {gate-1.threshold: -43 dB}\n"
    gate = SPARE["definitions/coarse-gate.yaml"].replace(", tolerance: 20 %", "")
    assert lost(tmp_path, {"lantern.yaml": song, "definitions/coarse-gate.yaml": gate}) == (
        1,
        [
            "What b-rig cannot do, in 1 scene",
            "  lantern",
            "    verse",
            "      gate-1.threshold: -43 dB (lantern.yaml:3): gate-1.threshold is asked -43 dB and gets"
            " -40 dB; the first rig gets -43 dB",
        ],
    )


def test_switching_off_what_the_spare_has_not_got_loses_nothing(tmp_path: Path) -> None:
    song = "song: Lantern\nscenes:\n  verse: {echo: off}\n"
    assert lost(tmp_path, {"lantern.yaml": song}) == (0, ["b-rig can do everything"])


def test_a_scene_that_the_spare_leaves_out_is_lost(tmp_path: Path) -> None:
    rig = B_RIG + "changes: {lantern: {scenes: {chorus: {drop: yes}}}}\n"
    assert lost(tmp_path, {"rigs/b-rig.yaml": rig}) == (
        1,
        [
            "What b-rig cannot do, in 1 scene",
            "  lantern",
            "    chorus",
            "      the scene is left out of lantern",
        ],
    )


def test_an_error_that_every_rig_has_is_trouble(tmp_path: Path) -> None:
    wrong = {**SPARE, "lantern.yaml": LANTERN.replace("gate: tight", "gate: tigth")}
    ran = run("diff", lay(tmp_path, wrong), "--rigs")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines()[-1] == "1 error: nothing was compared"
