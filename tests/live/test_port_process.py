"""What port processes ask of the system."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from switchmatrix.live.machine import Machine
from switchmatrix.live.port_process import go_first
from tests.live.kit import pair

ASK = "import os; os.sched_setscheduler(0, os.SCHED_FIFO, os.sched_param(1))"


def test_least_real_time_priority_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[int, int, int]] = []

    def note(process: int, policy: int, param: os.sched_param) -> None:
        asked.append((process, policy, param.sched_priority))

    monkeypatch.setattr(os, "sched_setscheduler", note)
    go_first()
    assert asked == [(0, os.SCHED_FIFO, os.sched_get_priority_min(os.SCHED_FIFO))]


def test_system_that_does_not_allow_it_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    before = os.sched_getscheduler(0)

    def refuse(_process: int, _policy: int, _param: os.sched_param) -> None:
        raise PermissionError(1, "not allowed")

    monkeypatch.setattr(os, "sched_setscheduler", refuse)
    go_first()
    assert os.sched_getscheduler(0) == before


def test_system_that_knows_nothing_of_it_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    before = os.sched_getscheduler(0)
    monkeypatch.delattr(os, "sched_setscheduler")
    go_first()
    assert os.sched_getscheduler(0) == before


def test_output_is_urgent_where_the_system_allows_it_but_not_what_polls_and_not_the_program(
    jack: Machine,
) -> None:
    allowed = subprocess.run([sys.executable, "-c", ASK], stderr=subprocess.DEVNULL).returncode == 0
    ours = os.sched_getscheduler(0)
    output, input = pair(jack, "main")
    assert os.sched_getscheduler(output.process_id) == (os.SCHED_FIFO if allowed else ours)
    assert [os.sched_getscheduler(process) for process in (input.process_id, 0)] == [ours, ours]
