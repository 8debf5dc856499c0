"""`switchmatrix new`: a show and a song to begin from."""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.pipeline import judge
from tests.cli.kit import below, run


def test_a_new_show_compiles_with_nothing_to_say(tmp_path: Path) -> None:
    ran = run("new", tmp_path / "show")

    assert (ran.code, ran.out) == (
        0,
        f"a small show is in {tmp_path / 'show'}: try `switchmatrix check {tmp_path / 'show'}`\n",
    )
    assert run("check", tmp_path / "show", "--strict").out == "nothing wrong\n"
    assert run("compile", tmp_path / "show", "--out", tmp_path / "out").code == 0


def test_a_new_song_compiles_as_it_stands(tmp_path: Path) -> None:
    run("new", tmp_path / "show")
    run("new", tmp_path / "show", "--song", "salt-stairs")
    show = tmp_path / "show" / "show.yaml"
    text = show.read_text(encoding="utf-8")
    show.write_text(text.replace("[first-song]", "[first-song, salt-stairs]"), encoding="utf-8")

    assert run("check", tmp_path / "show", "--strict").out == "nothing wrong\n"


def test_a_new_song_names_the_shows_entries_words_devices_and_patches(tmp_path: Path) -> None:
    run("new", tmp_path / "show")
    run("new", tmp_path / "show", "--song", "salt-stairs")

    text = (tmp_path / "show" / "salt-stairs.yaml").read_text(encoding="utf-8")
    assert text == (
        "# Say only what changes; all the rest is as `home` in the rig's file has it.\n"
        'song: "Salt stairs"\n'
        "tempo: 120\n"
        "meter: 4/4\n"
        "base: {}\n"
        "scenes:\n"
        "  verse:  {at: bar 1}\n"
        "  chorus: {at: bar 9, like: verse}\n"
        "\n"
        "# What a scene may say here:\n"
        "#   gate: tight, loose\n"
        "#   gate-1: {threshold}\n"
        "#   echo: {engage, mix, time}; patches short, long\n"
    )


def test_a_new_song_of_the_example_show_names_its_instruments(tmp_path: Path) -> None:
    songs = Path(__file__).parents[2] / "songs"
    show = tmp_path / "show"
    show.symlink_to(songs)
    found = judge(show).found
    assert found == []
    copy = tmp_path / "copy"
    for path in songs.rglob("*.yaml"):
        place = copy / path.relative_to(songs)
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(path.read_bytes())

    run("new", copy, "--song", "encore")

    lines = (copy / "encore.yaml").read_text(encoding="utf-8").splitlines()
    assert "instrument: baritone    # or mandola, upright, wall guitar" in lines


@pytest.mark.parametrize("name", ["../escape", "a/b", ".hidden", "lantern.mid", ""])
def test_a_song_that_cannot_name_a_file_is_wrong_usage(tmp_path: Path, name: str) -> None:
    run("new", tmp_path / "show")
    before = below(tmp_path)

    ran = run("new", tmp_path / "show", "--song", name)

    assert (ran.code, below(tmp_path)) == (2, before)


def test_a_song_that_is_there_is_not_written_over(tmp_path: Path) -> None:
    run("new", tmp_path / "show")
    before = (tmp_path / "show" / "first-song.yaml").read_bytes()

    ran = run("new", tmp_path / "show", "--song", "first-song")

    assert (ran.code, (tmp_path / "show" / "first-song.yaml").read_bytes()) == (2, before)


def test_a_show_is_not_written_over_what_is_there(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")

    assert (run("new", tmp_path).code, below(tmp_path)) == (2, ["notes.txt"])


def test_a_song_needs_a_show(tmp_path: Path) -> None:
    assert (run("new", tmp_path, "--song", "encore").code, below(tmp_path)) == (2, [])
