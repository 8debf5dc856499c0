"""What `switchmatrix compile` leaves in its folder: its own files, under safe names, whole or not at all."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from tests.cli.kit import below, lay, run

SHOW = "show: Tidewrack\nrigs: [a-rig]\nlegs:\n"
LEG = "{rigs: [a-rig], setlist: [lantern]}"


def test_files_no_longer_made_are_removed_and_others_are_left(tmp_path: Path) -> None:
    show, out = lay(tmp_path), tmp_path / "out"
    run("compile", show, "--out", out)
    (out / "tour/a-rig/notes.txt").write_text("kept", encoding="utf-8")
    (out / "tour/a-rig/click.mid").write_bytes(b"kept")
    (show / "lantern.yaml").write_text("song: Lantern\nscenes:\n  intro: {gate: tight}\n", encoding="utf-8")

    run("compile", show, "--out", out)

    assert below(out) == [
        "tour/a-rig/01-lantern.scene-01-intro.mid",
        "tour/a-rig/01-lantern.txt",
        "tour/a-rig/click.mid",
        "tour/a-rig/messages.csv",
        "tour/a-rig/messages.json",
        "tour/a-rig/notes.txt",
        "tour/a-rig/setlist.txt",
    ]


def test_files_of_the_hundredth_song_are_removed_too(tmp_path: Path) -> None:
    show, out = lay(tmp_path), tmp_path / "out"
    hundred = f"  tour: {{rigs: [a-rig], setlist: [{', '.join(['lantern'] * 100)}]}}\n"
    (show / "show.yaml").write_text(SHOW + hundred, encoding="utf-8")
    run("compile", show, "--out", out)
    (show / "show.yaml").write_text(SHOW + f"  tour: {LEG}\n", encoding="utf-8")

    run("compile", show, "--out", out)

    assert below(out) == [
        "tour/a-rig/01-lantern.mid",
        "tour/a-rig/01-lantern.scene-01-verse.mid",
        "tour/a-rig/01-lantern.scene-02-chorus.mid",
        "tour/a-rig/01-lantern.txt",
        "tour/a-rig/messages.csv",
        "tour/a-rig/messages.json",
        "tour/a-rig/setlist.txt",
    ]


def test_files_of_another_leg_are_left_where_one_is_compiled_alone(tmp_path: Path) -> None:
    show, out = lay(tmp_path, {"show.yaml": SHOW + f"  tour: {LEG}\n  gala: {LEG}\n"}), tmp_path / "out"
    run("compile", show, "--out", out)
    before = below(out)

    run("compile", show, "--out", out, "--leg", "gala")

    assert below(out) == before


@pytest.mark.parametrize(
    ("scene", "file"),
    [
        ("a/b", "01-lantern.scene-01-a-b.mid"),
        ("/etc/x", "01-lantern.scene-01--etc-x.mid"),
        (r"a\b", "01-lantern.scene-01-a-b.mid"),
        ("verse 2", "01-lantern.scene-01-verse-2.mid"),
        ("a: b*?<>|", "01-lantern.scene-01-a--b-----.mid"),
        ("łódź", "01-lantern.scene-01-łódź.mid"),
    ],
)
def test_a_scenes_name_is_made_safe_in_its_files_name(tmp_path: Path, scene: str, file: str) -> None:
    song = f"song: Lantern\nscenes:\n  '{scene}': {{gate: tight}}\n"
    ran = run("compile", lay(tmp_path, {"lantern.yaml": song}), "--out", tmp_path / "out")

    assert (ran.code, below(tmp_path / "out")) == (
        0,
        [
            f"tour/a-rig/{file}",
            "tour/a-rig/01-lantern.txt",
            "tour/a-rig/messages.csv",
            "tour/a-rig/messages.json",
            "tour/a-rig/setlist.txt",
        ],
    )


def test_two_scenes_that_make_one_safe_name_have_two_files(tmp_path: Path) -> None:
    song = "song: Lantern\nscenes:\n  a/b: {gate: tight}\n  a-b: {gate: loose}\n"
    run("compile", lay(tmp_path, {"lantern.yaml": song}), "--out", tmp_path / "out")

    assert [path for path in below(tmp_path / "out") if path.endswith(".mid")] == [
        "tour/a-rig/01-lantern.scene-01-a-b.mid",
        "tour/a-rig/01-lantern.scene-02-a-b.mid",
    ]


def test_a_scene_called_like_a_way_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    song = "song: Lantern\nscenes:\n  ../../x: {gate: tight}\n"
    show = lay(tmp_path, {"lantern.yaml": song})
    before = below(tmp_path)

    ran = run("compile", show, "--out", tmp_path / "out")

    assert (ran.code, ran.err.splitlines()[0], below(tmp_path)) == (
        1,
        "error bad-name: `../../x` cannot name a scene: it has a `.` in it",
        before,
    )


@pytest.mark.parametrize(
    ("leg", "message"),
    [
        ("a/b", "error bad-name: `a/b` cannot name a leg: a folder of that name is made for it"),
        ("..", "error bad-name: `..` cannot name a leg: it has a `.` in it"),
        (r"a\b", r"error bad-name: `a\b` cannot name a leg: a folder of that name is made for it"),
    ],
)
def test_a_leg_called_like_a_path_is_refused(tmp_path: Path, leg: str, message: str) -> None:
    show = lay(tmp_path, {"show.yaml": SHOW + f"  {leg}: {LEG}\n"})
    before = below(tmp_path)

    ran = run("compile", show, "--out", tmp_path / "out")

    assert (ran.code, message in ran.err.splitlines(), below(tmp_path)) == (1, True, before)


def test_two_legs_of_one_folder_are_an_error(tmp_path: Path) -> None:
    show = lay(tmp_path, {"show.yaml": SHOW + f"  tour: {LEG}\n  Tour: {LEG}\n"})

    assert run("check", show, "--format", "lines").out == (
        "show.yaml:5:3: error bad-name:"
        " `Tour` and `tour` are one name to some disks, and each leg has its folder\n"
    )


def test_two_rigs_of_one_folder_are_an_error(tmp_path: Path) -> None:
    show = lay(tmp_path)
    (show / "rigs/A-rig.yaml").write_bytes((show / "rigs/a-rig.yaml").read_bytes())
    (show / "show.yaml").write_text(
        "show: Tidewrack\nrigs: [a-rig, A-rig]\nlegs:\n  tour: {rigs: [a-rig, A-rig], setlist: [lantern]}\n",
        encoding="utf-8",
    )

    ran = run("compile", show, "--out", tmp_path / "out")

    assert (ran.code, ran.err.splitlines()[:1], (tmp_path / "out").exists()) == (
        1,
        ["error bad-name: `A-rig` and `a-rig` are one name to some disks, and each rig has its folder"],
        False,
    )


# POSIX and its file systems hold 255 bytes to a name; a letter outside ASCII takes two or more in UTF-8.
def test_long_names_in_letters_of_two_bytes_fit_the_disk(tmp_path: Path) -> None:
    id = "п" * 80
    show = lay(
        tmp_path,
        {
            "show.yaml": SHOW + f"  tour: {{rigs: [a-rig], setlist: [{id}]}}\n",
            f"{id}.yaml": f"song: Lantern\nscenes:\n  {'в' * 80}: {{gate: tight}}\n",
        },
    )
    (show / "lantern.yaml").unlink()

    ran = run("compile", show, "--out", tmp_path / "out")

    assert (ran.code, len(below(tmp_path / "out"))) == (0, 5)


def test_a_file_where_the_folder_should_be_is_told_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("somebody's notes", encoding="utf-8")

    ran = run("compile", lay(tmp_path), "--out", tmp_path / "out")

    assert (ran.code, ran.out, ran.err, (tmp_path / "out").read_text(encoding="utf-8")) == (
        1,
        "",
        f"Error: cannot write into {tmp_path / 'out'}: Not a directory\n",
        "somebody's notes",
    )


def test_a_folder_that_may_not_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path)

    def refused(self: Path, data: bytes) -> int:
        raise PermissionError(errno.EACCES, "Permission denied", str(self), len(data))

    monkeypatch.setattr(Path, "write_bytes", refused)

    ran = run("compile", show, "--out", tmp_path / "out")

    assert (ran.code, ran.out, ran.err, below(tmp_path / "out")) == (
        1,
        "",
        f"Error: cannot write into {tmp_path / 'out'}: Permission denied\n",
        [],
    )
