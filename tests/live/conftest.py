"""JACK for the tests of live ports."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from switchmatrix.live.machine import Machine
from tests.live.kit import Server, machine, server


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Tests that time real ports take turns: side by side they would time each other."""
    for item in items:
        if item.path.name.startswith("test_jack") or item.path.parent.name == "live":
            item.add_marker(pytest.mark.xdist_group("ports"))


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
