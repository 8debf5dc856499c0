"""Ctrl-C that is counted."""

from __future__ import annotations

import os
import signal

import pytest

from switchmatrix.live.interrupt import stop_asked


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_wish_to_stop_is_counted(number: signal.Signals) -> None:
    with stop_asked() as asked:
        os.kill(os.getpid(), number)
        os.kill(os.getpid(), number)
    assert asked.times == 2


def test_ctrl_c_raises_again_afterwards() -> None:
    with stop_asked():
        pass
    with pytest.raises(KeyboardInterrupt):
        signal.raise_signal(signal.SIGINT)
