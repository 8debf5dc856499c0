"""Shows drawn from the grammar of all four kinds of file: each is sound and compiles to well-formed bytes."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings

from switchmatrix.pipeline import judge, plan
from tests.cli.kit import run
from tests.compile.drawn import Dice
from tests.fuzz.holding import counted_in_each_form, ill_formed, messages, misplaced, on_disk, tree
from tests.fuzz.shows import AS_DRAWN, BYTES, Files, show, shows
from tests.support import findings


def _bytes(files: Files) -> dict[str, bytes]:
    return {path: text.encode() for path, text in files.items()}


@settings(max_examples=80, derandomize=True, phases=AS_DRAWN)
@given(shows())
def test_a_show_that_keeps_the_grammar_has_no_error_and_only_well_formed_messages(files: Files) -> None:
    with on_disk(_bytes(files)) as folder:
        judged = judge(folder)
        assert [line for line in findings(judged) if ": error " in line] == []
        assert [data for data in messages(plan(judged)) if ill_formed(data)] == []


@settings(max_examples=60, derandomize=True, phases=AS_DRAWN)
@given(shows())
def test_what_is_said_of_a_sound_show_has_its_place_and_is_said_in_each_form(files: Files) -> None:
    with on_disk(_bytes(files)) as folder:
        judged = judge(folder)
        assert misplaced(judged, _bytes(files)) == []
        assert counted_in_each_form(judged) == [len(judged.found)] * 3


@settings(max_examples=20, derandomize=True, phases=AS_DRAWN)
@given(shows())
def test_compiling_twice_writes_the_same_bytes(files: Files) -> None:
    with on_disk(_bytes(files)) as folder:
        once, again = folder.parent / "once", folder.parent / "again"
        assert [run("compile", folder, "--out", out).code for out in (once, again)] == [0, 0]
        assert tree(once) != {}
        assert tree(once) == tree(again)


@pytest.mark.parametrize("seed", [1, 2])
def test_the_bytes_do_not_depend_on_the_hash_seed(tmp_path: Path, seed: int) -> None:
    files = show(Dice(Random(seed).randbytes(BYTES)))
    with on_disk(_bytes(files)) as folder:
        for hash_seed in ("1", "2"):
            subprocess.run(
                [sys.executable, "-m", "switchmatrix", "compile", folder, "--out", tmp_path / hash_seed],
                check=True,
                capture_output=True,
                env={**os.environ, "PYTHONHASHSEED": hash_seed},
            )
    assert tree(tmp_path / "1") != {}
    assert tree(tmp_path / "1") == tree(tmp_path / "2")
