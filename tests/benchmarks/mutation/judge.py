"""Judges mutants that mutmut has made, each in a fork of one pytest that has collected the tests.

A pytest plugin; the README says how. `MUTANTS` is a file of names, one a line. `JUDGED` gets each name with
the first test that it failed, `alive`, or `timeout` after ten times as long as its tests take.
"""

from __future__ import annotations

import json
import os
import select
import signal
import time
from collections import Counter, defaultdict
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from _pytest.runner import runtestprotocol


def _fails(item: pytest.Item) -> bool:
    return any(report.failed for report in runtestprotocol(item, nextitem=None, log=False))


def _forked(work: Callable[[], object], limit_s: float) -> object:
    """What a child makes of the work, as JSON has it; None where it takes longer than that."""
    out, into = os.pipe()
    child = os.fork()
    if not child:
        os.close(out)
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        os.write(into, json.dumps(work()).encode())
        os._exit(0)
    os.close(into)
    ready, _, _ = select.select([out], [], [], limit_s)
    if not ready:
        os.kill(child, signal.SIGKILL)
    said = b""
    while ready and (more := os.read(out, 65536)):
        said += more
    os.close(out)
    os.waitpid(child, 0)
    return json.loads(said) if said else None


def _unmutated(items: list[pytest.Item]) -> dict[str, object]:
    """The tests (by number) that reach each function, and how long each takes; all must pass."""
    reach: dict[str, list[int]] = defaultdict(list)
    took: list[float] = []

    def hit(name: str, **_: object) -> None:
        reach[name].append(len(took))

    pytest.MonkeyPatch().setattr("mutmut.mutation.trampoline.record_trampoline_hit", hit)
    os.environ["MUTANT_UNDER_TEST"] = "stats"
    for item in items:
        began = time.perf_counter()
        if _fails(item):
            raise ValueError(f"{item.nodeid} fails without any mutant")
        took.append(time.perf_counter() - began)
    return {"reach": {name: sorted(set(numbers)) for name, numbers in reach.items()}, "took": took}


def _first_failed(items: list[pytest.Item], tests: list[int], mutant: str) -> int:
    """The number of the first test that the mutant fails; -1 for none."""
    os.environ["MUTANT_UNDER_TEST"] = mutant
    return next((n for n in tests if _fails(items[n])), -1)


@pytest.hookimpl(tryfirst=True)
def pytest_runtestloop(session: pytest.Session) -> bool:
    """Judge every mutant; of those that reach it, the tests that failed its neighbours come first."""
    items = session.items
    known = _forked(lambda: _unmutated(items), 600)
    if not isinstance(known, dict):
        raise ValueError("the tests do not pass without any mutant")
    took, failed = known["took"], Counter[tuple[str, int]]()
    with Path(os.environ["JUDGED"]).open("w", encoding="utf-8") as out:
        for mutant in Path(os.environ["MUTANTS"]).read_text(encoding="utf-8").split():
            function = mutant.partition("__mutmut_")[0]
            tests = known["reach"].get(function, [])
            tests.sort(key=lambda n: -(failed[function, n] + 0.01) / (took[n] + 0.002))
            limit_s = 15 + 10 * sum(took[n] for n in tests)
            first = _forked(partial(_first_failed, items, tests, mutant), limit_s)
            if isinstance(first, int) and first >= 0:
                failed[function, first] += 1
            said = "timeout" if not isinstance(first, int) else items[first].nodeid if first >= 0 else "alive"
            out.write(f"{mutant} {said}\n")
            out.flush()
    return True
