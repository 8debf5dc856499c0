"""JACK for the tests of live ports."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from switchmatrix.live.machine import Machine
from tests.live.kit import Server, machine, server


@pytest.fixture(scope="session")
def _jack() -> Iterator[Server]:
    with server() as running:
        yield running


@pytest.fixture
def jack(_jack: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Machine]:
    """The machine's ports on a server that all tests share."""
    monkeypatch.setenv("JACK_DEFAULT_SERVER", _jack.name)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    with machine() as one:
        yield one


@pytest.fixture
def doomed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Server]:
    """A server of the test's own, to be killed or stopped."""
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    with server() as running:
        yield running
