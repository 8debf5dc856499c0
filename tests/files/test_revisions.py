"""A show as it was at a revision of its folder's git repository."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from switchmatrix.diagnostics.diagnostic import in_order
from switchmatrix.diagnostics.lines import render
from switchmatrix.files import MOST_BYTES, RevisionError, read_revision, read_show
from tests.cli.kit import lay

NOBODY = ("-c", "user.name=nobody", "-c", "user.email=nobody@example.org", "-c", "commit.gpgsign=false")


def git(folder: Path, *args: str) -> None:
    """A git command that must not fail."""
    subprocess.run(["git", "-C", str(folder), *NOBODY, *args], check=True, capture_output=True)


def committed(folder: Path, message: str = "as it is") -> None:
    """Everything below the folder, committed; the repository made where there is none."""
    if not (folder / ".git").exists():
        git(folder, "init", "--quiet")
    git(folder, "add", "--all")
    git(folder, "commit", "--quiet", "--allow-empty", "--message", message)


def test_a_revision_has_the_texts_that_were_committed_and_not_those_on_disk(tmp_path: Path) -> None:
    show = lay(tmp_path)
    committed(tmp_path)
    before, _ = read_show(show)
    (show / "lantern.yaml").write_text("song: Another\n", encoding="utf-8")
    assert read_revision(show, "HEAD") == (before, [])


def test_a_show_may_be_the_repository_itself(tmp_path: Path) -> None:
    show = lay(tmp_path)
    committed(show)
    assert read_revision(show, "HEAD") == read_show(show)


def test_an_earlier_revision_is_named_as_git_names_it(tmp_path: Path) -> None:
    show = lay(tmp_path)
    committed(tmp_path)
    before, _ = read_show(show)
    (show / "lantern.yaml").write_text("song: Another\n", encoding="utf-8")
    committed(tmp_path)
    assert read_revision(show, "HEAD~1") == (before, [])


def test_nothing_is_checked_out_and_nothing_written(tmp_path: Path) -> None:
    show = lay(tmp_path)
    committed(tmp_path)
    (show / "lantern.yaml").write_text("song: Another\n", encoding="utf-8")
    files = sorted((p, p.stat().st_mtime_ns) for p in tmp_path.rglob("*") if p.is_file())
    read_revision(show, "HEAD")
    assert sorted((p, p.stat().st_mtime_ns) for p in tmp_path.rglob("*") if p.is_file()) == files


def test_a_file_that_is_not_yet_committed_is_not_there(tmp_path: Path) -> None:
    show = lay(tmp_path)
    committed(tmp_path)
    (show / "ebb.yaml").write_text("song: Ebb\n", encoding="utf-8")
    assert "ebb.yaml" not in read_revision(show, "HEAD")[0].texts


def test_bounds_are_those_of_a_folder(tmp_path: Path) -> None:
    large = b"#" * (MOST_BYTES + 1)
    show = lay(tmp_path, {"ebb.yaml": large, "storm.yml": "song: Storm\n", "a#b.yaml": "", "c.yaml": b"\xff"})
    committed(tmp_path)
    (files, found), (before, said) = read_revision(show, "HEAD"), read_show(show)
    assert (files, in_order(found)) == (before, in_order(said))


def test_a_link_is_no_file_of_a_revision(tmp_path: Path) -> None:
    show = lay(tmp_path)
    (show / "ebb.yaml").symlink_to("lantern.yaml")
    committed(tmp_path)
    files, found = read_revision(show, "HEAD")
    assert files.broken == {"ebb.yaml"}
    assert render(found) == "ebb.yaml:1:1: error file-unreadable: it is not an ordinary file\n"


def test_a_folder_in_no_repository_says_so(tmp_path: Path) -> None:
    with pytest.raises(RevisionError, match="lies in no git repository"):
        read_revision(lay(tmp_path), "HEAD")


@pytest.mark.parametrize("revision", ["nonsense", "HEAD~9", "--all", "HEAD:show", ""])
def test_a_revision_that_git_does_not_know_says_so(tmp_path: Path, revision: str) -> None:
    show = lay(tmp_path)
    committed(tmp_path)
    with pytest.raises(RevisionError, match="git knows no revision"):
        read_revision(show, revision)


def test_a_folder_that_was_not_there_yet_says_so(tmp_path: Path) -> None:
    (tmp_path / "readme.txt").write_text("nothing yet\n", encoding="utf-8")
    committed(tmp_path)
    show = lay(tmp_path)
    committed(tmp_path)
    with pytest.raises(RevisionError, match="is not there at HEAD~1"):
        read_revision(show, "HEAD~1")


def test_a_folder_that_is_nowhere_says_so(tmp_path: Path) -> None:
    with pytest.raises(RevisionError, match="there is no folder"):
        read_revision(tmp_path / "nowhere", "HEAD")


def test_a_revision_without_a_show_says_so(tmp_path: Path) -> None:
    show = tmp_path / "show"
    show.mkdir()
    (show / "readme.txt").write_text("nothing yet\n", encoding="utf-8")
    committed(tmp_path)
    assert render(read_revision(show, "HEAD")[1]) == (
        "show.yaml:1:1: error file-unreadable: there is no show.yaml here at HEAD\n"
    )


def test_another_repository_named_in_the_environment_is_not_asked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = lay(tmp_path)
    committed(tmp_path)
    monkeypatch.setenv("GIT_DIR", str(tmp_path / "elsewhere"))
    assert read_revision(show, "HEAD")[0].texts.keys() == read_show(show)[0].texts.keys()


def test_without_git_that_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path)
    monkeypatch.setenv("PATH", str(tmp_path / "empty"))
    with pytest.raises(RevisionError, match="git is not installed here"):
        read_revision(show, "HEAD")
