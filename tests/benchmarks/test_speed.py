"""How long `check` and `compile` take, as whole processes, beside the floor in the same run.

`python -m pytest tests/benchmarks --benchmark-columns=median,min,rounds` ; no pass is decided by a clock.
The ratios that the README beside this file quotes are printed by `python tests/benchmarks/ratios.py`.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from tests.benchmarks.generate import generate

ROOT = Path(__file__).parents[2]
PROGRAMS = {
    "floor": [sys.executable, str(Path(__file__).parent / "floor.py")],
    "check": [sys.executable, "-m", "switchmatrix", "check"],
    "compile": [sys.executable, "-m", "switchmatrix", "compile", "--out", "out"],
}


@pytest.fixture(scope="module", params=[6, 60, 600], ids=lambda songs: f"{songs} songs")
def show(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A generated show of songs x 12 scenes x 16 devices."""
    folder = tmp_path_factory.mktemp("show") / "show"
    generate(folder, songs=request.param, scenes=12, devices=16)
    return folder


@pytest.mark.parametrize("what", PROGRAMS)
def test_speed(benchmark: BenchmarkFixture, show: Path, what: str) -> None:
    def run() -> None:
        subprocess.run(
            [*PROGRAMS[what], str(show)],
            check=True,
            capture_output=True,
            cwd=show.parent,
            env={"PYTHONPATH": str(ROOT)},
        )

    benchmark.pedantic(run, rounds=3, warmup_rounds=1)  # type: ignore[no-untyped-call]
