"""Rehearsals of tests end with them."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.live.rehearsing.hall import HALLS


@pytest.fixture(autouse=True)
def _close_halls() -> Iterator[None]:
    yield
    while HALLS:
        HALLS.pop().close()
