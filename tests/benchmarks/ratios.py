"""Print how `check` and `compile` stand to the floor, and the proof to `check`, the programs taking turns.

`python -m tests.benchmarks.ratios [--rounds N]`, from the top of a checkout with the project installed.
"""

from __future__ import annotations

import argparse
import json
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from switchmatrix.pipeline import judge
from switchmatrix.proof.run import prove
from tests.benchmarks.generate import distinct_states, generate

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
PROOF_OF = [sys.executable, "-m", "tests.benchmarks.ratios", "--proof-of"]
SIZES = (6, 60, 600)


def seconds(command: list[str], folder: Path) -> tuple[float, str]:
    """How long a program takes from start to end, and what it prints."""
    start = time.perf_counter()
    ran = subprocess.run(command, check=True, capture_output=True, text=True, cwd=folder)
    return time.perf_counter() - start, ran.stdout


def measured(songs: int, rounds: int) -> dict[str, float]:
    """Median seconds of each program on one generated show, and of the floor's two halves."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        generate(folder / "show", songs=songs, scenes=12, devices=16)
        taken: dict[str, list[float]] = {}
        for _ in range(rounds):
            floor, printed = seconds([sys.executable, str(HERE / "floor.py"), "show"], folder)
            halves: dict[str, float] = json.loads(printed)
            check, _ = seconds([sys.executable, "-m", "switchmatrix", "check", "show"], folder)
            build, _ = seconds(
                [sys.executable, "-m", "switchmatrix", "compile", "--no-prove", "show"], folder
            )
            for what, took in (("floor", floor), *halves.items(), ("check", check), ("compile", build)):
                taken.setdefault(what, []).append(took)
        return {what: statistics.median(times) for what, times in taken.items()}


def proof(folder: Path) -> dict[str, float]:
    """Seconds of judging a show and of proving it, the transitions proved, and the most memory in MB."""
    start = time.perf_counter()
    judged = judge(folder)
    between = time.perf_counter()
    proofs = [prove(run) for run in judged.worked_out.runs]
    ended = time.perf_counter()
    return {
        "judge": between - start,
        "prove": ended - between,
        "pairs": sum(one.states * one.states for one in proofs),
        "failed": sum(len(one.failed) for one in proofs),
        "memory": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }


def proved(rounds: int, *, many: bool) -> dict[str, float]:
    """Medians of the proof and of `check` on the show of 60 songs, each a process of its own in turn."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        generate(folder / "show", songs=60, scenes=12, devices=16, many=many)
        taken: dict[str, list[float]] = {"states": [max(distinct_states(folder / "show").values())]}
        for _ in range(rounds):
            check, _ = seconds([sys.executable, "-m", "switchmatrix", "check", "show"], folder)
            _, printed = seconds([*PROOF_OF, str(folder / "show")], ROOT)
            one: dict[str, float] = json.loads(printed)
            for what, took in (("check", check), *one.items()):
                taken.setdefault(what, []).append(took)
        return {what: statistics.median(times) for what, times in taken.items()}


def main() -> None:
    """One row for each size."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--rounds", type=int, default=5)
    options.add_argument(
        "--proof-of", type=Path, metavar="SHOW", help="only prove this show, in this process"
    )
    given = options.parse_args()
    if given.proof_of is not None:
        sys.stdout.write(json.dumps(proof(given.proof_of)) + "\n")
        return
    rounds: int = given.rounds
    sys.stdout.write("states  pairs    check s  judging s  proof s  / check  / judging  memory MB\n")
    for many in (False, True):
        m = proved(rounds, many=many)
        sys.stdout.write(
            f"{m['states']:6.0f}  {m['pairs']:7.0f}  {m['check']:7.2f}  {m['judge']:9.2f}  "
            f"{m['prove']:7.2f}  {m['prove'] / m['check']:7.2f}  {m['prove'] / m['judge']:9.2f}  "
            f"{m['memory']:9.0f}\n"
        )
    sys.stdout.write("\nsongs  floor s  of it parsing  validating  check s  / floor  compile s  / floor\n")
    for songs in SIZES:
        m = measured(songs, rounds)
        sys.stdout.write(
            f"{songs:5d}  {m['floor']:7.2f}  {m['parse']:13.2f}  {m['validate']:10.2f}  {m['check']:7.2f}  "
            f"{m['check'] / m['floor']:7.2f}  {m['compile']:9.2f}  {m['compile'] / m['floor']:7.2f}\n"
        )


if __name__ == "__main__":
    main()
