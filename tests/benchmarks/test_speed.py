"""How long `check`, `compile` and `prove` take, as whole processes, beside the floor in the same run.

`python -m pytest tests/benchmarks --benchmark-columns=median,min,rounds` ; no pass is decided by a clock.
The ratios that the README beside this file quotes are printed by `python -m tests.benchmarks.ratios`.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from tests.benchmarks.generate import distinct_states, generate
from tests.benchmarks.ratios import PROOF_OF, ROOT

PROGRAMS = {
    "floor": [sys.executable, str(Path(__file__).parent / "floor.py")],
    "check": [sys.executable, "-m", "switchmatrix", "check"],
    "compile": [sys.executable, "-m", "switchmatrix", "compile", "--no-prove", "--out", "out"],
    "prove": [sys.executable, "-m", "switchmatrix", "prove"],
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


@pytest.mark.parametrize(("many", "most"), [(False, 64), (True, 720)])
def test_the_whole_proof_stays_below_300_megabytes(tmp_path: Path, many: bool, most: int) -> None:
    generate(tmp_path / "show", songs=60, scenes=12, devices=16, many=many)
    assert max(distinct_states(tmp_path / "show").values()) <= most

    ran = subprocess.run(
        [*PROOF_OF, str(tmp_path / "show")], check=True, capture_output=True, text=True, cwd=ROOT
    )

    proof: dict[str, float] = json.loads(ran.stdout)
    assert (proof["pairs"], proof["failed"]) == (518_400, 0)
    assert proof["memory"] < 300
