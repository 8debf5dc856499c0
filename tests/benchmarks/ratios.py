"""Print how `check` and `compile` stand to the floor, the programs taking turns.

`python tests/benchmarks/ratios.py [--rounds N]`, from the top of a checkout with the project installed.
"""

from __future__ import annotations

import argparse
import json
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.benchmarks.generate import generate

HERE = Path(__file__).parent
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
            build, _ = seconds([sys.executable, "-m", "switchmatrix", "compile", "show"], folder)
            for what, took in (("floor", floor), *halves.items(), ("check", check), ("compile", build)):
                taken.setdefault(what, []).append(took)
        return {what: statistics.median(times) for what, times in taken.items()}


def main() -> None:
    """One row for each size."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--rounds", type=int, default=5)
    rounds: int = options.parse_args().rounds
    sys.stdout.write("songs  floor s  of it parsing  validating  check s  / floor  compile s  / floor\n")
    for songs in SIZES:
        m = measured(songs, rounds)
        sys.stdout.write(
            f"{songs:5d}  {m['floor']:7.2f}  {m['parse']:13.2f}  {m['validate']:10.2f}  {m['check']:7.2f}  "
            f"{m['check'] / m['floor']:7.2f}  {m['compile']:9.2f}  {m['compile'] / m['floor']:7.2f}\n"
        )


if __name__ == "__main__":
    main()
